// Package m62 is the room of rule M62.
package m62

import (
	"fmt"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M62", Title: "charger sleeps while the bank drains", Holds: "charger wakes before the bank is low", Worst: check.Warn,
	What: "The bank voltage at which a shore charger at rest starts again, against the voltage at which an LFP bank rests with three tenths left.",
	Why: "LFP rests above 13 V until it is nearly empty. A charger that waits for 12.8 V lets the bank drain for days though it is plugged in, and the " +
		"rig leaves camp empty.",
	Except:    "Lead-acid shows its charge in its voltage. A float voltage that the charger really holds carries small loads meanwhile.",
	Formula:   "Vrestart ≥ rest voltage at 30 %",
	Source:    "[BPX] for the rest voltage; restart: " + check.Practice,
	Sure:      "rest voltage within 0.1 V; hysteresis blurs it by as much",
	Questions: []string{"At which voltage does the charger start again?"},
	Run:       run,
}

// wanted is the charge below which a plugged-in bank should not fall. Common practice, no source.
const wanted = 0.3

func run(c check.Case) []check.Outcome {
	if c.Sys == nil || c.Doc.Bank == nil || c.Doc.Bank.Chemistry != "LFP" || c.Doc.Shore == nil || len(c.Services()) == 0 {
		return nil
	}
	var list []check.Outcome
	for i := range c.Doc.Shore.Chargers {
		k := &c.Doc.Shore.Chargers[i]
		o := wakes(c, k, wanted).Judge().Outcome("shore/chargers/"+k.Name, "charger "+k.Name, check.Warn)
		o.Detail = fmt.Sprintf("At rest the bank reaches that voltage with %.0f %% left.", 100*c.Sys.Bank.Model.SoCAtRest(k.Restart.Quantity.Base))
		o.Ways = []string{"set the restart voltage higher", "force a charge by hand the day before leaving, or by a timer"}
		rest := c.Sys.Bank.Model.Voc(wanted)
		o.Tries = []check.Cure{{Words: fmt.Sprintf("set the restart of %s to %.1f V", k.Name, rest+0.15), Edits: []rig.Edit{check.Set("shore/chargers/"+k.Name+"/restarts at", c.Said.Shore.Chargers[i].Restart, fmt.Sprintf("%.1f V", rest+0.15))}}}
		list = append(list, o)
	}
	return list
}

// wakes is the inequality of a charger for a wanted share of charge.
func wakes(c check.Case, k *rig.Charger, share float64) check.Inequality {
	return check.Inequality{
		Formula: "Vwake = Vrestart ≥ Vrest", Name: "bank voltage that wakes it", Kind: quantity.Voltage,
		Inputs: []figure.Term{
			check.Known("Vrestart", "restart voltage of "+k.Name, k.Restart),
			check.Computed("Vrest", fmt.Sprintf("rest voltage of the bank at %.0f %%", 100*share), quantity.Voltage, c.Sys.Bank.Model.Voc(share), "[BPX]"),
		},
		Hints:  map[string]string{"Vrestart": "look up in the manual of " + k.Name + " at which voltage it starts again"},
		Source: "[BPX]",
	}
}
