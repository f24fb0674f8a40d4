// Package m71 is the room of rule M71.
package m71

import (
	"fmt"
	"math"
	"strings"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M71", Title: "night loads left out", Holds: "night loads are in the file", Worst: check.Warn,
	What: "Whether the file has something that heats, wherever the rig is lived in on cold nights, and something that keeps food cold.",
	Why:  "The blower of a furnace and a refrigerator draw through the night. A plan without them shows a full dawn, and the morning is cold and dark.",
	Except: "Known by kind and by name. Cloudy runs cannot be left out: campwright trip always plays them. People who camp without heat or with ice can " +
		"accept it with that reason.",
	Formula: "blower × share of the night × hours ≤ what the file counts for heat",
	Source:  check.Practice,
	Sure:    "blower 7 to 10 A, a third of a cold night",
	Run:     run,
}

// A usual furnace on a cold night: blower [A], share of the night, hours; and the night from which on people heat [°C]. Common practice, no source.
const (
	blowerA, nightShare, nightH = 8.5, 0.35, 12
	heatsBelowC                 = 8
)

// Words by which things that heat and things that cool go.
var (
	heats = []string{"furnace", "heater", "heat pump", "stove", "fireplace", "boiler"}
	cools = []string{"refrigerator", "fridge", "freezer", "cool box", "cold box", "cooler", "ice"}
)

func run(c check.Case) []check.Outcome {
	if len(c.Doc.Appliances) == 0 {
		return nil
	}
	var list []check.Outcome
	if cold := coldest(c); cold != nil {
		o := check.Outcome{Verdict: check.Pass, Place: "rig", Part: "appliances", Title: "heat of cold nights is counted", Detail: fmt.Sprintf("Nights of %s %s are heated by what is in the file.", c.Say(cold.ColdC, quantity.Temperature), check.At(cold))}
		if !has(c, "furnace", heats) {
			o = missing().Judge().Outcome("rig", "appliances", check.Warn)
			o.Margin = nil
			o.Title = "no heat counted for cold nights"
			o.Detail = fmt.Sprintf("Nights of %s are ordinary %s.", c.Say(cold.ColdC, quantity.Temperature), check.At(cold))
			o.Ways = []string{"add the furnace with its blower", "accept it with the reason: it is not heated"}
		}
		list = append(list, o)
	}
	if !has(c, "refrigerator", cools) {
		list = append(list, check.Outcome{Verdict: check.Note, Place: "rig", Part: "appliances", Title: "no refrigerator among the loads", Detail: "One on propane still draws half an amp day and night."})
	}
	if len(list) == 0 {
		list = append(list, check.Outcome{Verdict: check.Pass, Place: "rig", Part: "appliances", Detail: "No cold nights, and something keeps food cold."})
	}
	return list
}

// coldest returns the site of the coldest ordinary night on which people heat, of those that are lived in; nil when there is none.
func coldest(c check.Case) *system.Site {
	s := c.Coldest(func(s *system.Site) float64 {
		if !s.Lived {
			return math.NaN()
		}
		return s.ColdC
	})
	if s == nil || s.ColdC >= heatsBelowC {
		return nil
	}
	return s
}

// has tells whether an appliance is of a kind or goes by one of some words.
func has(c check.Case, kind string, words []string) bool {
	for i := range c.Doc.Appliances {
		a := &c.Doc.Appliances[i]
		if strings.Contains(a.Kind, kind) && a.Runs != "off" {
			return true
		}
		for _, w := range words {
			if strings.Contains(strings.ToLower(a.Name), w) && a.Kind != "water heater" && !strings.Contains(strings.ToLower(a.Name), "water") {
				return true
			}
		}
	}
	return false
}

// missing is what a usual furnace takes on a cold night against the nothing that the file counts.
func missing() check.Inequality {
	return check.Inequality{
		Formula: "Qnight = Iblow × d × t ≤ Qfile", Name: "missing from every cold night", Kind: quantity.Charge,
		Inputs: []figure.Term{
			check.Number("Iblow", "blower of a usual furnace", quantity.Current, blowerA, check.Practice),
			check.Number("d", "share of a cold night", quantity.Share, nightShare, check.Practice),
			check.Number("t", "night", quantity.Duration, nightH, check.Practice), check.Number("Qfile", "counted in the file", quantity.Charge, 0, "appliances"),
		},
		Source: check.Practice,
	}
}
