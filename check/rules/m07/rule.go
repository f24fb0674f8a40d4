// Package m07 is the room of rule M07.
package m07

import (
	"fmt"

	"campwright/check"
	"campwright/conductor"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M07", Title: "string fuse of the wrong size", Holds: "string fuses fit their modules", Worst: check.Fail,
	What: "The fuse of each string between two limits: 1.56 times the short-circuit current, so that it does not open in full sun, and the maximum " +
		"series fuse on the module's label, so that it protects.",
	Why:       "A fuse too small opens at noon, one at a time, and harvest falls unnoticed; one too large lets a faulted string burn.",
	Except:    "Strings without fuses are rule M06. Fuses of home runs, which carry several strings, are judged by their cable.",
	Formula:   "1.25 × 1.25 × Isc ≤ F ≤ Imax",
	Source:    "[NEC] 690.9(B), 690.8(A)(1)",
	Sure:      "label figures; the factor is the code's",
	Questions: []string{"What does the string fuse say?", "What is the maximum series fuse on the module's label?"},
	Caution:   check.SunLive,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	w := c.Doc.Wiring
	if w == nil {
		return nil
	}
	var list []check.Outcome
	for i := range w.Combiners {
		b := &w.Combiners[i]
		for _, name := range b.Arrays {
			if m := moduleOf(c, name); m != nil && b.Fuse != nil {
				list = append(list, judge(c, b, name, m))
			}
		}
	}
	return list
}

func moduleOf(c check.Case, array string) *rig.Module {
	for i := range c.Doc.Arrays {
		if c.Doc.Arrays[i].Name == array {
			return c.Module(c.Doc.Arrays[i].Module)
		}
	}
	return nil
}

func judge(c check.Case, b *rig.Combiner, array string, m *rig.Module) check.Outcome {
	place, part := "wiring/combiners/"+b.Name, "string fuses of "+array
	read := "read what the string fuses say"
	if !b.Fuse.Rating.Given() {
		return check.Outcome{Verdict: check.Undecided, Place: place, Part: part, Measure: []string{read}}
	}
	fuse, isc := check.Known("F", "string fuse", b.Fuse.Rating), check.Known("Isc", "Isc of "+m.Name, m.Isc)
	hints := map[string]string{"F": read, "Imax": "read the maximum series fuse on the label of " + m.Name, "Isc": "read Isc on the label of " + m.Name}
	low := check.Inequality{Formula: "Imin = 1.25 × 1.25 × Isc ≤ F", Name: "smallest fuse that full sun leaves closed", Kind: quantity.Current, Inputs: []figure.Term{isc, fuse}, Hints: hints,
		Result: func(in check.Inputs) float64 { return conductor.DeviceCurrent(in.Of("Isc")) }, Source: "[NEC] 690.9(B)"}
	o := low.Judge().Outcome(place, part, check.Fail)
	if o.Verdict != check.Pass {
		o.Title = "string fuse opens in full sun"
	}
	o.Consequence = "It opens at noon, and nobody looks on the roof."
	if o.Verdict == check.Pass && m.Fuse.Given() {
		high := check.Inequality{Formula: "Fuse = F ≤ Imax", Name: "string fuse", Kind: quantity.Current, Inputs: []figure.Term{fuse, check.Known("Imax", "maximum series fuse of "+m.Name, m.Fuse)}, Hints: hints, Source: "[NEC] 690.9(A)"}
		if p := high.Judge().Outcome(place, part, check.Fail); p.Verdict != check.Pass || *p.Margin < *o.Margin {
			o = p
			o.Consequence = "A faulted string is fed with more than its modules bear, and the fuse stays closed."
			if o.Verdict != check.Pass {
				o.Title = "string fuse above the module's label"
			}
		}
	}
	if o.Verdict == check.Pass {
		o.Consequence = ""
	}
	o.Ways = []string{fmt.Sprintf("fuses of %.1f A or more, up to %s", conductor.DeviceCurrent(m.Isc.Quantity.Base), upTo(m)), "modules of another current, or more of these in series"}
	pv, _ := conductor.FamilyNamed("photovoltaic cartridge fuse 10 x 38 mm")
	if r, ok := conductor.Next(pv.Ratings, conductor.DeviceCurrent(m.Isc.Quantity.Base)); ok {
		if said, ok := c.SaidValue(place + "/string fuse/rating"); ok {
			o.Tries = append(o.Tries, check.Cure{Words: fmt.Sprintf("take %g A string fuses", r), Edits: []rig.Edit{check.Set(place+"/string fuse/rating", said, fmt.Sprintf("%g A", r))}})
		}
	}
	return o
}

func upTo(m *rig.Module) string {
	if m.Fuse.Given() {
		return fmt.Sprintf("the label's %.0f A", m.Fuse.Quantity.Base)
	}
	return "the figure on the module's label"
}
