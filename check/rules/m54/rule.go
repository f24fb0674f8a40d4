// Package m54 is the room of rule M54.
package m54

import (
	"fmt"
	"strings"

	"campwright/check"
	"campwright/convert"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M54", Title: "outlet loaded above its continuous share", Holds: "outlet bears what runs for hours", Worst: check.Fail,
	What: "Everything that runs for hours on a hookup, leg by leg, chargers at full output, against four fifths of the breaker. A shore limit throttles chargers; loads " +
		"beyond it are drawn all the same, less what an inverter makes up within its rating. And against what the cord may carry, where its size is told.",
	Why: "A breaker and a worn outlet bear their rating for minutes, and four fifths of it for hours. Over that the breaker opens at night, or the " +
		"outlet bakes.",
	Except: "Loads that run for less than three hours are left to the people. What else hangs on a house's circuit is not known to the file: less is " +
		"left there. Each leg of a service with two is judged by itself; what nobody said which leg it hangs on may hang on either.",
	Formula:   "max(loads − make-up, min(loads + chargers, shore limit)) ≤ 80 % × breaker",
	Source:    "[NEC-210] 210.20(A)",
	Sure:      "standard from memory; powers as said",
	Questions: []string{"What shore limit is the inverter/charger set to?"},
	Caution:   check.ShorePower,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	if c.Doc.Bank == nil {
		return nil // the chargers' voltage is not known
	}
	var list []check.Outcome
	for _, p := range c.Services() {
		post := c.Post(p.Service)
		o, ok := hardest(c, post, p.Sites[0].Path, check.Number("Ibreaker", "breaker of the "+post.Name+" hookup", quantity.Current, post.Amps, "hookup"), c.Kept())
		if !ok {
			continue
		}
		honest := post.Continuous * post.Amps
		var where []string
		for _, s := range p.Sites {
			where = append(where, strings.TrimPrefix(check.At(s), "at "))
		}
		o.Detail = fmt.Sprintf("The honest limit there is %s, %s, less what else shares the circuit. Where: %s.", check.Say(honest, quantity.Current),
			check.Say(honest*post.Volts*float64(post.Legs), quantity.Power), figure.List(where))
		o.Ways = []string{"set the charger lower, or run one large load at a time", "plug into a larger post"}
		o = limited(c, o, post, honest)
		o.Tries = append(o.Tries, otherLeg(c, o, post)...)
		list = append(list, o)
	}
	if o, ok := cord(c); ok {
		list = append(list, o)
	}
	for i := range c.Said.Trip {
		if c.Said.Trip[i].Hookup == "unknown" {
			list = append(list, check.Outcome{Verdict: check.Undecided, Place: fmt.Sprintf("trip/%d", i+1), Part: "hookup", Title: "not told what the hookup gives",
				Measure: []string{"ask there whether the site has a hookup, and of how many amps"}})
		}
	}
	if s := c.Said.Shore; s != nil {
		for i := range list {
			list[i] = list[i].AskWord(s.Inlet, "read the rating on the rig's inlet: 15, 20, 30 or 50 A")
		}
	}
	return list
}

// limited adds the ways out by a shore limit, where one would cure: a limit throttles chargers, and loads only by what the battery makes up.
func limited(c check.Case, o check.Outcome, post convert.Service, honest float64) check.Outcome {
	if c.Doc.Shore == nil {
		return o
	}
	kept, breaker := c.Kept(), check.Number("Ibreaker", "breaker", quantity.Current, post.Amps, "hookup")
	amps := fmt.Sprintf("%.0f A", honest)
	set := rig.Edit{}
	cures := func(makesUp string) bool {
		k := check.Kept{Limit: check.Number("Ilimit", "shore limit", quantity.Current, honest, "honest limit"), MakesUp: makesUp}
		there, ok := hardest(c, post, o.Place, breaker, k)
		set = check.Set("shore/limit", saidLimit(c), amps)
		return ok && there.Verdict == check.Pass
	}
	now := "no"
	if kept.MakesUp == "yes" {
		now = "yes"
	}
	switch {
	case cures(now):
		o.Ways = append([]string{fmt.Sprintf("set a shore limit of %s or less", amps)}, o.Ways...)
		o.Tries = []check.Cure{{Words: "set the shore limit to " + amps, Edits: []rig.Edit{set}}}
	case now == "no" && len(c.Doc.Inverters) > 0 && cures("yes"):
		o.Ways = append([]string{fmt.Sprintf("a shore limit of %s with an inverter that makes up what the loads ask beyond it", amps)}, o.Ways...)
		said := ""
		if c.Said.Shore != nil {
			said = c.Said.Shore.MakeUp
		}
		o.Tries = []check.Cure{{Words: "set the shore limit to " + amps + " and let the battery make up the rest", Edits: []rig.Edit{set, check.SetWord("shore/battery make-up", said, "yes")}}}
	}
	return o
}

// otherLeg returns the edits that hang one thing on the other leg of a post with two.
func otherLeg(c check.Case, o check.Outcome, post convert.Service) []check.Cure {
	if post.Legs != 2 || o.Verdict != check.Fail {
		return nil
	}
	from, to := "L1", "L2"
	if strings.HasSuffix(o.Part, "L2") {
		from, to = to, from
	}
	var list []check.Cure
	move := func(name, path string) {
		list = append(list, check.Cure{Words: fmt.Sprintf("hang %s on leg %s", name, to), Edits: []rig.Edit{check.SetWord(path+"/leg", from, to)}})
	}
	for i := range c.Doc.Appliances {
		if a := &c.Doc.Appliances[i]; a.Leg == from && check.OnShore(a) && system.Lasting(a) {
			move(a.Name, check.AppliancePath(a))
		}
	}
	if c.Doc.Shore != nil {
		for i := range c.Doc.Shore.Chargers {
			if k := &c.Doc.Shore.Chargers[i]; k.Leg == from {
				move("charger "+k.Name, "shore/chargers/"+k.Name)
			}
		}
	}
	return list
}

// cord judges the conductors of the cord, leg by leg, on the widest hookup the rig is plugged into.
func cord(c check.Case) (check.Outcome, bool) {
	n := c.Nets()
	if n == nil {
		return check.Outcome{}, false
	}
	bears, origin := n.Net().CordAmps()
	var post convert.Service
	for _, p := range c.Services() {
		if s := c.Post(p.Service); s.Amps > post.Amps {
			post = s
		}
	}
	if bears <= 0 || post.Amps <= 0 {
		return check.Outcome{}, false
	}
	o, ok := hardest(c, post, "shore/cord", check.Number("Icord", "what a conductor of the cord may carry", quantity.Current, bears, origin), c.Kept())
	if !ok {
		return o, false
	}
	o.Part = "shore cord"
	switch o.Verdict {
	case check.Pass:
		o.Title = "cord carries what runs for hours"
	default:
		o.Title = "cord loaded above what it carries"
		o.Consequence = "It warms for hours, the plug first, and most where it lies coiled."
		o.Ways = []string{"a cord of a thicker size", "run one large load at a time"}
	}
	if said, ok := c.SaidValue("shore/cord/gauge"); ok && o.Verdict == check.Fail {
		for _, size := range []string{"12 AWG", "10 AWG", "8 AWG", "6 AWG"} {
			o.Tries = append(o.Tries, check.Cure{Words: "take a cord of " + size, Edits: []rig.Edit{check.Set("shore/cord/gauge", said, size)}})
		}
	}
	return o, true
}

func saidLimit(c check.Case) rig.Value {
	if c.Said.Shore == nil {
		return rig.Value{}
	}
	return c.Said.Shore.Limit
}

// hardest judges each leg of a post and returns the worse outcome.
func hardest(c check.Case, post convert.Service, place string, bears figure.Term, kept check.Kept) (worst check.Outcome, found bool) {
	for _, leg := range check.Legs(post) {
		sum, inputs, untold := c.FromShore(post, leg, kept)
		if sum == "" {
			continue
		}
		o := held(post, sum, inputs, untold, bears).Judge().Outcome(place, strings.TrimSpace(post.Name+" hookup "+leg), check.Fail)
		if !found || o.Verdict > worst.Verdict || o.Verdict == worst.Verdict && o.Margin != nil && worst.Margin != nil && *o.Margin < *worst.Margin {
			worst, found = o, true
		}
	}
	return worst, found
}

// held is the inequality of one leg against what bears it: the breaker by its continuous share, or the cord.
func held(post convert.Service, sum string, inputs []figure.Term, untold []string, bears figure.Term) check.Inequality {
	limit := bears.Symbol
	if limit == "Ibreaker" {
		limit = "f × Ibreaker"
		inputs = append(inputs, check.Number("f", "continuous share of a breaker", quantity.Share, post.Continuous, "[NEC-210] 210.20(A)"))
	}
	q := check.Inequality{
		Formula: "Isum = " + sum + " ≤ " + limit, Name: "drawn for hours", Kind: quantity.Current, Inputs: inputs, Source: "[NEC-210] 210.20(A)",
		Hints: map[string]string{"x": "see which leg of the panel feeds " + strings.Join(untold, ", "), "m": check.MakeUpHint},
	}
	q.Inputs = append(q.Inputs, bears)
	return q
}
