// Package m06 is the room of rule M06.
package m06

import (
	"fmt"
	"slices"

	"campwright/check"
	"campwright/conductor"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M06", Title: "parallel strings without string fuses", Holds: "strings cannot burn each other", Worst: check.Fail,
	What: "What the other strings of a controller can drive backwards into a faulted one, against the largest series fuse on the module's label, which is " +
		"also what the module was tested to bear backwards. Strings of all arrays on the controller count.",
	Why: "One shorted module is fed by all the others until its junction box or its leads burn on the roof.",
	Except: "Two strings alone can hardly overload each other. Strings with a fuse each pass; whether the fuse is right is rule M07. What a bank could " +
		"drive back through a controller is left to the controller.",
	Formula:   "(N − 1) × 1.25 × Isc ≤ Imax",
	Source:    "[NEC] 690.9(A), 690.8(A)(1)",
	Sure:      "the label's own figure against the label's own figure",
	Questions: []string{"What is the maximum series fuse on the module's label?"},
	Caution:   check.SunLive,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	var list []check.Outcome
	for i := range c.Doc.Controllers {
		arrays := c.ArraysOn(c.Doc.Controllers[i].Name)
		n, isc := 0.0, 0.0
		for _, a := range arrays {
			n += a.Strings.Quantity.Base
			if m := c.Module(a.Module); m != nil && m.Isc.Quantity.Base > isc {
				isc = m.Isc.Quantity.Base
			}
		}
		if n < 2 {
			continue
		}
		for _, a := range arrays {
			if m := c.Module(a.Module); m != nil && m.Isc.Stands() && (m.Fuse.Given() || n > 2) {
				list = append(list, judge(c, a, m, n, isc))
			}
		}
	}
	return list
}

func judge(c check.Case, a *rig.Array, m *rig.Module, n, isc float64) check.Outcome {
	if fused(c, a) {
		return check.Outcome{Verdict: check.Pass, Place: check.ArrayPath(a), Part: check.ArrayPart(a), Title: "each string has its fuse",
			Detail: fmt.Sprintf("%.0f strings on one controller, each behind a fuse.", n)}
	}
	limit := check.Known("Imax", "maximum series fuse of "+m.Name, m.Fuse)
	if !m.Fuse.Given() {
		limit.Figure.State, limit.Figure.Kind = figure.Unknown, quantity.Current
	}
	q := check.Inequality{
		Formula: "Iback = (N − 1) × 1.25 × Isc ≤ Imax", Name: "what the other strings can drive into one", Kind: quantity.Current,
		Inputs: []figure.Term{
			check.Number("N", "strings on the controller", quantity.Count, n, check.ArrayPath(a)),
			check.Number("Isc", "largest Isc of its modules", quantity.Current, isc, "modules"), limit,
		},
		Result: func(in check.Inputs) float64 { return (in.Of("N") - 1) * conductor.CircuitCurrent(in.Of("Isc")) },
		Hints:  map[string]string{"Imax": "read the maximum series fuse on the label of " + m.Name},
		Source: "[NEC] 690.9(A)",
	}
	o := q.Judge().Outcome(check.ArrayPath(a), check.ArrayPart(a), check.Fail)
	if !m.Fuse.Given() {
		o.Verdict, o.Margin = check.Undecided, nil
		o.Measure = []string{q.Hints["Imax"]}
	}
	o.Ways = []string{"a fuse in each string, " + right(m), "more modules in series and fewer strings"}
	o.Tries = append(fuses(c, a, m), c.Longer(a)...)
	return o
}

// fuses are the edits that give each string a fuse: the smallest standard one that bears it, where the label allows it.
func fuses(c check.Case, a *rig.Array, m *rig.Module) []check.Cure {
	const family = "photovoltaic cartridge fuse 10 x 38 mm"
	f, ok := conductor.FamilyNamed(family)
	if !ok || !m.Fuse.Given() {
		return nil
	}
	rating, ok := conductor.Next(f.Ratings, conductor.DeviceCurrent(m.Isc.Quantity.Base))
	if !ok || rating > m.Fuse.Quantity.Base {
		return nil
	}
	fuse := fmt.Sprintf("{kind: fuse, family: %s, rating: %g A, volts dc: %g V}", family, rating, f.Volts)
	cure := check.Cure{Words: fmt.Sprintf("give each string of %s a fuse of %g A", a.Name, rating)}
	if w := c.Said.Wiring; w != nil {
		for i := range w.Combiners {
			if b := &w.Combiners[i]; slices.Contains(b.Arrays, a.Name) {
				cure.Edits = []rig.Edit{{Path: "wiring/combiners/" + b.Name + "/string fuse", New: fuse}}
				return []check.Cure{cure}
			}
		}
		for i, path := range c.Said.RunPaths() {
			if w.Runs[i].From == "array "+a.Name { // its home run begins behind the fuses then
				cure.Edits = append(cure.Edits, rig.Edit{Path: path + "/from", Old: w.Runs[i].From, New: "combiner " + a.Name})
			}
		}
	}
	cure.Edits = append([]rig.Edit{{Path: "wiring/combiners/" + a.Name, New: fmt.Sprintf("{arrays: [%s], string fuse: %s}", a.Name, fuse)}}, cure.Edits...)
	return []check.Cure{cure}
}

// right tells which string fuses are right.
func right(m *rig.Module) string {
	low := conductor.DeviceCurrent(m.Isc.Quantity.Base)
	if !m.Fuse.Given() {
		return fmt.Sprintf("of %.1f A or more", low)
	}
	return fmt.Sprintf("of %.1f A to %.0f A", low, m.Fuse.Quantity.Base)
}

// fused tells whether each string of an array has a fuse of its own.
func fused(c check.Case, a *rig.Array) bool {
	w := c.Doc.Wiring
	if w == nil {
		return false
	}
	for i := range w.Combiners {
		for _, name := range w.Combiners[i].Arrays {
			if f := w.Combiners[i].Fuse; name == a.Name && f != nil {
				return true
			}
		}
	}
	if a.Strings.Quantity.Base != 1 {
		return false
	}
	for i := range w.Runs {
		for k := range w.Runs[i].Devices {
			if w.Runs[i].From == "array "+a.Name && w.Runs[i].Devices[k].Kind == "fuse" {
				return true
			}
		}
	}
	return false
}
