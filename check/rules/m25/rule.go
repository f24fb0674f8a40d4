// Package m25 is the room of rule M25.
package m25

import (
	"fmt"
	"math"
	"strings"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M25", Title: "chargers together exceed the charge limit", Holds: "chargers together stay within the limit", Worst: check.Fail,
	What: "The currents of all chargers that can work at the same time, against the charge limit of the bank: the sun with the engine on the road, " +
		"and the sun with the shore chargers when plugged in or on the generator.",
	Why: "Limits of blocks add up in parallel, but so do chargers. Over the limit the battery's electronics open in the middle of a charge, and " +
		"lights, detectors and the vehicle's electronics see the surge.",
	Except: "Loads are left out: they take part of the current, but not when it matters. Engine and shore do not come together. A lead-acid bank has no " +
		"electronics to open: over its limit it gasses and warms, WARN.",
	Formula:   "sum of the currents ≤ blocks in parallel × charge limit of one",
	Source:    check.Practice,
	Sure:      "the limit is the maker's own rating; the sun is taken at the controllers' limit or the arrays' label",
	Questions: []string{"What is the largest charge current of one block?"},
	Caution:   check.BatteryFault,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	b := c.Doc.Bank
	if b == nil {
		return nil
	}
	fails := check.Fail
	if b.Chemistry != "LFP" {
		fails = check.Warn
	}
	var list []check.Outcome
	for _, set := range c.Coincident() {
		j := within(set, b).Judge()
		o := j.Outcome("bank", "bank", fails)
		o.Title = map[string]string{
			"on the road": "sun and engine over the charge limit", "plugged in": "sun and shore over the charge limit", "in the sun": "controllers over the bank's charge limit",
		}[set.When]
		if o.Verdict == check.Pass {
			o.Title = "chargers " + set.When + " within the limit"
			o.Detail = check.Taken("charge limit of a block", c.Said.Bank.Block.ChargeLimit)
		}
		if o.Verdict >= check.Warn && b.Chemistry != "LFP" {
			o.Consequence = "The bank gasses, warms and ages fast while all of them work."
		}
		o.Ways = []string{"set one charger lower", "another block in parallel, or blocks that take more"}
		if o.Verdict == fails {
			o.Tries = lower(c, set, j)
		}
		list = append(list, o)
	}
	return list
}

// within is the inequality of a set of chargers.
func within(set check.Together, b *rig.Bank) check.Inequality {
	q := check.Inequality{Name: "charge current " + set.When, Kind: quantity.Current, Source: check.Practice, Hints: map[string]string{"Imax": "look up the largest charge current of one block"}}
	var parts []string
	for _, s := range set.Sources {
		parts = append(parts, s.Symbol)
		q.Inputs = append(q.Inputs, s.Amps)
		q.Hints[s.Symbol] = "read the current that " + s.Name + " is set to"
	}
	q.Formula = "Isum = " + strings.Join(parts, " + ") + " ≤ p × Imax"
	q.Inputs = append(q.Inputs, check.Known("p", "blocks in parallel", b.Blocks), check.Known("Imax", "charge limit of one block", b.Block.ChargeLimit))
	return q
}

// lower returns the settings of one charger that would bring a set within the limit, the largest charger first.
func lower(c check.Case, set check.Together, j check.Judged) []check.Cure {
	var list []check.Cure
	for i := len(set.Sources) - 1; i >= 0; i-- {
		s := set.Sources[i]
		to := math.Floor(s.Amps.Figure.Value - (j.Result - j.Limit))
		if s.Amps.Figure.State < figure.About || to < 1 || s.Amps.Figure.Source != s.Path {
			continue
		}
		said := figure.Text(s.Amps.Figure, quantity.AsWritten)
		if v, ok := c.SaidValue(s.Path); ok {
			said = v.Text()
		}
		list = append(list, check.Cure{
			Words: fmt.Sprintf("set %s to %.0f A", s.Name, to),
			Edits: []rig.Edit{{Path: s.Path, Old: said, New: fmt.Sprintf("%.0f A", to)}},
		})
	}
	return list
}
