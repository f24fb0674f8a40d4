// Package m42 is the room of rule M42.
package m42

import (
	"fmt"

	"campwright/check"
	"campwright/conductor"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M42", Title: "bus bar or switch under-rated", Holds: "bars and switches bear the sum", Worst: check.Fail,
	What: "The current that meets at every bus bar, and that runs through every switch, disconnect, plug, cut-off and shunt, in the hardest lasting state, against its " +
		"rating.",
	Why:       "Ratings are for lasting current; above them bars, studs and contacts heat, and plastic under them softens.",
	Except:    "Starts of a second are left out. A bar's rating holds for its studs used as its maker shows. Fuses are rules M38 and M39.",
	Formula:   "I ≤ Irated",
	Source:    "the maker's rating; currents: Kirchhoff's laws; otherwise " + check.Practice,
	Sure:      "currents are solved",
	Questions: []string{"What is the bar or switch rated for, lasting?"},
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
	if c.Doc.Wiring != nil {
		for i := range c.Doc.Wiring.Bars {
			if o, ok := bar(c, n, net, &c.Doc.Wiring.Bars[i]); ok {
				list = append(list, o)
			}
		}
	}
	for i := range net.Devices {
		d := &net.Devices[i]
		if d.Protects() || d.Run < 0 || !check.OffShore(&net.Runs[d.Run]) {
			continue
		}
		if net.Runs[d.Run].Side == conductor.Photovoltaic && d.Kind == "plug" {
			continue
		}
		if f := n.Device(i); f.Amps > 0.01 {
			list = append(list, judge(d.Path, d.Title(net), d.Rating, f, c.RatingCures(net, d, "rating", []float64{100, 150, 200, 300, 400, 500, 600}, "take a %s A part as %s")))
		}
	}
	return list
}

func bar(c check.Case, n *check.Nets, net *system.Network, b *rig.Bar) (check.Outcome, bool) {
	var worst check.Flow
	for _, sign := range []string{"+", "-"} {
		if node, ok := net.NodeOf("bus bar " + b.Name + " " + sign); ok {
			if f := n.Node(node); f.Amps > worst.Amps {
				worst = f
			}
		}
	}
	if worst.Amps <= 0.01 {
		return check.Outcome{}, false
	}
	place := "wiring/bus bars/" + b.Name
	var tries []check.Cure
	if said, ok := c.SaidValue(place + "/rating"); ok && said.Given() {
		for _, r := range []string{"150 A", "250 A", "300 A", "400 A", "500 A", "600 A"} {
			tries = append(tries, check.Cure{Words: "take a " + r + " bar as " + b.Name, Edits: []rig.Edit{check.Set(place+"/rating", said, r)}})
		}
	}
	return judge(place, "bus bar "+b.Name, b.Rating, worst, tries), true
}

func judge(place, part string, rating rig.Value, f check.Flow, tries []check.Cure) check.Outcome {
	read := "read the lasting rating of " + part
	if !rating.Given() {
		return check.Outcome{Verdict: check.Undecided, Place: place, Part: part, Measure: []string{read}, Detail: fmt.Sprintf("%.0f A meet there in state %q.", f.Amps, f.State)}
	}
	q := check.Inequality{Formula: "I = Isum ≤ Irated", Name: "current that meets there", Kind: quantity.Current, Source: "Kirchhoff's laws",
		Inputs: []figure.Term{f.Term("Isum", "in state "+f.State), check.Known("Irated", "rating of "+part, rating)}, Hints: map[string]string{"Irated": read, "Isum": "read the current with a clamp while everything runs"}}
	o := q.Judge().Outcome(place, part, check.Fail)
	o.Ways = []string{fmt.Sprintf("a part rated for %.0f A or more", f.Amps), "fewer things at once on it, or a second bar"}
	o.Tries = tries
	return f.Settle(o)
}
