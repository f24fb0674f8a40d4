// Package m16 is the room of rule M16.
package m16

import (
	"fmt"
	"math"

	"campwright/check"
	"campwright/convert"
	"campwright/figure"
	"campwright/quantity"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M16", Title: "sun of the month does not carry", Holds: "sun of the month carries the stay", Worst: check.Fail,
	What: "At every stop without a hookup: the light of its darkest month on the arrays as they lie, against what the rig uses on an ordinary day " +
		"of its coldest month, with what the bank, the engine and the generator add over the stay.",
	Why: "Five sun hours are a summer's figure. A flat array in December gets two or three, so a plan made with five promises twice the truth, and " +
		"the bank runs down a little more every day.",
	Except: "A means for the month, without clouds in a row or heat: campwright trip plays the stay in many weathers. Light is that of the month's mean, " +
		"through the trees named. A roofed site gets none.",
	Formula:   "W × F × H + Eother ≥ Euse − Ebank / nights",
	Source:    source,
	Sure:      "the month's light within 10 %, the array factor 0.68 to 0.80",
	Questions: []string{"When is the stay, and where?"},
	Run:       run,
}

const source = "[DUFFIE-BECKMAN] eq. 2.19.1 for tilted arrays; array factor: " + check.Practice

// The array factor: what reaches the bank of an array's label power times sun hours, all losses in it. And the sun hours that plans are wrongly
// made with. Common practice, no source.
const (
	factor, factorLow, factorHigh = 0.75, 0.68, 0.80
	promised                      = 5 // [h]
)

func run(c check.Case) []check.Outcome {
	if c.Sys == nil || len(c.Sys.Arrays) == 0 {
		return nil
	}
	var list []check.Outcome
	for i := range c.Sites {
		s := &c.Sites[i]
		if s.Home || s.Plugged() || s.Nights < 1 || !s.HasClimate() {
			continue
		}
		dark, ok := c.Darkest(s)
		cold, also := c.DayOf(s)
		if !ok || !also {
			continue
		}
		o := judge(c, s, dark, cold)
		for k := range c.Said.Trip {
			if fmt.Sprintf("trip/%d", k+1) == s.Path {
				o = o.AskWord(c.Said.Trip[k].Site, "find out how the sky is there: open, under trees, or shaded")
			}
		}
		list = append(list, o)
	}
	return list
}

func judge(c check.Case, s *system.Site, dark, cold check.Day) check.Outcome {
	watts := 0.0
	for i := range c.Sys.Arrays {
		watts += c.Sys.Arrays[i].RatedW
	}
	usable := math.Max(0, c.Sys.Bank.StartSoC-c.Sys.Floor) * c.Sys.Bank.Model.Energy(1)
	j := carries(carried{
		watts: watts, hours: dark.SunWh / 1000, other: other(c, s), use: cold.Budget.TotalWh, bank: usable, nights: s.Nights,
		spread: s.Climate.LightSpread + s.Climate.MonthSpread, month: check.Months[dark.Month],
	}).Judge()
	o := j.Outcome(s.Path, "stop "+s.Name, check.Fail)
	o.Detail = fmt.Sprintf("Five sun hours would promise %s a day; %s in %s gives %.1f.", wh(watts*factor*promised), s.Name, check.Months[dark.Month], dark.SunWh/1000)
	if o.Verdict == check.Undecided {
		o.Measure = []string{"run campwright trip: it plays the stay in many weathers and tells the chance"}
	}
	o.Ways = []string{"use less, or switch loads to propane: campwright trip --advise names the switches", "run engine or generator there, tilt the array, or stay fewer nights"}
	return o
}

// carried is a stay by the sun.
type carried struct {
	watts, hours, other, use, bank float64
	nights                         int
	spread                         float64 // of the light, as a share
	month                          string
}

// carries is the inequality of a stay.
func carries(x carried) check.Inequality {
	sunHours := check.Between("H", "sun hours on the arrays in "+x.month, quantity.Duration, x.hours, x.hours*(1-x.spread), x.hours*(1+x.spread), "climate of the place")
	return check.Inequality{
		Formula: "Eday = W × F × H + Eother ≥ Euse − Ebank / N", Name: "charge of an ordinary day", Kind: quantity.Energy,
		Inputs: []figure.Term{
			check.Number("W", "label power of all arrays", quantity.Power, x.watts, "arrays"),
			check.Between("F", "array factor", quantity.Share, factor, factorLow, factorHigh, check.Practice), sunHours,
			check.Computed("Eother", "from engine and generator, a day", quantity.Energy, x.other, "trip"),
			check.Computed("Euse", "what the rig uses in a day", quantity.Energy, x.use, "appliances at the month's mean temperature"),
			check.Computed("Ebank", "what the bank holds above the reserve", quantity.Energy, x.bank, "bank"),
			check.Number("N", "nights", quantity.Count, float64(max(1, x.nights)), "trip"),
		},
		Source: source,
	}
}

// other returns what engine and generator put into the bank on an ordinary day of a stop [Wh].
func other(c check.Case, s *system.Site) float64 {
	v := c.ChargingV()
	sup := &c.Sys.Supply
	cruise, _ := sup.EngineW(convert.Cruising, v)
	idle, _ := sup.EngineW(convert.Idling, v)
	wh := s.IdleH*idle + s.DriveH*cruise/float64(max(1, s.Nights))
	if sup.Generator != nil {
		wh += s.RunH * sup.MostChargeW(v)
	}
	return wh
}

func wh(x float64) string {
	return quantity.Format(quantity.Quantity{Base: x, Kind: quantity.Energy}, quantity.Metric)
}
