// Package m11 is the room of rule M11.
package m11

import (
	"fmt"
	"math"
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
	ID: "M11", Title: "array device under-rated in volts", Holds: "array devices hold the cold voltage", Worst: check.Stop,
	What: "The direct voltage printed on every fuse, breaker, switch and plug on the array side, against the open-circuit voltage of the strings on the " +
		"coldest morning of all places.",
	Why:       "A direct-current arc above what a device is made for does not go out: it burns the device and what it is fixed to.",
	Except:    "A device without a printed direct voltage is a question: alternating volts say nothing. Without any place the deepest row of the handbook's table is taken. What is opened on load is a STOP, a fuse a FAIL.",
	Formula:   "n × Voc × (1 + β × (Tlow − 25)) ≤ Vdc",
	Source:    "[NEC] 690.7, 690.9(C)",
	Sure:      "label and print; the coldest air is the record of the places",
	Questions: []string{"What direct voltage is printed on the device?"},
	Caution:   check.SunLive,
	Run:       run,
}

// anyWinterC stands where the file names no place [°C]: the last row of NEC table 690.7(A).
const anyWinterC = -40

func run(c check.Case) []check.Outcome {
	n := c.Nets()
	if n == nil {
		return nil
	}
	air, where := float64(anyWinterC), "colder than any winter on the road, as no place is known"
	if s := c.Coldest(func(s *system.Site) float64 { return s.RecordLowC }); s != nil {
		air, where = s.RecordLowC, "record low "+check.At(s)
	}
	var list []check.Outcome
	net := n.Net()
	for i := range net.Devices {
		d := &net.Devices[i]
		if d.Kind == "shunt" || d.Run >= 0 && net.Runs[d.Run].Side != conductor.Photovoltaic || d.Run < 0 && d.Kind == "relay" {
			continue
		}
		if s, ok := hardest(c, net, d, air, where); ok {
			list = append(list, judge(c, net, d, s))
		}
	}
	return list
}

// hardest returns the string with the highest cold voltage among those that a device stands before.
func hardest(c check.Case, net *system.Network, d *system.Device, air float64, where string) (best check.ColdString, ok bool) {
	for _, s := range c.ColdStrings(air, where, 0) {
		if !before(c, net, d, s.Array) {
			continue
		}
		if v := s.Inequality().Judge().Result; !ok || v > best.Inequality().Judge().Result {
			best, ok = s, true
		}
	}
	return best, ok
}

// before tells whether a device is on the array's side of its controller.
func before(c check.Case, net *system.Network, d *system.Device, a *rig.Array) bool {
	if d.Run < 0 {
		return strings.HasSuffix(d.Name, " of "+a.Name)
	}
	r := &net.Runs[d.Run]
	return r.From == "array "+a.Name || r.To == "controller "+a.Controller+" pv"
}

func judge(c check.Case, net *system.Network, d *system.Device, s check.ColdString) check.Outcome {
	place, part := d.Path, d.Title(net)
	read := check.ReadPrint(net, d, "direct voltage")
	if d.VoltsDC == 0 {
		return check.Outcome{Verdict: check.Undecided, Place: place, Part: part, Measure: []string{read}}
	}
	q := s.Inequality()
	q.Formula = strings.Replace(q.Formula, "Vmax", "Vdc", 1)
	for i, t := range q.Inputs {
		if t.Symbol == "Vmax" {
			q.Inputs[i] = check.Number("Vdc", "direct voltage of "+part, quantity.Voltage, d.VoltsDC, place)
		}
	}
	worst := check.Stop
	if d.Kind == "fuse" {
		worst = check.Fail
	}
	o := q.Judge().Outcome(place, part, worst)
	o.Ways = []string{fmt.Sprintf("a device for %.0f V direct or more", math.Ceil(q.Judge().Result)), "fewer modules in series, more strings in parallel"}
	o.Tries = append(c.RatingCures(net, d, "volts dc", []float64{125, 150, 250, 600, 1000}, "take a %s V device as %s"), c.Shorter(s.Array)...)
	o.Numbers.Terms = append([]figure.Term(nil), o.Numbers.Terms...)
	return o
}
