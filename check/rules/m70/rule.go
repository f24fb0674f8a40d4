// Package m70 is the room of rule M70.
package m70

import (
	"fmt"
	"math"

	"campwright/battery"
	"campwright/check"
	"campwright/figure"
	"campwright/load"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M70", Title: "lead-acid counted at its full label", Holds: "plan spares half of the lead-acid", Worst: check.Fail,
	What: "What the plan draws out of a lead-acid bank, down to its reserve, against half of what the bank gives at the current of the largest thing that " +
		"runs for half an hour or more.",
	Why: "The label of a lead-acid block holds for twenty hours. Drawn faster it gives less, and drawn below half it wears out in a season: half the nights " +
		"that were counted on.",
	Except:  "LFP gives its label at these rates. Below half of the label and above half of what the rate leaves it is a warning.",
	Formula: "C × (1 − reserve) ≤ 50 % × I × t(I)",
	Source:  "[PEUKERT]; half: " + check.Practice,
	Sure:    "the exponent of a block is good to 5 %",
	Run:     run,
}

// Share of a lead-acid bank that is spared, and how long a thing must run in a day to set the rate [h]. Common practice, no source.
const spared, halfHour = 0.5, 0.5

func run(c check.Case) []check.Outcome {
	b := c.Doc.Bank
	if b == nil || b.Chemistry == "LFP" || !b.Block.Capacity.Stands() {
		return nil
	}
	amps, what := heaviest(c)
	j := plan(c, amps, what).Judge()
	fails := check.Warn
	if c.Doc.Aims.Floor.Quantity.Base < spared {
		fails = check.Fail
	}
	o := j.Outcome("bank", "bank", fails)
	if o.Verdict == check.Warn {
		o.Title = "rate leaves less than the plan"
	}
	o.Detail = fmt.Sprintf("At %s for %s it gives %s, half of it %s.", check.Say(amps, quantity.Current), what, check.Say(j.Limit/spared, quantity.Charge), check.Say(j.Limit, quantity.Charge))
	o.Ways = []string{"set the reserve at half, and plan with what is left", "spread the heavy load, or a larger bank"}
	said := rig.Value{}
	if c.Said.Aims != nil {
		said = c.Said.Aims.Floor
	}
	o.Tries = []check.Cure{{Words: "set the reserve at 50 %", Edits: []rig.Edit{check.Set("aims/floor", said, "50 %")}}}
	return []check.Outcome{o}
}

// heaviest returns the largest current from the bank of a single thing that runs for half an hour or more in a day, at least a twentieth of the
// capacity in an hour, for which the label holds.
func heaviest(c check.Case) (amps float64, what string) {
	amps, what = c.BankAh("C").Figure.Value/20, "the rate of its label"
	for i := range c.Doc.Appliances {
		a := &c.Doc.Appliances[i]
		rate := a.Power.Rate
		if a.Runs == "ac" {
			rate = check.Element(a).Rate
		}
		if a.Runs != "ac" && a.Runs != "dc" || !rate.Stands() || runs(a) < halfHour {
			continue
		}
		x := rate.Quantity.Base
		switch {
		case a.Runs == "ac":
			x = load.StartDCA(check.Watts("P", "", rate, c.OutletV()).Figure.Value, c.InverterEfficiency().Quantity.Base, c.BankV())
		case rate.Quantity.Kind == quantity.Power:
			x /= c.BankV()
		}
		if x > amps {
			amps, what = x, a.Name
		}
	}
	return amps, what
}

// runs returns for how long a thing runs in a day [h].
func runs(a *rig.Appliance) float64 {
	if a.PerDay.Stands() {
		return a.PerDay.Quantity.Base
	}
	h := 24.0
	if a.On.Word != "always" {
		h = float64(a.On.Minutes()) / 60
	}
	return h * math.Max(0, a.Power.Duty.Quantity.Base)
}

// plan is the inequality of a plan.
func plan(c check.Case, amps float64, what string) check.Inequality {
	b := c.Doc.Bank
	cap := c.BankAh("C")
	floor := check.Known("reserve", "charge kept back", c.Doc.Aims.Floor)
	gives := func(k float64) float64 {
		ah := cap.Figure.Value
		return math.Min(ah, amps*battery.Peukert(ah, b.Block.RatedHours.Quantity.Base, k, amps))
	}
	e := check.Known("k", "rate exponent", b.Block.Exponent)
	rate := check.Between("Qrate", "what it gives at the rate of "+what, quantity.Charge, gives(e.Figure.Value), gives(e.Figure.High), gives(e.Figure.Low), "[PEUKERT]")
	if e.Figure.Low == e.Figure.High {
		rate.Figure.State = figure.Plain
	}
	return check.Inequality{
		Formula: "Qplan = C × (1 − reserve) ≤ f × Qrate", Name: "what the plan draws", Kind: quantity.Charge,
		Inputs: []figure.Term{cap, floor, check.Number("f", "share of lead-acid that can be used", quantity.Share, spared, check.Practice), rate},
		Hints:  map[string]string{"Qrate": "draw " + what + " from full and count the hours to half", "C": "measure the bank's capacity"},
		Source: "[PEUKERT]",
	}
}
