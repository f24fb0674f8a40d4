// Package m35 is the room of rule M35.
package m35

import (
	"fmt"
	"strings"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M35", Title: "cut-offs in the wrong order", Holds: "cut-offs open before the battery does", Worst: check.Fail,
	What: "The bank voltages at which the inverter stops and the load cut-off opens, each against the voltage at which the battery's own electronics open; and the " +
		"inverter against the load cut-off.",
	Why: "The battery's electronics are the last layer. Where they open first, all goes at once: lights, furnace and detectors together with the inverter, and " +
		"some do not close again until a charger comes.",
	Except: "Lead-acid has no electronics that open. Under load the inverter sees less than the battery does, by the drop in its cable, which helps; one weak cell opens a " +
		"battery earlier than its voltage tells. A rig with neither inverter nor cut-off has no order to keep.",
	Formula:   "Vinverter ≥ Vbattery + 0.1 V; Vloads ≥ Vbattery + 0.1 V, for 12 V of bank; Vinverter ≥ Vloads",
	Source:    check.Practice,
	Sure:      "settings are as sure as the look at them; a battery opens by its weakest cell",
	Questions: []string{"At which voltage does the inverter stop, the load cut-off open, the battery open?"},
	Caution:   check.BatteryFault,
	Run:       run,
}

// apartV is how far two cut-offs must lie apart to open in their order, on a bank of four cells [V]. Common practice, no source.
const apartV = 0.1

// cutoff is something that opens at a low bank voltage.
type cutoff struct {
	path, name string
	at         rig.Value
}

// does says what it does at its voltage.
func (l cutoff) does() string {
	switch l.path {
	case "bank/inverter off at":
		return "stops"
	case "bank/opens at":
		return "open"
	}
	return "opens"
}

func run(c check.Case) []check.Outcome {
	b := c.Doc.Bank
	if b == nil || b.Chemistry != "LFP" {
		return nil
	}
	layers := cutoffs(c)
	if len(layers) == 0 {
		return nil
	}
	battery := cutoff{"bank/opens at", "the battery's electronics", b.OpensAt}
	var list []check.Outcome
	var asks []string
	for _, l := range append(layers, battery) {
		if !l.at.Given() {
			asks = append(asks, "look up the bank voltage at which "+l.name+" "+l.does())
		}
	}
	if battery.at.Given() {
		for _, l := range layers {
			if l.at.Given() {
				list = append(list, last(c, l, battery))
			}
		}
	}
	list = append(list, first(c, layers)...)
	if len(asks) > 0 {
		list = append(list, check.Outcome{Verdict: check.Undecided, Place: "bank", Part: "bank", Title: "not all cut-offs are told", Measure: asks})
	}
	return list
}

// cutoffs returns what opens before the battery: the inverter, where there is one, the load cut-off where the bank or the wiring has one.
func cutoffs(c check.Case) []cutoff {
	var list []cutoff
	b := c.Doc.Bank
	if len(c.Doc.Inverters) > 0 {
		list = append(list, cutoff{"bank/inverter off at", "the inverter", b.InverterOff})
	}
	if c.Said.Bank.LoadsOff.State != figure.Absent {
		list = append(list, cutoff{"bank/loads off at", "the load cut-off", b.LoadsOff})
	}
	for i, run := range c.Doc.RunPaths() {
		w := &c.Doc.Wiring.Runs[i]
		for k, at := range w.DevicePaths(run) {
			if d := &w.Devices[k]; d.Kind == "cut-off" && !(c.Said.Bank.LoadsOff.Given() && !d.Opens.Given()) {
				name := "the cut-off"
				if d.Name != "" {
					name = "cut-off " + d.Name
				}
				list = append(list, cutoff{at + "/opens at", name, d.Opens})
			}
		}
	}
	return list
}

// last judges a cut-off against the battery's own electronics.
func last(c check.Case, l, battery cutoff) check.Outcome {
	o := order(l, battery, apartV*c.Cells()/4).Judge().Outcome(place(l), part(l), check.Fail)
	inverter := l.path == "bank/inverter off at"
	switch {
	case o.Verdict == check.Pass && inverter:
		o.Title = "inverter stops before the battery opens"
	case o.Verdict == check.Pass:
		o.Title = "loads are cut before the battery"
	case o.Verdict == check.Fail && inverter:
		o.Title = "battery opens before the inverter stops"
	case o.Verdict == check.Fail:
		o.Title = "battery opens before loads are cut"
	}
	o.Ways = []string{"set it to stop or open earlier: inverter first, loads next, the battery last", "a battery whose electronics open later"}
	up := fmt.Sprintf("%.1f V", battery.at.Quantity.Base+0.8*c.Cells()/4)
	if !inverter {
		up = fmt.Sprintf("%.1f V", battery.at.Quantity.Base+0.4*c.Cells()/4)
	}
	o.Tries = []check.Cure{{Words: "set " + l.name + " to " + up, Edits: []rig.Edit{c.SetTo(l.path, up)}}}
	return o
}

// first warns of loads that go dark before the inverter does.
func first(c check.Case, layers []cutoff) []check.Outcome {
	var list []check.Outcome
	if len(layers) < 2 || layers[0].path != "bank/inverter off at" || !layers[0].at.Given() {
		return nil
	}
	for _, l := range layers[1:] {
		if !l.at.Given() {
			continue
		}
		o := order(layers[0], l, 0).Judge().Outcome(place(l), part(l), check.Warn)
		if o.Verdict == check.Pass {
			continue // the order to the battery has told it
		}
		o.Title = "loads go dark before the inverter"
		o.Consequence = "Lights, furnace and pump stop while the inverter goes on drawing the bank down."
		o.Ways = []string{"set the inverter to stop earlier", "set the load cut-off lower"}
		up := fmt.Sprintf("%.1f V", l.at.Quantity.Base+0.4*c.Cells()/4)
		o.Tries = []check.Cure{{Words: "set the inverter to " + up, Edits: []rig.Edit{c.SetTo(layers[0].path, up)}}}
		list = append(list, o)
	}
	return list
}

func place(l cutoff) string {
	if strings.HasPrefix(l.path, "bank/") {
		return "bank"
	}
	return strings.TrimSuffix(l.path, "/opens at")
}

func part(l cutoff) string {
	if strings.HasPrefix(l.path, "bank/") {
		return "bank"
	}
	return l.name
}

// order is the inequality of one cut-off that must open before another.
func order(early, late cutoff, apart float64) check.Inequality {
	return check.Inequality{
		Formula: "Vfirst = Voff ≥ Vlater + ΔV", Name: "voltage at which " + early.name + " " + early.does(), Kind: quantity.Voltage,
		Inputs: []figure.Term{
			check.Known("Voff", early.name, early.at), check.Known("Vlater", late.name, late.at),
			check.Number("ΔV", "how far they must lie apart", quantity.Voltage, apart, check.Practice),
		},
		Hints:  map[string]string{"Voff": "look up the bank voltage at which " + early.name + " " + early.does(), "Vlater": "look up the bank voltage at which " + late.name + " " + late.does()},
		Source: check.Practice,
	}
}
