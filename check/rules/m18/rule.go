// Package m18 is the room of rule M18.
package m18

import (
	"fmt"
	"slices"
	"strings"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M18", Title: "short-circuit current over the input limit", Holds: "controller's input bears the array", Worst: check.Fail,
	What: "The short-circuit current of all arrays on a controller, against the largest one that its input protection bears.",
	Why: "The protection of a controller's input is made for a largest current. More than that burns it on a fault or when the array is joined the " +
		"wrong way round; power on the label does not show it.",
	Except: "Some makers give no such limit. Then 0.7 to 1.2 times the output rating is taken, the span of usual units, and what lies inside it is a " +
		"question.",
	Formula:   "sum of strings × Isc ≤ Imax",
	Source:    check.Practice,
	Sure:      "the limit is the maker's own rating",
	Questions: []string{"What is the largest array short-circuit current that the controller allows?"},
	Caution:   check.SunLive,
	Run:       run,
}

// Input limit of controllers whose maker's figure is not at hand, over their output rating. Common practice, no source.
const usual, usualLow, usualHigh = 0.95, 0.7, 1.2

func run(c check.Case) []check.Outcome {
	var list []check.Outcome
	for i := range c.Doc.Controllers {
		k := &c.Doc.Controllers[i]
		arrays := c.ArraysOn(k.Name)
		if len(arrays) == 0 || !k.Output.Stands() && !k.InputIsc.Given() {
			continue
		}
		arrays = slices.DeleteFunc(arrays, func(a *rig.Array) bool { return c.Module(a.Module) == nil })
		if len(arrays) == 0 {
			continue
		}
		o := input(c, k, arrays).Judge().Outcome("controllers/"+k.Name, "controller "+k.Name, check.Fail)
		if !k.InputIsc.Given() && o.Verdict == check.Fail { // the usual span is no rating of this unit
			o.Verdict = check.Undecided
			o.Measure = []string{hint(k)}
		}
		if o.Verdict == check.Pass {
			o.Detail = check.Taken("input limit of "+k.Name, k.InputIsc)
		}
		o.Ways = []string{"more modules in series and fewer strings in parallel", "a second controller for part of the array"}
		for _, a := range arrays {
			o.Tries = append(o.Tries, c.Longer(a)...)
		}
		list = append(list, o)
	}
	return list
}

func hint(k *rig.Controller) string {
	return "look up the largest array short-circuit current in the manual of " + k.Name
}

func input(c check.Case, k *rig.Controller, arrays []*rig.Array) check.Inequality {
	var parts []string
	q := check.Inequality{Name: "short-circuit current of its arrays", Kind: quantity.Current, Source: check.Practice, Hints: map[string]string{"Imax": hint(k)}}
	for i, a := range arrays {
		m := c.Module(a.Module)
		p, isc := fmt.Sprintf("p%d", i+1), fmt.Sprintf("Isc%d", i+1)
		if len(arrays) == 1 {
			p, isc = "p", "Isc"
		}
		parts = append(parts, p+" × "+isc)
		q.Inputs = append(q.Inputs, check.Known(p, "strings of "+a.Name, a.Strings), check.Known(isc, "Isc of "+m.Name, m.Isc))
	}
	q.Formula = "Isum = " + strings.Join(parts, " + ") + " ≤ Imax"
	if k.InputIsc.State == figure.Absent {
		out := k.Output.Quantity.Base
		q.Inputs = append(q.Inputs, check.Between("Imax", "input limit of "+k.Name+", usual span", quantity.Current, usual*out, usualLow*out, usualHigh*out, check.Practice))
	} else {
		limit := check.Known("Imax", "input limit of "+k.Name, k.InputIsc)
		if k.InputIsc.State == figure.Unknown {
			out := k.Output.Quantity.Base
			limit.Figure.Value, limit.Figure.Low, limit.Figure.High = usual*out, usualLow*out, usualHigh*out
			limit.Figure.Kind = quantity.Current
		}
		q.Inputs = append(q.Inputs, limit)
	}
	return q
}
