// Package m72 is the room of rule M72.
package m72

import (
	"fmt"
	"math"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M72", Title: "storage drains the bank", Holds: "bank lasts the season in storage", Worst: check.Fail,
	What: "What stays on while the rig stands at home with nobody in it and no hookup, less what its arrays bring in the darkest month there, for a " +
		"season of 90 days, against the whole bank.",
	Why: "A quarter of an amp is 6 Ah a day. The bank is dead in weeks, its electronics may not wake again, and a lead-acid one freezes.",
	Except: "A rig that is lived in or plugged in at home. Charging of frozen cells is rule M26: in cold storage the sun may not count. Self-discharge, 1 to " +
		"3 % a month, is left out.",
	Formula:   "(sum of standing draws − sun) × 90 d ≤ the whole bank",
	Source:    check.Practice,
	Sure:      "as good as the draws are known: a clamp on the negative with all off tells them",
	Questions: []string{"What draws with everything off?", "How long does it stand?"},
	Caution:   check.BatteryFault,
	Run:       run,
}

// seasonH is how long a rig stands unseen [h]: 90 days. Common practice, no source.
const seasonH = 90 * 24

// Array factor for what a level array brings in storage; common practice, no source.
const factor, factorLow, factorHigh = 0.70, 0.5, 0.8

func run(c check.Case) []check.Outcome {
	home := c.Home()
	if home == nil || home.Lived || c.Doc.Bank == nil {
		return nil
	}
	o := check.Outcome{Verdict: check.Pass, Place: "home", Part: "storage at home"}
	if home.Plugged() {
		o.Detail = "It is plugged in there."
		return []check.Outcome{o}
	}
	drain, ok := c.Parked("Idrain", "everything that stays on", nil)
	if !ok {
		return nil
	}
	sun := check.Number("Isun", "from the sun", quantity.Current, 0, "no sun there, or no place")
	if d, ok := c.Darkest(home); ok && home.Sky != "roofed" {
		watts := 0.0
		for i := range c.Sys.Arrays {
			watts += c.Sys.Arrays[i].RatedW
		}
		at := func(f float64) float64 { return watts * f * d.SunWh / 1000 / 24 / c.BankV() }
		sun = check.Between("Isun", "from the sun in "+check.Months[d.Month], quantity.Current, at(factor), at(factorLow), at(factorHigh), "climate of the place; array factor by common practice")
	}
	j := lasts(c, drain, sun).Judge()
	o = j.Outcome("home", "storage at home", check.Fail)
	if net := drain.Amps.Figure.Value - sun.Figure.Value; net > 0 {
		o.Detail = fmt.Sprintf("The bank lasts %.0f days. ", math.Floor(j.Limit/net/24))
	}
	if len(drain.Names) > 0 {
		o.Detail += "On: " + figure.List(drain.Names) + "."
	}
	o.Ways = []string{"open the disconnect at the post and tag it", "plug it in, or switch off what stays on"}
	return []check.Outcome{o}
}

// lasts is the inequality of a season.
func lasts(c check.Case, drain check.Drain, sun figure.Term) check.Inequality {
	limit, stored := c.Stored()
	q := check.Inequality{
		Formula: "Qdrain = (Idrain − Isun) × t ≤ " + limit, Name: "drawn in a season", Kind: quantity.Charge,
		Inputs: append([]figure.Term{drain.Amps, sun, check.Number("t", "a season unseen", quantity.Duration, seasonH, check.Practice)}, stored...),
		Hints: map[string]string{
			"Idrain": "clamp the battery's negative with everything off, and read the amps", "Isun": "watch for a week whether the bank stays full in storage", "C": "measure the bank's capacity",
		},
		Source: check.Practice,
	}
	return q
}
