// Package m19 is the room of rule M19.
package m19

import (
	"fmt"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M19", Title: "lead-acid profile on LFP", Holds: "charging voltages fit LFP cells", Worst: check.Fail,
	What: "The charging and resting voltage that each charger of an LFP bank is set to, for one cell, against the most a cell may see; and whether an equalize " +
		"stage is left on.",
	Why: "Over 3.65 V a cell ages fast, and the battery's electronics open in the middle of a charge, with all the current in the air. An equalize stage " +
		"does so by design, once a month.",
	Except:    "Only LFP banks. What was not told is asked once, for all chargers together. Cells that stand unlike one another reach the limit sooner than their mean.",
	Formula:   "Vset / cells in series ≤ 3.65 V; equalize off",
	Source:    "[BPX] for the end of charge; equalize: " + check.Practice,
	Sure:      "read are the voltages that chargers are set to; the limit is that of the cell's chemistry, and a block's own sheet, which is not read, goes first",
	Questions: []string{"Which charging and resting voltage is each charger set to?", "Is equalize off?"},
	Caution:   check.BatteryFault,
	Run:       run,
}

// Most that a cell may see, and what is usual and safe to set [V]; the second common practice, no source.
const mostV, usualV = 3.65, 3.55

func run(c check.Case) []check.Outcome {
	if c.Doc.Bank == nil || c.Doc.Bank.Chemistry != "LFP" {
		return nil
	}
	var list []check.Outcome
	var places, parts, asks []string
	for _, s := range c.Settings() {
		ask := ""
		switch {
		case !s.Absorption.Given():
			ask = fmt.Sprintf("read back the charging voltage of %s, and see that equalize and temperature compensation are off", s.Name)
		case s.Equalizes != "no" && s.Equalizes != "yes":
			ask = "see that equalize is off at " + s.Name
		}
		if ask != "" {
			places, parts, asks = append(places, s.Path), append(parts, s.Name), append(asks, ask)
		}
		if s.Equalizes == "yes" {
			list = append(list, equalizes(c, s))
		}
		if s.Absorption.Given() || s.Float.Given() {
			list = append(list, voltage(c, s))
		}
	}
	if len(asks) > 0 {
		list = append(list, check.Ask("settings for LFP not told", places, parts, asks))
	}
	return list
}

// equalizes is the finding of a charger whose equalize stage is on.
func equalizes(c check.Case, s check.Setting) check.Outcome {
	return check.Outcome{
		Verdict: check.Fail, Place: s.Path, Part: s.Name, Title: "equalize left on for LFP",
		Consequence: "Once in a while it overcharges on purpose: cells are harmed, or the battery opens while it is charged.",
		Ways:        []string{"switch equalize off", "take a charger with a profile for LFP"},
		Tries:       []check.Cure{{Words: "switch equalize of " + s.Name + " off", Edits: []rig.Edit{check.SetWord(s.Path+"/equalizes", s.Equalizes, "no")}}},
	}
}

// voltage judges the higher of the two voltages a charger is set to.
func voltage(c check.Case, s check.Setting) check.Outcome {
	set, key := s.Absorption, "absorption"
	if s.Float.Given() && (!set.Given() || s.Float.Quantity.Base > set.Quantity.Base) {
		set, key = s.Float, "float"
	}
	o := cell(set, s.Name, c.Cells()).Judge().Outcome(s.Path, s.Name, check.Fail)
	o.Ways = []string{"set 3.5 to 3.6 V for each cell: 14.0 to 14.4 V for four", "take a charger with a profile for LFP"}
	usual := fmt.Sprintf("%.1f V", usualV*c.Cells())
	edits := []rig.Edit{c.SetTo(s.Path+"/"+key, usual)}
	if key == "absorption" && s.Float.Given() && s.Float.Quantity.Base > usualV*c.Cells() {
		edits = append(edits, c.SetTo(s.Path+"/float", fmt.Sprintf("%.1f V", 3.375*c.Cells())))
	}
	o.Tries = []check.Cure{{Words: fmt.Sprintf("set the charging voltage of %s to %s", s.Name, usual), Edits: edits}}
	return o
}

// cell is the inequality of a voltage that a charger is set to.
func cell(set rig.Value, name string, cells float64) check.Inequality {
	return check.Inequality{
		Formula: "Vcell = Vset / n ≤ Vmax", Name: "voltage of one cell", Kind: quantity.Voltage,
		Inputs: []figure.Term{
			check.Known("Vset", "highest voltage that "+name+" is set to", set),
			check.Number("n", "cells in series", quantity.Count, cells, "bank"),
			check.Number("Vmax", "most that a cell may see", quantity.Voltage, mostV, "[BPX]"),
		},
		Hints:  map[string]string{"Vset": "read back the charging voltage of " + name},
		Source: "[BPX]",
	}
}
