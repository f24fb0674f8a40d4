// Package m20 is the room of rule M20.
package m20

import (
	"fmt"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M20", Title: "temperature compensation left on for LFP", Holds: "charging voltage stays put in cold", Worst: check.Fail,
	What: "The charging voltage of each charger of an LFP bank with its battery at 5 °C, as its temperature compensation shifts it, against the voltage it is " +
		"set to.",
	Why: "Compensation is for lead-acid: 20 degrees below room temperature it lifts the voltage by half a volt and more and drives LFP cells over their limit; " +
		"in the heat it takes as much away, and the bank never fills.",
	Except: "Only LFP banks. A charger without a sensor shifts nothing, whatever its setting. Where nothing at all is told of how chargers are set, rule M19 asks; " +
		"here only those are asked for whose other settings are known.",
	Formula:   "Vset + k × (5 °C − 25 °C) ≤ Vset, to 20 mV for 12 V of bank",
	Source:    check.Practice,
	Sure:      "arithmetic on the setting; the temperature is the sensor's, or the charger's own case",
	Questions: []string{"Is temperature compensation off on each charger?"},
	Caution:   check.BatteryFault,
	Run:       run,
}

// The temperature that compensation counts from and the two ends it is told for [°C], and what no one can read off a
// setting, on a bank of four cells [V]. Common
// practice, no source.
const roomC, coldC, hotC, blurV = 25, 5, 45, 0.02

func run(c check.Case) []check.Outcome {
	if c.Doc.Bank == nil || c.Doc.Bank.Chemistry != "LFP" {
		return nil
	}
	var list []check.Outcome
	var places, parts, asks []string
	for _, s := range c.Settings() {
		switch {
		case s.PerC.Given():
			list = append(list, judge(c, s))
		case s.Told():
			places, parts, asks = append(places, s.Path), append(parts, s.Name), append(asks, "see that temperature compensation is off at "+s.Name)
		}
	}
	if len(asks) > 0 {
		list = append(list, check.Ask("temperature compensation not told", places, parts, asks))
	}
	return list
}

func judge(c check.Case, s check.Setting) check.Outcome {
	o := cold(s, blurV*c.Cells()/4).Judge().Outcome(s.Path, s.Name, check.Fail)
	volts, k := s.Absorption.Quantity.Base, s.PerC.Quantity.Base
	o.Detail = fmt.Sprintf("Set to %.1f V it charges to %.1f V at %s and to %.1f V at %s.", volts, volts+k*(coldC-roomC), c.Say(coldC, quantity.Temperature), volts+k*(hotC-roomC), c.Say(hotC, quantity.Temperature))
	o.Ways = []string{"switch temperature compensation off, or set it to nothing", "unplug the temperature sensor where the charger then shifts nothing"}
	o.Tries = []check.Cure{{Words: "set the compensation of " + s.Name + " to nothing", Edits: []rig.Edit{c.SetTo(s.Path+"/compensation", "none")}}}
	return o
}

// cold is the inequality of a charger's voltage with a cold battery.
func cold(s check.Setting, blur float64) check.Inequality {
	return check.Inequality{
		Formula: "Vcold = Vset + k × (Tcold − Troom) ≤ Vset + ΔV", Name: "charging voltage in the cold", Kind: quantity.Voltage,
		Inputs: []figure.Term{
			check.Known("Vset", "charging voltage of "+s.Name, s.Absorption), check.Known("k", "its temperature compensation", s.PerC),
			check.Number("Tcold", "cold battery", quantity.Temperature, coldC, check.Practice), check.Number("Troom", "temperature it counts from", quantity.Temperature, roomC, check.Practice),
			check.Number("ΔV", "what no setting can be read to", quantity.Voltage, blur, check.Practice),
		},
		Hints:  map[string]string{"k": "look up the temperature compensation of " + s.Name + " in its settings", "Vset": "read back the charging voltage of " + s.Name},
		Source: check.Practice,
	}
}
