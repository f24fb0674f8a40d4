// Package m39 is the room of rule M39.
package m39

import (
	"fmt"

	"campwright/check"
	"campwright/conductor"
	"campwright/figure"
	"campwright/quantity"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M39", Title: "fuse too small for its lasting current", Holds: "fuses carry their lasting current", Worst: check.Fail,
	What: "The largest lasting current through every fuse and breaker, out of the solved states, against its rating, with a quarter to spare.",
	Why:  "A fuse at its rating runs hot, ages and opens on a warm evening under load: everybody blames the inverter.",
	Except: "The quarter to spare belongs to loads that run for hours; less than that is a WARN, above the rating a FAIL. Starts of a second are left out. Whether " +
		"the cable bears the fuse is rule M38, and there the book decides.",
	Formula:   "1.25 × I ≤ F",
	Source:    "[NEC] 210.20(A): 125 % of a lasting current; on the battery side " + check.Practice,
	Sure:      "currents are solved; all DC loads at once is the hardest that can be",
	Questions: []string{"What is printed on the fuse?", "What runs at the same time?"},
	Caution:   check.BatteryFault,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	n := c.Nets()
	if n == nil {
		return nil
	}
	var list []check.Outcome
	net := n.Net()
	for i := range net.Devices {
		d := &net.Devices[i]
		if !d.Protects() || d.Run < 0 || !check.OffShore(&net.Runs[d.Run]) || net.Runs[d.Run].Side == conductor.Photovoltaic {
			continue
		}
		if f := n.Device(i); f.Amps > 0.01 {
			list = append(list, judge(c, net, d, f))
		}
	}
	return list
}

func judge(c check.Case, net *system.Network, d *system.Device, f check.Flow) check.Outcome {
	place, part := d.Path, d.Title(net)
	if d.RatingA == 0 {
		return check.Outcome{Verdict: check.Undecided, Place: place, Part: part, Measure: []string{check.ReadPrint(net, d, "rating")}}
	}
	carries := d.RatingA >= f.High
	if carries { // no guess brings it to its rating; the quarter to spare is counted from the likely current
		f.Low, f.High = f.Amps, f.Amps
	}
	q := check.Inequality{Formula: "Ineed = 1.25 × Imax ≤ F", Name: "lasting current and a quarter", Kind: quantity.Current, Source: "[NEC] 210.20(A)",
		Inputs: []figure.Term{f.Term("Imax", "largest lasting current, "+f.State), check.Known("F", "rating of "+part, d.Rating)},
		Hints:  map[string]string{"Imax": "read the current through " + part + " with a clamp while everything runs", "F": check.ReadPrint(net, d, "rating")}}
	worst := check.Fail
	if carries { // it carries the current, with less than a quarter to spare
		worst = check.Warn
	}
	o := q.Judge().Outcome(place, part, worst)
	if o.Verdict == check.Warn {
		o.Title, o.Consequence = "fuse with less than a quarter spare", "It runs hot for hours and opens on a warm day."
	}
	need, _ := conductor.SmallestFuse(f.Amps)
	ratings, _ := conductor.StandardRatings()
	if fam, ok := conductor.FamilyNamed(d.Family); ok {
		ratings = fam.Ratings
	}
	o.Detail = fmt.Sprintf("The hardest lasting state, %q, drives %s through it. Book %s judges the cable by rule M38.", f.State, check.Say(f.Amps, quantity.Current), net.Book)
	o.Ways = []string{fmt.Sprintf("a fuse of %s or more, if the cable bears it", check.Say(need, quantity.Current)), "fewer things at once"}
	if r, ok := conductor.Next(ratings, need); ok {
		o.Tries = c.RatingCures(net, d, "rating", []float64{r}, "take %s A as %s")
	}
	return f.Settle(o)
}
