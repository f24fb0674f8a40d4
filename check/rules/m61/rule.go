// Package m61 is the room of rule M61.
package m61

import (
	"fmt"
	"math"

	"campwright/check"
	"campwright/convert"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M61", Title: "generator too small for the charger", Holds: "generator carries the chargers", Worst: check.Fail,
	What: "What all shore chargers take at full output, against what the generator gives at the height and in the heat of the highest place where it " +
		"may run.",
	Why: "A generator loses some 3 to 4 % of its output for every thousand feet. Overloaded by a charger that starts at full current it stalls or opens " +
		"its breaker, and nothing charges.",
	Except: "A charger with a shore limit yields and only charges slower. Other loads at the same time are left to the people. Manuals disagree on the " +
		"loss with height: the rule that the file names is used.",
	Formula:   "Pgen × share left ≥ sum of Iout × Vabs / ηc",
	Source:    "[GENSET-MANUALS]",
	Sure:      "manuals differ by a tenth of the output at 5,000 ft",
	Questions: []string{"How high is the place?", "Which loss with height does the manual give?"},
	Caution:   check.Fumes,
	Run:       run,
}

// Ground where no height is known [m]; common practice, no source.
const lowM, highM = 0, 2500

func run(c check.Case) []check.Outcome {
	if c.Doc.Bank == nil || c.Doc.Shore == nil || len(c.Doc.Shore.Chargers) == 0 {
		return nil
	}
	var list []check.Outcome
	for i := range c.Doc.Generators {
		g := &c.Doc.Generators[i]
		if !g.Power.Stands() || !c.Doc.Shore.Chargers[0].Output.Stands() {
			continue
		}
		j := carries(c, g).Judge()
		o := j.Outcome("generators/"+g.Name, "generator "+g.Name, check.Fail)
		if o.Verdict == check.Fail && c.Doc.Shore.Limit.Stands() && c.Doc.Shore.Limit.Quantity.Base*c.OutletV() <= j.Result {
			o.Verdict, o.Title = check.Note, "shore limit spares the generator"
			o.Detail = "The chargers yield to the limit and charge slower."
		}
		if o.Verdict == check.Pass {
			o.Detail = fmt.Sprintf("The chargers take %.0f %% of it.", 100*j.Limit/j.Result)
		}
		o.Ways = []string{"set the chargers lower while it runs", "a shore limit, or a larger generator"}
		o.Tries = lower(c, j)
		list = append(list, o.AskWord(c.Said.Generators[i].Derating, "look up in the generator's manual how much it loses with height"))
	}
	return list
}

// carries is the inequality of a generator.
func carries(c check.Case, g *rig.Generator) check.Inequality {
	rule, _ := convert.ParseDerating(g.Derating)
	left := func(heightM float64) float64 { return rule.Share(convert.Air{ElevationM: heightM}) }
	share := check.Between("s", "share left, no height known", quantity.Share, left((lowM+highM)/2), left(highM), left(lowM), "[GENSET-MANUALS]: "+g.Derating)
	if s := where(c); s != nil {
		air := convert.Air{ElevationM: s.ElevationM}
		if !math.IsNaN(s.HotC) {
			air.AirC = s.HotC
		}
		share = check.Number("s", fmt.Sprintf("share left %s, %s", check.At(s), c.Say(s.ElevationM, quantity.Length)), quantity.Share, rule.Share(air), "[GENSET-MANUALS]: "+g.Derating)
	}
	q := check.Inequality{
		Name: "generator at height", Kind: quantity.Power, Source: "[GENSET-MANUALS]",
		Inputs: []figure.Term{check.Known("Pgen", "generator "+g.Name, g.Power), share},
		Hints:  map[string]string{"s": "say how high the places are"},
	}
	need := ""
	for i := range c.Doc.Shore.Chargers {
		k := &c.Doc.Shore.Chargers[i]
		if !k.Output.Stands() {
			continue
		}
		l := fmt.Sprint(i + 1)
		if len(c.Doc.Shore.Chargers) == 1 {
			l = ""
		}
		if need != "" {
			need += " + "
		}
		need += "Iout" + l + " × Vabs" + l + " / ηc" + l
		q.Inputs = append(q.Inputs, check.Known("Iout"+l, "charger "+k.Name, k.Output), check.Known("Vabs"+l, "its charging voltage", k.Absorption), check.Known("ηc"+l, "its efficiency", k.Efficiency))
		q.Hints["ηc"+l] = "read the watts that " + k.Name + " takes at full output"
	}
	q.Formula = "Pleft = Pgen × s ≥ " + need
	return q
}

// where returns the highest site where the generator is planned to run, or of all sites where none says so; nil where no height is known.
func where(c check.Case) *system.Site {
	var best *system.Site
	for _, planned := range []bool{true, false} {
		for i := range c.Sites {
			s := &c.Sites[i]
			if math.IsNaN(s.ElevationM) || planned && s.RunH <= 0 {
				continue
			}
			if best == nil || s.ElevationM > best.ElevationM {
				best = s
			}
		}
		if best != nil {
			return best
		}
	}
	return nil
}

// spare is what a charger set lower leaves of the generator. Common practice, no source.
const spare = 0.05

// lower is the cure of setting the only charger so that the generator carries it.
func lower(c check.Case, j check.Judged) []check.Cure {
	if len(c.Doc.Shore.Chargers) != 1 || c.Said.Shore == nil {
		return nil
	}
	k := &c.Doc.Shore.Chargers[0]
	to := math.Floor((1 - spare) * j.Result * k.Efficiency.Quantity.Base / k.Absorption.Quantity.Base)
	if to < 1 {
		return nil
	}
	return []check.Cure{{Words: fmt.Sprintf("set %s to %.0f A", k.Name, to), Edits: []rig.Edit{check.Set("shore/chargers/"+k.Name+"/output", c.Said.Shore.Chargers[0].Output, fmt.Sprintf("%.0f A", to))}}}
}
