// Package m24 is the room of rule M24.
package m24

import (
	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M24", Title: "start surge over the battery's peak", Holds: "battery bears the start", Worst: check.Fail,
	What: "What a motor's start on the inverter draws from the bank, against the peak limit of all blocks together.",
	Why:  "A start lasts a tenth of a second; a battery's electronics open faster than that, and everything is dark.",
	Except: "Only motors that the inverter feeds; where the file states no start, or no peak limit, the usual one is taken with its ends, and " +
		"fails only where its good end would. A start beyond the inverter's own surge rating fails in the inverter " +
		"first. Blocks are taken to share alike.",
	Formula:   "P / η / V ≤ N × Ipeak",
	Source:    "power over voltage; " + check.Practice + " for starts",
	Sure:      "a start is a nameplate's locked-rotor figure or a measured peak; guesses of it are wide",
	Questions: []string{"What does the motor draw at its start?", "What peak current does one block allow, and for how long?"},
	Caution:   check.BatteryFault,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	b := c.Doc.Bank
	if b == nil || !c.Inverted() || !b.Block.PeakLimit.Stands() && !b.Block.DischargeLimit.Stands() {
		return nil
	}
	var list []check.Outcome
	for i := range c.Doc.Appliances {
		a := &c.Doc.Appliances[i]
		if start, ok := c.Start("P", i); ok && a.TakesAC != "shore only" {
			list = append(list, judge(c, a, i, start))
		}
	}
	return list
}

func judge(c check.Case, a *rig.Appliance, i int, start figure.Term) check.Outcome {
	b := c.Doc.Bank
	volts := check.Number("V", "bank, nominal", quantity.Voltage, c.BankV(), "bank")
	q := check.Inequality{
		Formula: "I = P / η / V ≤ N × Ipeak", Name: "current of the start", Kind: quantity.Current, Source: "power over voltage",
		Inputs: []figure.Term{
			start, check.Known("η", "efficiency of the inverter", c.InverterEfficiency()), volts,
			check.Known("N", "blocks side by side", b.Blocks), c.PeakLimit("Ipeak"),
		},
		Hints: map[string]string{"P": "read the locked-rotor amps on the nameplate of " + a.Name, "Ipeak": "look up the peak current of one block and for how long it may last"},
	}
	j := q.Judge()
	o := j.Outcome(check.AppliancePath(a), a.Name, check.Fail)
	if o.Verdict == check.Fail && j.HoldsGood && (!a.Surge.Given() || !b.Block.PeakLimit.Given()) { // what the program took fails nobody
		o.Verdict, o.Measure = check.Undecided, j.Measure
	}
	if o.Verdict == check.Pass {
		o.Detail = check.Taken("peak limit", c.Said.Bank.Block.PeakLimit)
	}
	o.Ways = []string{"a soft starter, which halves the start", "another block in parallel, or blocks with a higher peak"}
	if said := c.SaidAppliance(i); said.Surge.Given() {
		o.Tries = append(o.Tries, check.Cure{Words: "fit a soft starter to " + a.Name, Edits: []rig.Edit{check.Set(check.AppliancePath(a)+"/surge", said.Surge, softened(a))}})
	}
	return o
}

// softened is the start with a soft starter: 24 A of 50 A were measured. Common practice, no source.
func softened(a *rig.Appliance) string {
	q := a.Surge.Quantity
	q.Base *= 0.48
	return "about " + quantity.Digits(q.Base, 2, 0) + " " + q.Kind.BaseUnit()
}
