// Package n05 is the room of rule N05.
package n05

import (
	"fmt"

	"campwright/check"
	"campwright/convert"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "N05", Title: "combined charger counted at both ratings", Holds: "combined charger gives both in full", Worst: check.Warn,
	What: "A unit that charges from sun and vehicle in one case: what both sides could put out at a clear noon on the road, against what the case lets " +
		"through together by its sharing rule.",
	Why:       "One output limit serves both. A plan that adds the two ratings counts charge on every driving day that never comes.",
	Except:    "Two units in one case whose outputs add. At night and at rest the vehicle or the sun has the unit to itself.",
	Formula:   "Psun + Pvehicle ≤ what the case lets through",
	Source:    check.Practice,
	Sure:      "the sharing rule stands in the unit's manual",
	Questions: []string{"How does the unit divide its output: half each, solar first, or both in full?"},
	Run:       run,
}

// What a level array gives of its label at a clear noon, and the hours around noon for which it counts. Common practice, no source.
const noon, hours = 0.8 * 0.96, 4

func run(c check.Case) []check.Outcome {
	unit, said, path := c.Unit()
	if unit == nil || unit.Controller == "" || c.Doc.Vehicle == nil || c.Sys == nil || c.Sys.Supply.Unit == nil {
		return nil
	}
	o := check.Outcome{Verdict: check.Pass, Place: path, Part: "combined unit"}
	if said.Shares == "sum" {
		o.Detail = "Its two outputs add."
		return []check.Outcome{o}
	}
	sun, vehicle, limit := offers(c, unit)
	j := shared(sun, vehicle, limit).Judge()
	o = j.Outcome(path, "combined unit", check.Warn)
	sharing, known := convert.ParseSharing(said.Shares)
	switch {
	case o.Verdict == check.Pass:
	case !known || sharing == convert.SharingUnknown:
		o.Verdict, o.Title = check.Undecided, "not known how the unit shares"
		o.Measure = []string{"look up how the unit divides its output between sun and vehicle: half each, solar first, or both in full"}
	default:
		give, _ := convert.Both{Sharing: sharing, SolarW: sun, VehicleW: vehicle, LimitW: limit}.Share()
		cut := give.SolarCutW + give.VehicleCutW
		o.Detail = fmt.Sprintf("It shares by %s: %s are lost at noon, up to %s on a day of driving through it.", sharing, check.Say(cut, quantity.Power), check.Say(cut*hours, quantity.Energy))
	}
	o.Ways = []string{"plan with the limit of the case", "a controller of its own for the array"}
	if said.Controller != "" && o.Verdict == check.Warn {
		o.Tries = []check.Cure{{Words: "give the array a controller of its own", Edits: []rig.Edit{{Path: path + "/also controller", Old: said.Controller}, {Path: path + "/shares by", Old: said.Shares}}}}
	}
	return []check.Outcome{o}
}

// offers is what each side could put out at noon on the road, and the limit of the case [W].
func offers(c check.Case, unit *rig.DCDC) (sunW, vehicleW, limitW float64) {
	v := c.ChargingV()
	for _, a := range c.ArraysOn(unit.Controller) {
		if m := c.Module(a.Module); m != nil {
			sunW += noon * m.Power.Quantity.Base * a.InSeries.Quantity.Base * a.Strings.Quantity.Base
		}
	}
	if k := c.Controller(unit.Controller); k != nil && k.Output.Stands() {
		sunW = min(sunW, k.Output.Quantity.Base*v)
	}
	vehicleW, _ = c.Sys.Supply.EngineW(convert.Cruising, v)
	return sunW, vehicleW, c.Sys.Supply.Unit.MostW(v)
}

// shared is the inequality of a case.
func shared(sun, vehicle, limit float64) check.Inequality {
	return check.Inequality{
		Formula: "Pboth = Psun + Pvehicle ≤ Pcase", Name: "both sides at noon", Kind: quantity.Power,
		Inputs: []figure.Term{
			check.Computed("Psun", "sun at a clear noon", quantity.Power, sun, "arrays on it"), check.Computed("Pvehicle", "vehicle at cruise", quantity.Power, vehicle, "solved on its line"),
			check.Computed("Pcase", "limit of the case", quantity.Power, limit, "dc-dc unit"),
		},
		Source: check.Practice,
	}
}
