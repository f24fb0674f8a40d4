// Package m40 is the room of rule M40.
package m40

import (
	"fmt"
	"math"

	"campwright/check"
	"campwright/conductor"
	"campwright/figure"
	"campwright/quantity"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M40", Title: "fuse voltage under the bank's highest", Holds: "fuses hold the bank's voltage", Worst: check.Stop,
	What:      "The direct voltage printed on every fuse, breaker, switch and plug of the battery and vehicle side, against the highest voltage that its circuit is charged at.",
	Why:       "Above its voltage a fuse opens and the arc does not go out.",
	Except:    "Devices whose voltage is neither written nor known of their family are a question only on banks above 32 V, which every common device holds. Array devices are rule M11.",
	Formula:   "Vmax ≤ Vfuse",
	Source:    "[ISO-8820], [UL-248]; otherwise the print",
	Sure:      "the print decides; voltages of families are from memory",
	Questions: []string{"What direct voltage is printed on the device?"},
	Caution:   check.BatteryFault,
	Run:       run,
}

// commonV is what every common device holds [V]. Common practice, no source.
const commonV = 32

func run(c check.Case) []check.Outcome {
	n := c.Nets()
	if n == nil {
		return nil
	}
	var list []check.Outcome
	net := n.Net()
	for i := range net.Devices {
		d := &net.Devices[i]
		if d.Run < 0 || d.Kind == "shunt" {
			continue
		}
		if r := &net.Runs[d.Run]; r.Side == conductor.Battery || r.Side == conductor.Vehicle {
			if o, ok := judge(c, net, d, r); ok {
				list = append(list, o)
			}
		}
	}
	return list
}

func judge(c check.Case, net *system.Network, d *system.Device, r *system.Run) (check.Outcome, bool) {
	place, part := d.Path, d.Title(net)
	volts := net.ChargingV()
	if r.Side == conductor.Vehicle {
		volts = r.Volts
	}
	if d.VoltsDC == 0 {
		if volts <= commonV {
			return check.Outcome{}, false
		}
		return check.Outcome{Verdict: check.Undecided, Place: place, Part: part, Measure: []string{check.ReadPrint(net, d, "direct voltage")}}, true
	}
	q := check.Inequality{Formula: "Vtop = Vmax ≤ Vfuse", Name: "highest voltage of its circuit", Kind: quantity.Voltage, Source: "[ISO-8820], [UL-248]",
		Inputs: []figure.Term{check.Computed("Vmax", "highest charging voltage", quantity.Voltage, volts, "chargers of the bank"), check.Number("Vfuse", "direct voltage of "+part, quantity.Voltage, d.VoltsDC, place)}}
	o := q.Judge().Outcome(place, part, check.Stop)
	o.Ways = []string{fmt.Sprintf("a device for %.0f V direct or more", math.Ceil(volts)), "a class T fuse, which holds 125 V"}
	o.Tries = c.RatingCures(net, d, "volts dc", []float64{58, 80, 125}, "take a %s V device as %s")
	return o, true
}
