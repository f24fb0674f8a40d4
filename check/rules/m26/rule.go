// Package m26 is the room of rule M26.
package m26

import (
	"fmt"
	"math"
	"strings"

	"campwright/battery"
	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M26", Title: "charging with frozen cells", Holds: "cells stay warm enough to charge", Worst: check.Fail,
	What: "The temperature of an LFP bank's bay at every place where something charges it, on an ordinary cold night and at the record low, " +
		"against the temperature below which charging is blocked or must be.",
	Why: "Below freezing, charge plates metal on the cells and ruins them. Where the battery's own electronics block it, nothing charges on cold " +
		"mornings though the sun shines.",
	Except: "Lead-acid takes charge in the cold. A bay inside the warm part of a rig that is lived in is never colder than its room. A heater that " +
		"starts above the limit keeps the bank out of this rule, and costs energy.",
	Formula:   "Tair + Tabove ≥ Tcut",
	Source:    "[LFP-COLD]; that the electronics block is " + check.Practice,
	Sure:      "bay against air within 3 K; a case can read warmer than its cells",
	Questions: []string{"Does the battery or the charger block charging below freezing?", "How much warmer is the bay than the night?"},
	Caution:   check.ColdCells,
	Run:       run,
}

// roomC is the air of a rig that is lived in [°C], as package system takes it for a bank inside.
const roomC = 18

func run(c check.Case) []check.Outcome {
	b := c.Doc.Bank
	if b == nil || b.Chemistry != "LFP" {
		return nil
	}
	var worst, best *check.Outcome // one finding and one pass for all places
	var also []string
	for i := range c.Sites {
		s := &c.Sites[i]
		if math.IsNaN(s.ColdC) || !charges(c, s) {
			continue
		}
		o := judge(c, b, s).AskWord(c.Said.Bank.Bay, "look where the bank lives: inside the warm part, in an outside bay, or in an insulated one")
		if o.Verdict == check.Pass { // one pass for all places: the tightest
			if best == nil || coldness(o) < coldness(*best) {
				best = &o
			}
			continue
		}
		also = append(also, strings.TrimPrefix(check.At(s), "at "))
		if worst == nil || o.Verdict > worst.Verdict || o.Verdict == worst.Verdict && coldness(o) < coldness(*worst) {
			worst = &o
		}
	}
	switch {
	case worst != nil:
		if len(also) > 1 {
			worst.Detail = strings.TrimSpace(worst.Detail + " Cold at " + figure.List(also) + ".")
		}
		return []check.Outcome{*worst}
	case best != nil:
		return []check.Outcome{*best}
	}
	return nil
}

// coldness is the temperature that an outcome is about [°C].
func coldness(o check.Outcome) float64 {
	t, _ := o.Figure("Tbay")
	return t
}

// charges tells whether something charges the bank at a site.
func charges(c check.Case, s *system.Site) bool {
	return len(c.Doc.Arrays) > 0 && s.Sky != "roofed" || s.Plugged() && c.Doc.Shore != nil || s.Drives || s.RunH > 0
}

func judge(c check.Case, b *rig.Bank, s *system.Site) check.Outcome {
	part := "bank " + check.At(s)
	worst := bay(b, s, s.RecordLowC, "record low "+check.At(s)).Judge()
	said := c.Said.Bank.Block.ColdCharge
	if said.Given() && said.Quantity.Base < 0 { // what the cells bear decides, not what lets the charge through
		worst = freezing(b, s).Judge()
	}
	if b.Heater.Given() && b.Heater.Quantity.Base > 0 && b.HeatsBelow.Quantity.Base >= b.Block.ColdCharge.Quantity.Base {
		o := check.Outcome{Verdict: check.Pass, Place: "bank", Part: part, Title: "heater keeps the cells above freezing", Numbers: worst.Working}
		o.Detail = fmt.Sprintf("Its %s heater starts at %s; campwright trip counts what it takes.", c.Say(b.Heater.Quantity.Base, quantity.Power), c.Say(b.HeatsBelow.Quantity.Base, quantity.Temperature))
		return o
	}
	cold := bay(b, s, s.ColdC, "ordinary cold night "+check.At(s)).Judge()
	switch {
	case worst.HoldsBad && !worst.Unknown:
		return strip(worst.Outcome("bank", part, check.Fail))
	case said.Given() && said.Quantity.Base < 0: // charging is let through below freezing
		o := strip(worst.Outcome("bank", part, check.Fail))
		o.Consequence = "Nothing stops a charge that plates the cells: each cold morning takes capacity that does not come back."
		o.Ways = []string{"set the battery or the charger to block charging below freezing", "an insulated, heated bay, or the bank inside"}
		o.Tries = []check.Cure{{Words: "block charging below freezing", Edits: []rig.Edit{check.Set("bank/block/charges above", said, "0 C")}}, inside(c)}
		return o
	case !said.Given():
		o := strip(worst.Outcome("bank", part, check.Fail))
		o.Verdict, o.Title = check.Undecided, "not known what stops cold charging"
		o.Measure = []string{"look up below which cell temperature the battery or the charger blocks charging; never find out by freezing it"}
		return o
	}
	o := strip(cold.Outcome("bank", part, check.Warn))
	if o.Verdict == check.Pass { // only the record low reaches it
		o = strip(worst.Outcome("bank", part, check.Note))
		o.Verdict, o.Title, o.Measure = check.Note, "record cold would block charging", nil
		o.Detail = "An ordinary cold night does not."
		return o
	}
	if !s.Lived { // nobody waits for the charge, and nothing harms the cells
		o.Verdict, o.Title = check.Note, "storage too cold to charge"
		return o
	}
	o.Title = "cold mornings without charge"
	o.Consequence = "The battery refuses charge until it has warmed: morning sun and the first hours of driving are lost."
	o.Detail = warmUp(c, b, s, cold)
	o.Ways = []string{"insulate the bay and heat it from the vehicle or the late sun", "move the bank inside the warm part"}
	o.Tries = []check.Cure{inside(c)}
	return o
}

// strip takes the margin off: a share of a temperature means nothing. What is to spare is told in kelvin.
func strip(o check.Outcome) check.Outcome {
	o.Margin = nil
	if v, ok := o.Figure("Tbay"); ok && o.Verdict == check.Pass {
		if cut, ok := o.Figure("Tcut"); ok {
			o.Detail = fmt.Sprintf("%.0f K to spare.", v-cut)
		}
	}
	return o
}

// bay is the inequality of the bank's bay at a site.
func bay(b *rig.Bank, s *system.Site, airC float64, air string) check.Inequality {
	q := check.Inequality{
		Formula: "Tbay = Tair + Tabove ≥ Tcut", Name: "cells in their bay", Kind: quantity.Temperature,
		Inputs: []figure.Term{
			check.Number("Tair", air, quantity.Temperature, airC, s.LowBasis), check.Known("Tabove", "bay above the air outside", b.BayAbove),
			check.Known("Tcut", "charging blocked below", b.Block.ColdCharge),
		},
		Hints:  map[string]string{"Tabove": "lay a thermometer in the bay for some cold nights", "Tcut": "look up below which cell temperature the battery blocks charging"},
		Source: Source,
	}
	switch {
	case b.Bay == "inside" && s.Lived:
		q.Formula = "Tbay = max(Tair, Troom) ≥ Tcut"
		q.Inputs[1] = check.Number("Troom", "room of a rig that is lived in", quantity.Temperature, roomC, check.Practice)
	case b.Bay == "inside":
		q.Formula = "Tbay = Tair ≥ Tcut"
		q.Inputs = append(q.Inputs[:1], q.Inputs[2])
	}
	return q
}

// Source is where the limit comes from.
const Source = "[LFP-COLD]"

// freezing is the inequality against freezing, for a bank that is let charge below it.
func freezing(b *rig.Bank, s *system.Site) check.Inequality {
	q := bay(b, s, s.RecordLowC, "record low "+check.At(s))
	q.Inputs[len(q.Inputs)-1] = check.Number("Tcut", "freezing", quantity.Temperature, 0, Source)
	return q
}

// Warming: specific heat of a block [kJ/(kg·K)] and the temperature at which it charges freely [°C]. Common practice, no source.
const heatKJ, freelyC = 1.0, 5

// warmUp tells what warming the bank on a cold morning takes.
func warmUp(c check.Case, b *rig.Bank, s *system.Site, cold check.Judged) string {
	kg, _ := system.BankKg(b)
	from := cold.Result
	th, err := battery.NewThermal(battery.ThermalParams{MassKg: kg, KJPerKgK: heatKJ})
	if err != nil || from >= freelyC {
		return ""
	}
	return fmt.Sprintf("Warming %s of bank from %s to %s takes %s and the losses on the way.", c.Say(kg, quantity.Mass), c.Say(from, quantity.Temperature),
		c.Say(freelyC, quantity.Temperature), c.Say(th.WarmWh(from, freelyC), quantity.Energy))
}

// inside is the cure of moving the bank inside.
func inside(c check.Case) check.Cure {
	cure := check.Cure{Words: "move the bank inside the warm part", Edits: []rig.Edit{check.SetWord("bank/bay", c.Said.Bank.Bay, "inside")}}
	if above := c.Said.Bank.BayAbove; above.Text() != "" {
		cure.Edits = append(cure.Edits, rig.Edit{Path: "bank/bay above outside", Old: above.Text()})
	}
	return cure
}
