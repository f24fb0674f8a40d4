// Package m45 is the room of rule M45.
package m45

import (
	"fmt"
	"strings"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M45", Title: "frame or thin wire as return", Holds: "returns bear what their fuse allows", Worst: check.Stop,
	What: "The way back of every pair: a thinner minus conductor must bear the fuse on the plus side, and the frame is no return for heavy current.",
	Why:  "The same current flows both ways. A thin return glows behind a fuse that never opens; frame joints burn and make noise.",
	Except: "Small loads of a vehicle are returned through its frame from the factory: up to 30 A at its fuse passes. Minus conductors written as runs of their own " +
		"are judged with the fuse of the plus between the same places.",
	Formula:   "F ≤ Iz(return)",
	Source:    "ampacity by the rig's book: [CFR-183] table 5, [NEC] table 310.16; frame: " + check.Practice,
	Sure:      "tables of the book that is named",
	Questions: []string{"What size is the minus conductor, and does it run all the way to the bank?"},
	Caution:   check.BatteryFault,
	Run:       run,
}

// frameA is the largest fuse whose current may come back through the frame [A]. Common practice, no source.
const frameA = 30

func run(c check.Case) []check.Outcome {
	n := c.Nets()
	if n == nil {
		return nil
	}
	net := n.Net()
	list := unwritten(c, net)
	for i := range net.Runs {
		r := &net.Runs[i]
		g := n.Guard(i)
		if !check.OffShore(r) || g < 0 || net.Devices[g].RatingA == 0 {
			continue
		}
		d := &net.Devices[g]
		switch {
		case r.Chassis:
			list = append(list, frame(net, r, d))
		case r.Pair() && r.Core[1].Gauge != r.Core[0].Gauge, r.Core[0].From < 0 && r.Core[1].From >= 0:
			if o, ok := thin(c, n, net, r, d); ok {
				list = append(list, o)
			}
		}
	}
	return list
}

// unwritten asks for the returns that nobody wrote and that were taken as there. Where the frame is bonded is rule M47.
func unwritten(c check.Case, net *system.Network) []check.Outcome {
	var list []check.Outcome
	for _, l := range net.Loose {
		if part, minus := strings.CutSuffix(l.Part, " -"); l.Taken && minus && part != "chassis" && c.Wired() {
			list = append(list, check.Outcome{Verdict: check.Undecided, Place: l.Path, Part: part, Title: "no return to the bank is written",
				Detail:  fmt.Sprintf("No run brings the minus of %s, and of what hangs with it, back to the bank. It was taken as there, and its size is not judged.", part),
				Measure: []string{"follow the minus of " + part + " to the bank, and write it as a run with its size and length"}})
		}
	}
	return list
}

func frame(net *system.Network, r *system.Run, d *system.Device) check.Outcome {
	q := check.Inequality{Formula: "Fuse = F ≤ Fframe", Name: "fuse of the circuit", Kind: quantity.Current, Source: check.Practice,
		Inputs: []figure.Term{check.Known("F", "rating of "+d.Title(net), d.Rating), check.Number("Fframe", "most that the frame may return", quantity.Current, frameA, check.Practice)}}
	o := q.Judge().Outcome(r.Path, r.Title(), check.Stop)
	if o.Verdict == check.Stop {
		o.Title = "heavy current returns through the frame"
	}
	o.Ways = []string{"a minus cable as thick as the plus, back to the bar", "a smaller circuit with its own small fuse"}
	return o
}

func thin(c check.Case, n *check.Nets, net *system.Network, r *system.Run, d *system.Device) (check.Outcome, bool) {
	g := r.Core[1].Gauge
	_, iz, err := n.Rating(r, g)
	if err != nil {
		return check.Outcome{}, false
	}
	if q := plusOf(net, r); q != nil && g.Section() >= q.Core[0].Gauge.Section()*0.999 {
		return check.Outcome{Verdict: check.Pass, Place: r.Path, Part: r.Title(), Detail: "It is as thick as its plus, which rule M38 judges."}, true
	}
	iz.Figure.Name = fmt.Sprintf("what the return of %s may carry", g)
	q := check.Inequality{Formula: "Fuse = F ≤ Iz", Name: "fuse on the plus side", Kind: quantity.Current, Source: iz.Figure.Source, Hints: map[string]string{"Iz": check.ReadSize(r)},
		Inputs: []figure.Term{check.Known("F", "rating of "+d.Title(net), d.Rating), iz}}
	o := q.Judge().Outcome(r.Path, r.Title(), check.Stop)
	if o.Verdict == check.Stop {
		o.Title = "return thinner than its fuse allows"
	}
	o.Ways = []string{"a return as thick as the plus", fmt.Sprintf("a fuse of %.0f A or less on the plus side", iz.Figure.Value)}
	if said, ok := c.SaidValue(r.Path + "/return gauge"); ok && said.Given() {
		o.Tries = append(o.Tries, check.Cure{Words: "lay the return of " + r.Title() + " in " + r.Core[0].Gauge.String(), Edits: editsOf(r, said.Text())})
	} else {
		o.Tries = c.SizeCures(r)
	}
	return o.Unsure(r), true
}

// plusOf returns the plus conductor between the same places as a minus that is a run of its own, nil where there is none.
func plusOf(net *system.Network, r *system.Run) *system.Run {
	if r.Core[0].From >= 0 {
		return nil
	}
	for i := range net.Runs {
		if q := &net.Runs[i]; q.Core[0].From >= 0 && q.From == r.From && q.To == r.To && !q.Unknown {
			return q
		}
	}
	return nil
}

func editsOf(r *system.Run, said string) []rig.Edit {
	return []rig.Edit{{Path: r.Path + "/return gauge", Old: said, New: r.Core[0].Gauge.String()}}
}
