// Package m32 is the room of rule M32.
package m32

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
	ID: "M32", Title: "main fuse cannot interrupt the bank", Holds: "first fuses can interrupt the bank", Worst: check.Fail,
	What: "The current that a bolted short behind, or before, each fuse that stands first from the bank drives through it, out of the network at both ends " +
		"of the guesses in bank and cables, against the largest fault that the fuse is made to stop at the bank's highest voltage.",
	Why: "A fuse that cannot stop the current ruptures and the arc stays in what is left of it, beside the bank.",
	Except: "Fuses behind another are left out: the one before limits what reaches them. A rating stated at a lower voltage than the bank is charged at is " +
		"a WARN. Boat builders accept 20 kA at 125 V for lithium whatever is computed.",
	Formula:   "Ifault ≤ Istop",
	Source:    "fault: Ohm's law on the solved network; [ABYC-E11], from memory",
	Sure:      "the battery's ohms decide; its electronics may open first, and nobody should count on it",
	Questions: []string{"What class is the fuse, and what interrupt rating is printed on it at which direct voltage?"},
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
		if !d.Protects() || d.Run < 0 || net.Runs[d.Run].Side != conductor.Battery || !n.First(i) || n.Fault(i).Amps <= 0 {
			continue
		}
		list = append(list, judge(c, n, net, i))
	}
	return list
}

func judge(c check.Case, n *check.Nets, net *system.Network, i int) check.Outcome {
	d, f := &net.Devices[i], n.Fault(i)
	volts := net.ChargingV()
	read := check.ReadPrint(net, d, "class and interrupt rating")
	fault := n.FaultTerm("If", i)
	q := check.Inequality{Formula: "Ifault = If ≤ Istop", Name: "fault current through it", Kind: quantity.Current, Inputs: []figure.Term{fault}, Source: "Ohm's law",
		Hints: map[string]string{"Istop": read, "If": "find the resistance of a block: from its sheet, or from two steady currents and the two voltages at its posts"}}
	stop, claim := d.InterruptA, 0.0
	if fam, ok := conductor.FamilyNamed(d.Family); ok && !d.Doc.Interrupt.Given() {
		if below, ok := fam.ClaimBelow(volts); ok {
			claim = below.Amps
		}
	}
	if stop == 0 {
		return check.Outcome{Verdict: check.Undecided, Place: d.Path, Part: d.Title(net), Measure: []string{read}, Detail: fmt.Sprintf("A bolted short could drive %.1f kA through it.", f.Amps/1000)}
	}
	from := "print on the fuse"
	if !d.Doc.Interrupt.Given() {
		from = "usual of a " + d.Family + ", from memory"
	}
	worst := check.Fail
	if v := d.Doc.StopsAtV; v.Given() && d.Doc.Interrupt.Given() && v.Quantity.Base < volts && stop >= fault.Figure.Value {
		q.Inputs = append(q.Inputs, check.Number("Istop", fmt.Sprintf("what it can stop at %s", check.Say(v.Quantity.Base, quantity.Voltage)), quantity.Current, stop, "print on the fuse"))
		o := q.Judge().Outcome(d.Path, d.Title(net), worst)
		nobody := fmt.Sprintf("Its rating holds up to %s; the bank is charged at %s, and there nobody promises it.", check.Say(v.Quantity.Base, quantity.Voltage), check.Say(volts, quantity.Voltage))
		if o.Verdict = max(o.Verdict, check.Warn); o.Verdict > check.Warn { // at the bad end it breaks even at its own voltage
			o.Detail = nobody
			return ways(c, net, d, o)
		}
		o.Title, o.Consequence = "fuse's rating stated below bank voltage", nobody
		o.Detail = fmt.Sprintf("At its own voltage it has %.0f %% to spare.", 100*(1-fault.Figure.Value/stop))
		return ways(c, net, d, o)
	}
	if claim >= f.Amps && f.Amps > stop {
		worst, stop, from = check.Warn, claim, "claimed at a lower voltage than the bank is charged at"
		q.Inputs = append(q.Inputs, check.Number("Istop", "what it is claimed to stop", quantity.Current, stop, from))
		o := q.Judge().Outcome(d.Path, d.Title(net), worst)
		o.Verdict, o.Title = check.Warn, "fuse's rating stated below bank voltage"
		o.Consequence = fmt.Sprintf("It is claimed to stop %.0f A at a lower voltage; at %.1f V nobody promises that.", claim, volts)
		return ways(c, net, d, o)
	}
	q.Inputs = append(q.Inputs, check.Number("Istop", "what it can stop", quantity.Current, stop, from))
	o := q.Judge().Outcome(d.Path, d.Title(net), worst)
	return ways(c, net, d, o)
}

func ways(c check.Case, net *system.Network, d *system.Device, o check.Outcome) check.Outcome {
	o.Ways = []string{"a class T fuse", "a fuse at each block, so that each stops its own block's share"}
	if said := d.Doc.Family; said != "" && said != "class T fuse" {
		if f, ok := conductor.FamilyNamed("class T fuse"); ok {
			if r, ok := conductor.Next(f.Ratings, d.RatingA); ok {
				cure := check.Cure{Words: fmt.Sprintf("take a %g A class T fuse as %s", r, d.Title(net)), Edits: []rig.Edit{check.SetWord(d.Path+"/family", said, "class T fuse")}}
				if v, ok := c.SaidValue(d.Path + "/interrupt"); ok && v.Given() {
					cure.Edits = append(cure.Edits, check.Set(d.Path+"/interrupt", v, "20 kA"))
				}
				if v, ok := c.SaidValue(d.Path + "/rating"); ok && v.Given() && r != d.RatingA {
					cure.Edits = append(cure.Edits, check.Set(d.Path+"/rating", v, fmt.Sprintf("%g A", r)))
				}
				o.Tries = append(o.Tries, cure)
			}
		}
	}
	return o
}
