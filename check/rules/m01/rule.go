// Package m01 is the room of rule M01.
package m01

import (
	"fmt"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M01", Title: "string over the controller's voltage in cold", Holds: "string stays under the controller's limit", Worst: check.Stop,
	What: "The open-circuit voltage of each string at first light of the coldest morning, against the two ceilings of its controller: the " +
		"voltage it survives, and the lower one up to which it still tracks.",
	Why: "The voltage of a module rises as its cells cool. Over the limit the controller's input dies, often at first light with the first string " +
		"voltage of a clear cold day.",
	Except: "Light is taken as full sun, which is the upper end. A string that is over only at the record low, and not in a middling winter, is rule " +
		"M02. A pass leaves more than the 3 % by which a module's voltage may lie above its label.",
	Formula:   "n × Voc × (1 + β × (Tlow − 25)) ≤ Vmax, at the low of a middling year; then at the record low with 3 % to spare",
	Source:    "[NEC] 690.7(A)",
	Sure:      "standard seen; voltages of crystalline modules follow it within 1 %",
	Questions: []string{"Where does the rig go, and where does it winter?", "What is the module's Voc coefficient?"},
	Caution:   check.SunLive,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	site := c.Coldest(func(s *system.Site) float64 { return s.AnnualLowC })
	record := c.Coldest(func(s *system.Site) float64 { return s.RecordLowC })
	if site == nil || record == nil {
		return unplaced(c)
	}
	var list []check.Outcome
	records := c.ColdStrings(record.RecordLowC, "record low "+check.At(record), check.VocTolerance)
	for i, s := range c.ColdStrings(site.AnnualLowC, "low of a middling year "+check.At(site), 0) {
		o := s.Inequality().Judge().Outcome(check.ArrayPath(s.Array), check.ArrayPart(s.Array), check.Stop)
		if o.Verdict == check.Pass { // it survives a middling winter: what is left is looked at in the worst
			j := records[i].Inequality().Judge()
			if !j.Holds {
				continue // M02 tells it
			}
			if o = j.Outcome(check.ArrayPath(s.Array), check.ArrayPart(s.Array), check.Fail); o.Verdict == check.Warn {
				o.Title = "string within tolerance of the controller's limit"
				o.Consequence = fmt.Sprintf("A module may stand %.0f %% above its label; then the controller's input dies on the coldest morning.", 100*check.VocTolerance)
			}
		}
		o.Ways = []string{"fewer modules in series, more strings in parallel", "a controller that survives more volts"}
		o.Tries = c.Shorter(s.Array)
		list = append(list, o)
		if t, ok := tracking(c, s); ok && o.Verdict != check.Stop {
			list = append(list, t)
		}
	}
	return list
}

// tracking judges the second ceiling, where the controller has one.
func tracking(c check.Case, s check.ColdString) (check.Outcome, bool) {
	k := c.SaidController(s.Array.Controller)
	if k == nil || !k.Tracks.Given() || !k.Survives.Given() || k.Tracks.Quantity.Base >= k.Survives.Quantity.Base {
		return check.Outcome{}, false
	}
	s.Ceiling, s.Limit = k.Tracks, "highest array voltage that "+k.Name+" tracks"
	o := s.Inequality().Judge().Outcome(check.ArrayPath(s.Array), check.ArrayPart(s.Array), check.Warn)
	if o.Verdict == check.Pass {
		return check.Outcome{}, false // the first ceiling says all that a pass has to say
	}
	o.Title = "string over the tracking limit when cold"
	o.Consequence = "The controller survives it and charges only after the modules have warmed."
	o.Ways = []string{"fewer modules in series, more strings in parallel", "live with late mornings in the coldest weeks"}
	o.Tries = c.Shorter(s.Array)
	return o, true
}

// unplaced asks where the rig goes, once for all arrays, unless no winter on earth where people drive could matter.
func unplaced(c check.Case) []check.Outcome {
	var list []check.Outcome
	for _, s := range c.ColdStrings(anyWinterC, "colder than any winter on the road", check.VocTolerance) {
		o := s.Inequality().Judge().Outcome(check.ArrayPath(s.Array), check.ArrayPart(s.Array), check.Fail)
		if o.Verdict != check.Pass {
			o.Verdict, o.Title = check.Undecided, "cold voltage cannot be judged without places"
			o.Measure = append([]string{"say where the rig goes and where it winters: a trip, and a home"}, o.Measure...)
			o.Numbers = figure.Working{Formula: s.Inequality().Formula, Terms: known(s)}
			o.Margin = nil
		}
		list = append(list, o)
	}
	return list
}

// anyWinterC is colder than all but the coldest nights of any place that rigs winter in [°C]: the last row of NEC table 690.7(A).
const anyWinterC = -40

// known returns the terms that are known without a place.
func known(s check.ColdString) []figure.Term {
	return []figure.Term{
		check.Known("n", "modules in series", s.Array.InSeries), check.Known("Voc", "Voc of "+s.Module.Name, s.Module.Voc),
		check.Known("β", "Voc coefficient of "+s.Module.Name, system.VocPerK(s.Module)), check.Known("Vmax", s.Limit, s.Ceiling),
		check.Computed("Tlow", "lowest air, not known", quantity.Temperature, anyWinterC, "not known"),
	}
}
