// Package m10 is the room of rule M10.
package m10

import (
	"fmt"
	"strings"

	"campwright/check"
	"campwright/conductor"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M10", Title: "home run loses energy", Holds: "home run loses little", Worst: check.Warn,
	What: "What the cable from array to controller turns into heat at label power, as a share of that power: current times resistance there and back over the " +
		"voltage of the strings. Lugs and plugs are in it.",
	Why:       "At a low array voltage the current is high, and a cable that is right by its heat still throws a tenth of every sunny hour away.",
	Except:    "A loss of energy, not a danger. In thin light the share is smaller. The cable is taken at 75 C, at which handbooks count.",
	Formula:   "Imp × R / Vmp ≤ 3 %",
	Source:    "Ohm's law; resistance [NEC] chapter 9 table 8; 3 %: " + check.Practice,
	Sure:      "within 5 % where gauge and length are measured",
	Questions: []string{"How long is the cable from roof to controller, one way, and of which size?"},
	Run:       run,
}

// allowed is the share of power that a home run may lose. Common practice, no source.
const allowed = 0.03

func run(c check.Case) []check.Outcome {
	n := c.Nets()
	if n == nil {
		return nil
	}
	var list []check.Outcome
	hot, ok := n.In(system.StateNoonHot)
	if !ok {
		return nil
	}
	net := n.Net()
	for i := range net.Runs {
		r := &net.Runs[i]
		if r.Side != conductor.Photovoltaic || !strings.HasPrefix(r.To, "controller ") {
			continue
		}
		a, imp := behind(c, r)
		if a == nil || hot[1].Runs[i].Amps <= 0 {
			continue
		}
		ohm := [3]float64{}
		for lean, s := range hot {
			ohm[lean] = s.Runs[i].DropV / s.Runs[i].Amps
		}
		list = append(list, judge(c, r, a, imp, ohm))
	}
	return list
}

// behind returns the first array behind a run and the label current of all of them [A].
func behind(c check.Case, r *system.Run) (first *rig.Array, imp float64) {
	for i := range c.Doc.Arrays {
		a := &c.Doc.Arrays[i]
		m := c.Module(a.Module)
		if m == nil || !c.Behind(r.From, a.Name) {
			continue
		}
		if first == nil {
			first = a
		}
		imp += a.Strings.Quantity.Base * m.Imp.Quantity.Base
	}
	return first, imp
}

func judge(c check.Case, r *system.Run, a *rig.Array, imp float64, ohm [3]float64) check.Outcome {
	m := c.Module(a.Module)
	res := check.Between("R", "cable there and back, with its lugs", quantity.Resistance, ohm[1], ohm[1], ohm[1], "solved; [NEC] chapter 9 table 8 at 75 C")
	if len(r.Guessed) > 0 {
		res.Figure.Low, res.Figure.High = ohm[0], ohm[2]
	} else {
		res.Figure.State = figure.Plain
	}
	if r.Unknown {
		res.Figure.State = figure.Unknown
	}
	q := check.Inequality{
		Formula: "p = I × R / (n × Vmp) ≤ pmax", Name: "share of label power lost", Kind: quantity.Share,
		Inputs: []figure.Term{
			check.Number("I", "label current of its strings", quantity.Current, imp, "modules"), res,
			check.Known("n", "modules in series", a.InSeries), check.Known("Vmp", "Vmp of "+m.Name, m.Vmp),
			check.Number("pmax", "share that practice allows", quantity.Share, allowed, check.Practice),
		},
		Hints: map[string]string{"R": hint(r)}, Source: "Ohm's law",
	}
	o := q.Judge().Outcome(place(r, a), r.Title(), check.Warn)
	if o.Verdict == check.Warn {
		watts := imp * imp * ohm[1]
		o.Consequence = fmt.Sprintf("%s of %s heat the cable whenever the sun is full.", check.Say(watts, quantity.Power), check.Say(imp*a.InSeries.Quantity.Base*m.Vmp.Quantity.Base, quantity.Power))
	}
	o.Ways = []string{"more modules in series, if the controller bears it when cold", "a thicker or shorter home run"}
	o.Tries = append(c.Longer(a), c.SizeCures(r)...)
	return o.Unsure(r)
}

// place is the array where the run is an array's own, so that an acceptance written for the array answers.
func place(r *system.Run, a *rig.Array) string {
	if r.From == "array "+a.Name {
		return check.ArrayPath(a)
	}
	return r.Path
}

func hint(r *system.Run) string {
	if r.Unknown {
		return check.ReadSize(r)
	}
	return "lay a tape along the way of " + r.Title()
}
