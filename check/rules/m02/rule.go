// Package m02 is the room of rule M02.
package m02

import (
	"fmt"
	"strings"

	"campwright/check"
	"campwright/figure"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M02", Title: "over the limit at the record low", Holds: "record lows of all places entered", Worst: check.Fail,
	What: "The open-circuit voltage of each string at the record low of the coldest place, on the route or where the rig winters, against the " +
		"voltage its controller survives.",
	Why: "An average winter is not the worst one. The cold that comes once in decades comes at home in storage too, with the modules joined, and " +
		"the controller dies then.",
	Except: "Where the string is over in a middling winter already, rule M01 says STOP and this one is silent. A record low that the file gives for a " +
		"stop is taken before the climatology's.",
	Formula:   "n × Voc × (1 + β × (Trecord − 25)) ≤ Vmax, Trecord the lowest of all places",
	Source:    "[NEC] 690.7(A)",
	Sure:      "standard seen; the record low of the climatology lies below that of most stations",
	Questions: []string{"Where does the rig winter?"},
	Caution:   check.SunLive,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	record := c.Coldest(func(s *system.Site) float64 { return s.RecordLowC })
	annual := c.Coldest(func(s *system.Site) float64 { return s.AnnualLowC })
	if record == nil || annual == nil {
		return nil // M01 asks for the places
	}
	var list []check.Outcome
	var pass *check.Outcome // one for all arrays: the tightest
	middling := c.ColdStrings(annual.AnnualLowC, "low of a middling year "+check.At(annual), 0)
	anywhere := c.ColdStrings(anyWinterC, "colder than any winter on the road", 0)
	for i, s := range c.ColdStrings(record.RecordLowC, "record low "+check.At(record), 0) {
		if !middling[i].Inequality().Judge().Holds {
			continue // M01 stops it
		}
		o := s.Inequality().Judge().Outcome(check.ArrayPath(s.Array), check.ArrayPart(s.Array), check.Fail)
		if o.Verdict == check.Pass {
			o.Detail = fmt.Sprintf("%s entered; the coldest is %s: %s.", figure.Plural(len(c.Sites), "place", ""), strings.TrimPrefix(check.At(record), "at "), record.LowBasis)
			if home := c.Home(); (home == nil || !home.HasClimate()) && !anywhere[i].Inequality().Judge().HoldsBad {
				o.Verdict, o.Title = check.Undecided, "record low of winter storage not known"
				o.Measure = []string{"say where the rig winters, as home"}
			}
			if o.Verdict == check.Pass {
				if pass == nil || *o.Margin < *pass.Margin {
					pass = &o
				}
				continue
			}
		}
		o.Ways = []string{"fewer modules in series, more strings in parallel", "open the array's disconnect before the cold, and tag it"}
		o.Tries = c.Shorter(s.Array)
		list = append(list, o)
	}
	if pass != nil && len(list) == 0 {
		list = append(list, *pass)
	}
	return list
}

// anyWinterC is colder than all but the coldest nights of any place that rigs winter in [°C].
const anyWinterC = -40
