package check

import (
	"math"

	"campwright/convert"
	"campwright/figure"
	"campwright/quantity"
	"campwright/system"
)

// Kept is the limit that a rig keeps on what it draws from shore, on each leg. A limit throttles chargers; loads pass it, but for what the bank makes up.
type Kept struct {
	Limit   figure.Term // its symbol is empty where none is kept
	MakesUp string      // whether the bank makes up what loads ask beyond it: "yes", "no", or empty where nobody said
}

// Kept returns the limit that the rig keeps.
func (c Case) Kept() Kept {
	s := c.Doc.Shore
	if s == nil || !s.Limit.Stands() {
		return Kept{}
	}
	k := Kept{Limit: Known("Ilimit", "shore limit that is kept", s.Limit), MakesUp: s.MakeUp}
	if said := c.Said.Shore; said != nil && Untold(said.MakeUp) && len(c.Doc.Inverters) > 0 {
		k.MakesUp = ""
	}
	return k
}

// Legs returns the legs of a post by name; one without a name where it has one.
func Legs(post convert.Service) []string {
	if post.Legs == 2 {
		return []string{"L1", "L2"}
	}
	return []string{""}
}

// FromShore returns what is drawn for hours from a leg of a post with a limit kept, as the text of a sum with its terms: all that runs for hours, or the limit,
// or the loads less what an inverter makes up within its rating where they are more than the limit. Empty where nothing is known to run for hours.
func (c Case) FromShore(post convert.Service, leg string, k Kept) (sum string, inputs []figure.Term, untold []string) {
	l := c.LastingAC(post.Volts, leg)
	inputs, untold = l.Inputs, l.Untold
	switch {
	case l.Chargers == "":
		sum = l.Loads
	case l.Loads == "":
		sum = l.Chargers
	default:
		sum = l.Loads + " + " + l.Chargers
	}
	if k.Limit.Symbol == "" || sum == "" {
		return sum, inputs, untold
	}
	makeUp, terms := c.makeUp(leg, k)
	if l.Chargers == "" && makeUp == "" {
		return sum, inputs, untold // nothing that the limit could throttle
	}
	inputs = append(append(inputs, k.Limit), terms...)
	kept := "min(" + sum + ", " + k.Limit.Symbol + ")"
	if l.Loads == "" {
		return kept, inputs, untold
	}
	return "max(" + l.Loads + makeUp + ", " + kept + ")", inputs, untold
}

// makeUp returns the text of what an inverter makes up on a leg, with its sign, empty where it does not. Where nobody said whether it does, it is taken as
// not, and may.
func (c Case) makeUp(leg string, k Kept) (text string, terms []figure.Term) {
	if k.MakesUp == "no" || len(c.Doc.Inverters) == 0 || !c.Doc.Inverters[0].Power.Stands() {
		return "", nil
	}
	v := &c.Doc.Inverters[0]
	switch system.MakeUpShare(v, leg) {
	case 0:
		return "", nil
	case 1:
		text = "Pinv / Vac"
	default:
		text = "Pinv / (2 × Vac)"
	}
	terms = []figure.Term{Known("Pinv", "rating of inverter "+v.Name, v.Power)}
	if k.MakesUp == "" {
		text = "m × " + text
		terms = append(terms, Between("m", "share that the bank makes up: nobody said that it does", quantity.Share, 0, 0, 1, "not told"))
	}
	return " − " + text, terms
}

// MakeUpHint is how to find out whether the bank makes up what loads ask beyond the shore limit.
const MakeUpHint = "look up whether the battery makes up what loads ask above the shore limit, and write battery make-up: yes or no"

// ForHours returns what is drawn for hours from a post on each of its legs, as terms of a symbol. Nothing where nothing is known to run for hours.
func (c Case) ForHours(symbol string, post convert.Service) []figure.Term {
	var list []figure.Term
	for _, leg := range Legs(post) {
		sum, inputs, _ := c.FromShore(post, leg, c.Kept())
		if sum == "" {
			continue
		}
		f := Inequality{Formula: "Isum = " + sum + " ≤ 1", Name: "drawn for hours from the " + post.Name + " post", Kind: quantity.Current, Inputs: inputs}.Judge().Working.Terms[0].Figure
		if math.IsNaN(f.Value) || f.High <= 0 {
			continue
		}
		if f.State = figure.Plain; f.High > f.Low {
			f.State = figure.About
		}
		f.Source = "as rule M54 counts it"
		list = append(list, figure.Term{Symbol: symbol, Figure: f})
	}
	return list
}
