// Package m47 is the room of rule M47.
package m47

import (
	"fmt"
	"slices"
	"strings"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M47", Title: "current that bypasses the shunt", Holds: "the shunt counts everything", Worst: check.Fail,
	What: "Every path from the minus of a load, inverter or charger back to the bank's minus posts that does not run through the shunt, found by search in " +
		"the wiring.",
	Why: "The monitor counts only what passes its shunt: the gauge shows full while the bank empties, or the other way round.",
	Except: "Only where a shunt is written. A detector of a few milliamps on the bank's side is told all the same. Returns through the frame count by where the " +
		"frame is bonded.",
	Formula:   "current past the shunt ≤ 0",
	Source:    "Kirchhoff's laws; path search; " + check.Practice,
	Sure:      "as sure as the wiring that is written",
	Questions: []string{"Where does each minus end: before or behind the shunt?"},
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	n := c.Nets()
	if n == nil {
		return nil
	}
	net := n.Net()
	for i := range net.Devices {
		if net.Devices[i].Kind == "shunt" {
			return []check.Outcome{judge(c, net, i)}
		}
	}
	return nil
}

func judge(c check.Case, net *system.Network, shunt int) check.Outcome {
	d := &net.Devices[shunt]
	bypass, amps := past(net, shunt)
	if framed := throughFrame(net, bypass); len(framed) > 0 && len(framed) == len(bypass) && !bonded(c) {
		return check.Outcome{Verdict: check.Undecided, Place: d.Path, Part: d.Title(net), Title: "not told where the frame is bonded",
			Detail:  fmt.Sprintf("Through the frame come back: %s. On the bank's side of the shunt it does not see them.", strings.Join(framed, ", ")),
			Measure: []string{"follow the cable from the frame to the bank's minus: does it end before or behind the shunt? Write it as a run from chassis"}}
	}
	q := check.Inequality{Formula: "Ipast = I ≤ Inone", Name: "current that the shunt does not see", Kind: quantity.Current, Source: "path search",
		Inputs: []figure.Term{check.Computed("I", "of what returns past the shunt, at full draw", quantity.Current, amps, "wiring"), check.Number("Inone", "none", quantity.Current, 0, check.Practice)}}
	o := q.Judge().Outcome(d.Path, d.Title(net), check.Fail)
	if len(bypass) > 0 {
		o.Verdict = check.Fail
		o.Detail = fmt.Sprintf("Past the shunt: %s.", strings.Join(bypass, ", "))
		if ah := amps; ah > 0 {
			o.Consequence = fmt.Sprintf("In one hour at full draw %.0f Ah go uncounted: the gauge lies by that much.", ah)
		}
	} else {
		o.Margin, o.Detail = nil, "Every minus returns through it."
	}
	o.Ways = []string{"move the minus of what bypasses it to the far side of the shunt", "move the shunt to the bank's posts, with nothing else on them"}
	return o
}

// throughFrame returns those parts whose minus is the frame.
func throughFrame(net *system.Network, names []string) []string {
	frame, ok := net.NodeOf("chassis -")
	var list []string
	for _, p := range net.Parts() {
		if ok && slices.Contains(names, p.Name) && reaches(net, p.Minus, frame) {
			list = append(list, p.Name)
		}
	}
	return list
}

// reaches tells whether a node hangs on the frame by its own cable or none.
func reaches(net *system.Network, node, frame int) bool {
	return node == frame || slices.ContainsFunc(net.Edges, func(e system.Edge) bool {
		return (e.A == node && e.B == frame || e.B == node && e.A == frame) && !e.OneWay
	})
}

// bonded tells whether a run of the written wiring ends at the frame.
func bonded(c check.Case) bool {
	return c.Said.Wiring != nil && slices.ContainsFunc(c.Said.Wiring.Runs, func(w rig.Wire) bool {
		return strings.HasPrefix(w.From, "chassis") || strings.HasPrefix(w.To, "chassis")
	})
}

// past returns what reaches the bank's minus with the shunt taken out, and the current of it at full draw [A].
func past(net *system.Network, shunt int) (names []string, amps float64) {
	near := make([]bool, len(net.Nodes))
	var queue []int
	for k := range net.Blocks {
		if i, ok := net.NodeOf(fmt.Sprintf("block %d -", k+1)); ok && !near[i] {
			near[i] = true
			queue = append(queue, i)
		}
	}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		for i := range net.Edges {
			e := &net.Edges[i]
			if e.Device == shunt || e.OneWay || e.A != at && e.B != at {
				continue
			}
			if next := e.A + e.B - at; !near[next] && net.Nodes[next].Rail == system.Minus {
				near[next] = true
				queue = append(queue, next)
			}
		}
	}
	for _, p := range net.Parts() {
		if near[p.Minus] && p.Amps > 0 {
			names = append(names, p.Name)
			amps += p.Amps
		}
	}
	return names, amps
}
