// Package m73 is the room of rule M73.
package m73

import (
	"fmt"
	"math"
	"strings"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M73", Title: "loads stay on behind the disconnect", Holds: "what stays on spares the bank", Worst: check.Warn,
	What: "The detectors, memories and boards that a rig's disconnect usually leaves on: what they draw in 120 days, against the whole bank.",
	Why: "A switch that says OFF leaves detectors alive, on purpose. What they draw is little, and it does not stop: the bank is empty after a winter in " +
		"which everything was off.",
	Except:  "Detectors ahead of the main switch are meant to be there: the rule lists them and is no reason to cut them. A rig that is plugged in or lived in.",
	Formula: "sum of what stays on × 120 d ≤ the whole bank",
	Source:  check.Practice,
	Sure:    "known by name; a clamp with the disconnect open tells the truth",
	Run:     run,
}

// winterH is how long a rig stands with its disconnect open [h]: 120 days. Common practice, no source.
const winterH = 120 * 24

// staysOn are words by which things go that a disconnect usually leaves on.
var staysOn = []string{"detector", "alarm", "memory", "clock", "monitor", "tracker", "sensor", "security"}

func run(c check.Case) []check.Outcome {
	if home := c.Home(); home != nil && (home.Lived || home.Plugged()) || c.Doc.Bank == nil {
		return nil
	}
	drain, ok := c.Parked("Ikept", "what a disconnect leaves on", func(load string) bool {
		load = strings.ToLower(load)
		for _, w := range staysOn {
			if strings.Contains(load, w) {
				return true
			}
		}
		return false
	})
	if !ok || len(drain.Names) == 0 {
		return nil
	}
	limit, stored := c.Stored()
	q := check.Inequality{
		Formula: "Qkept = Ikept × t ≤ " + limit, Name: "drawn with the disconnect open", Kind: quantity.Charge,
		Inputs: append([]figure.Term{drain.Amps, check.Number("t", "a winter", quantity.Duration, winterH, check.Practice)}, stored...),
		Hints:  map[string]string{"Ikept": "open the disconnect, clamp the battery's negative, and read the amps", "C": "measure the bank's capacity"},
		Source: check.Practice,
	}
	j := q.Judge()
	o := j.Outcome("bank", "bank in storage", check.Warn)
	o.Detail = fmt.Sprintf("They empty it in %.0f days: %s.", math.Floor(j.Limit/drain.Amps.Figure.Value/24), figure.List(drain.Names))
	o.Ways = []string{"disconnect at the post in storage, and tag what is then dead", "charge the bank every other month"}
	return []check.Outcome{o}
}
