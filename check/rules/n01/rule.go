// Package n01 is the room of rule N01.
package n01

import (
	"campwright/check"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "N01", Title: "factory charge pin left joined", Holds: "one way of charging from the vehicle", Worst: check.Fail,
	What: "Whether the charge feed of the factory trailer plug still reaches the bank beside a dc-dc unit.",
	Why: "Two ways lead from the vehicle to one bank: the pin's thin wire takes what it can without a limit, heats, and feeds backwards when the engine " +
		"rests.",
	Except:    "Only trailers with a dc-dc unit or a relay of their own. The pin's other duties, brakes and lamps, stay as they are. Where the wiring says nothing of the pin it is asked.",
	Formula:   "one path from the vehicle to the bank",
	Source:    check.Practice,
	Sure:      "as sure as the look at the plug",
	Questions: []string{"What became of the charge feed of the factory trailer plug: removed, isolated, or still joined?"},
	Caution:   check.AlternatorOn,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	if c.Doc.Kind != "travel trailer" && c.Doc.Kind != "fifth wheel" || c.Doc.Wiring == nil {
		return nil
	}
	if l, _ := c.Link(func(l *rig.Link) bool { return l.DCDC != nil || l.Relay != nil }); l == nil {
		return nil
	}
	o := check.Outcome{Place: "wiring/charge pin", Part: "factory trailer plug", Ways: []string{"take the charge feed out of the plug's box, and insulate it", "isolate it with a switch that is kept open"}}
	switch c.Doc.Wiring.ChargePin {
	case "removed", "isolated", "none":
		o.Verdict, o.Detail = check.Pass, "The charge feed is "+map[string]string{"removed": "removed", "isolated": "isolated", "none": "not there"}[c.Doc.Wiring.ChargePin]+"."
	case "joined":
		o.Verdict = check.Fail
		o.Tries = []check.Cure{{Words: "isolate the pin's charge feed", Edits: []rig.Edit{check.SetWord("wiring/charge pin", "joined", "isolated")}}}
	default:
		o.Verdict = check.Undecided
		o.Measure = []string{"with the trailer unplugged, measure whether the plug's charge pin shows the bank's voltage"}
	}
	return []check.Outcome{o}
}
