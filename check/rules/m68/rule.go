// Package m68 is the room of rule M68.
package m68

import (
	"campwright/check"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M68", Title: "alternator's only battery can open", Holds: "a battery that stays loads the alternator", Worst: check.Stop,
	What: "What stays joined to the alternator when a battery with electronics of its own opens: the vehicle's own battery, a lead-acid bank that is joined to it by cable alone, or a surge " +
		"protector. Behind a relay a bank does not count: the relay can open.",
	Why: "A battery that lets go while it is charged leaves the alternator's current nowhere to go. The voltage leaps for a fraction of a second to many times its value, and " +
		"the vehicle's electronics die of it.",
	Except: "Where a dc-dc unit stands between and nothing is said of the vehicle's battery, the vehicle is taken to have the one it was built with, and nothing is " +
		"asked. A surge protector passes with a note of its own: it is a second line.",
	Formula:   "a battery that cannot open, or a surge protector, at the alternator",
	Source:    check.Practice,
	Sure:      "load dump is textbook; how high it leaps hangs on the alternator",
	Questions: []string{"Which battery is at the alternator itself?", "Is there a surge protector?"},
	Caution:   check.AlternatorOn,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	v := c.Doc.Vehicle
	if v == nil || len(v.Alternators) == 0 {
		return nil
	}
	relay, _ := c.Link(func(l *rig.Link) bool { return l.Relay != nil })
	unit, _, _ := c.Unit()
	tied := relay != nil || unit == nil && len(c.Doc.ChargeLine) > 0 // nothing between alternator and bank but cable
	lfp := c.Doc.Bank != nil && c.Doc.Bank.Chemistry == "LFP"
	o := check.Outcome{Place: "vehicle", Part: "alternator"}
	stays := v.Battery == "lead-acid" || v.Battery == "AGM"
	switch {
	case stays:
		o.Verdict, o.Detail = check.Pass, "The vehicle's own "+v.Battery+" battery stays joined to it."
	case v.Battery == "none" || v.Battery == "LFP":
		if tied && relay == nil && c.Doc.Bank != nil && !lfp {
			o.Verdict, o.Detail = check.Pass, "The house bank is lead-acid, and nothing opens between it and the alternator."
			break
		}
		o.Detail = "The vehicle has no battery of its own."
		if v.Battery == "LFP" {
			o.Detail = "The vehicle's own battery is LFP, with electronics that can open."
		}
		o = bare(v, o)
	case tied && lfp:
		o.Verdict, o.Title = check.Undecided, "not told which battery stays"
		o.Measure = []string{"look which battery is at the alternator itself: lead-acid, AGM, LFP or none"}
		o.Detail = "The bank can open while the alternator charges it."
		if v.Surge == "yes" {
			o = bare(v, o)
		}
	default:
		return nil
	}
	o.Ways = []string{"keep a lead-acid battery at the alternator", "charge through a dc-dc unit", "a surge protector at the alternator, rated for its whole current"}
	if o.Verdict == check.Stop {
		o.Tries = []check.Cure{
			{Words: "put a lead-acid battery at the alternator", Edits: []rig.Edit{check.SetWord("vehicle/battery", v.Battery, "lead-acid")}},
			{Words: "put a surge protector at the alternator", Edits: []rig.Edit{check.SetWord("vehicle/surge protector", v.Surge, "yes")}},
		}
	}
	return []check.Outcome{o}
}

// bare judges an alternator without a battery that stays. A protector that is not spoken of is taken as not there.
func bare(v *rig.Vehicle, o check.Outcome) check.Outcome {
	switch v.Surge {
	case "yes":
		o.Verdict, o.Title = check.Note, "surge protector is all that stays"
		o.Measure = nil
	case "unknown":
		o.Verdict, o.Title = check.Undecided, "surge protector not known"
		o.Measure = []string{"look for a surge protector at the alternator"}
	default:
		o.Verdict = check.Stop
	}
	return o
}
