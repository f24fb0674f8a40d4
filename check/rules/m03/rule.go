// Package m03 is the room of rule M03.
package m03

import (
	"fmt"
	"math"

	"campwright/check"
	"campwright/figure"
	"campwright/pv"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M03", Title: "string too short for hot weather", Holds: "string charges the bank in the heat", Worst: check.Fail,
	What: "The working voltage of each string with hot cells, less the drop of its cable, against the charging voltage and the surplus that a " +
		"step-down controller needs.",
	Why: "The working voltage falls as cells warm. Below what the controller needs, it cannot reach the charging voltage on hot days, and the bank " +
		"is never quite full.",
	Except: "Step-up controllers, and those that do both, take a low voltage. A string that is short in the heat only loses some charge: WARN. One " +
		"that is short with cells at 25 C too never fills the bank: FAIL.",
	Formula: "n × Vmp × (1 + γ × (Tcell − 25)) − I × R ≥ Vabs + Vroom, cells in full sun on a hot afternoon of the stay",
	Source:  check.Practice,
	Sure:    "voltages within 3 %; the hot afternoon is the month's mean and 14 K, a guess where no place is known",
	Questions: []string{
		"Which kind of controller is it: step-down, step-up or both?", "How is the array mounted: raised, close to the roof or bonded to it?",
	},
	Run: run,
}

// Air of a hot afternoon where no place is known [°C]; common practice, no source.
const hotC, hotLowC, hotHighC = 35, 25, 45

func run(c check.Case) []check.Outcome {
	air := check.Between("Tair", "hot afternoon, no place known", quantity.Temperature, hotC, hotLowC, hotHighC, check.Practice)
	if s := hottest(c); s != nil {
		air = check.Number("Tair", "hot afternoon "+check.At(s), quantity.Temperature, s.HotC, "climate of the place")
	}
	var list []check.Outcome
	for i := range c.Doc.Arrays {
		a := &c.Doc.Arrays[i]
		m, k := c.Module(a.Module), c.Controller(a.Controller)
		if m == nil || k == nil || !m.Vmp.Stands() || k.Kind != "step-down" || c.Doc.Bank == nil {
			continue
		}
		list = append(list, judge(c, a, m, k, air).AskWord(c.Said.Arrays[i].Mounting, "look how "+a.Name+" is mounted: raised on feet, close to the roof, or bonded to it"))
	}
	return list
}

// hottest returns the site with the hottest afternoon of the stay.
func hottest(c check.Case) *system.Site {
	return c.Coldest(func(s *system.Site) float64 { return -s.HotC })
}

func judge(c check.Case, a *rig.Array, m *rig.Module, k *rig.Controller, air figure.Term) check.Outcome {
	cell := air
	cell.Symbol, cell.Figure.Name = "Tcell", "cells in full sun, "+air.Figure.Name
	cell.Figure.Value, cell.Figure.Low, cell.Figure.High = cellC(a, air.Figure.Value), cellC(a, air.Figure.Low), cellC(a, air.Figure.High)
	j := hot(c, a, m, k, cell).Judge()
	o := j.Outcome(check.ArrayPath(a), check.ArrayPart(a), check.Warn)
	said := c.SaidController(k.Name)
	if o.Verdict != check.Pass && said != nil && check.Untold(said.Kind) {
		o.Verdict = check.Undecided
		o.Measure = append([]string{"ask what " + k.Name + " is: step-down, step-up or both"}, o.Measure...)
		return o
	}
	if o.Verdict == check.Warn {
		var share float64
		o.Detail, share = lost(c, a, air.Figure.Value, k)
		mild := cell
		mild.Figure = figure.Figure{Name: "cells at standard conditions", Value: 25, Low: 25, High: 25, Kind: quantity.Temperature, State: figure.Plain}
		if cool := hot(c, a, m, k, mild).Judge(); !cool.Holds {
			o = cool.Outcome(check.ArrayPath(a), check.ArrayPart(a), check.Fail)
			o.Title = "string too short in any weather"
			o.Consequence = "The controller cannot reach the charging voltage on any day: the bank is never full."
		} else if o.Detail != "" && share < littleLoss {
			o.Verdict, o.Title = check.Note, "string just short in the heat"
		}
	}
	o.Ways = []string{"two modules in series where there is one", "a controller that steps up as well"}
	o.Tries = c.Longer(a)
	return o
}

// cellC returns the temperature of the cells of an array in full sun [°C].
func cellC(a *rig.Array, airC float64) float64 { return system.MountingCell(a.Mounting, airC) }

// cableC is the temperature of a roof cable in the sun [°C]; common practice, no source.
const cableC = 60

// hot is the inequality of an array with its cells at a temperature.
func hot(c check.Case, a *rig.Array, m *rig.Module, k *rig.Controller, cell figure.Term) check.Inequality {
	r, low, high := system.RunOhm(a.Run, cableC)
	drop := check.Between("R", "cable of "+a.Name+", there and back", quantity.Resistance, r, low, high, "[NEC] chapter 9 table 8 at 60 C")
	amps := check.Computed("I", "current at the best point", quantity.Current, a.Strings.Quantity.Base*m.Imp.Quantity.Base, "Imp times strings")
	return check.Inequality{
		Formula: "Vhot = n × Vmp × (1 + γ × (Tcell − 25)) − I × R ≥ Vabs + Vroom", Name: "working voltage in the heat", Kind: quantity.Voltage,
		Inputs: []figure.Term{
			check.Known("n", "modules in series", a.InSeries), check.Known("Vmp", "Vmp of "+m.Name, m.Vmp),
			check.Known("γ", "power coefficient of "+m.Name, m.PowerPerC), cell, amps, drop,
			check.Known("Vabs", "charging voltage of "+k.Name, k.Absorption), check.Known("Vroom", "surplus that "+k.Name+" needs", k.Headroom),
		},
		Result: func(in check.Inputs) float64 {
			return in.Of("n")*system.VoltsAt(in.Of("Vmp"), in.Of("γ"), in.Of("Tcell")) - in.Of("I")*in.Of("R")
		},
		Hints: map[string]string{
			"γ": "read the power coefficient on the data sheet of " + m.Name, "Vroom": "read in the manual of " + k.Name + " how far the array must stay above the bank",
			"Vabs": "read the charging voltage that " + k.Name + " is set to", "R": "measure the cable of " + a.Name + " and read its gauge", "Tcell": "say where the rig goes, so that its heat is known",
		},
		Source: "[IEC-60891] procedure 1 for the voltage; the need is common practice",
	}
}

// lost tells what the array loses on a hot clear day while the bank is near its charging voltage: a day of twelve hours of sun in a half sine,
// the array held at the lowest voltage that the controller takes.
func lost(c check.Case, a *rig.Array, airC float64, k *rig.Controller) (words string, share float64) {
	if c.Sys == nil {
		return "", 0
	}
	for i := range c.Sys.Arrays {
		s := &c.Sys.Arrays[i]
		if s.Name != a.Name {
			continue
		}
		best, held := hotDay(s, airC, k.Absorption.Quantity.Base+k.Headroom.Quantity.Base)
		if best <= 0 {
			return "", 0
		}
		if share = 1 - held/best; share < littleLoss {
			return "On a hot clear day next to nothing is lost.", share
		}
		return fmt.Sprintf("On a hot clear day up to %s of %s are left in the modules while the bank nears its charging voltage.", wh(best-held), wh(best)), share
	}
	return "", 0
}

// littleLoss is the share of a hot day below which a string that is just short is only noted. Common practice, no source.
const littleLoss = 0.01

// hotDay returns what an array gives on a hot clear day at its best voltage, and held at no less than floorV at the controller [Wh].
func hotDay(s *system.Array, airC, floorV float64) (best, held float64) {
	for hour := range 12 {
		light := 1000 * s.Clean * math.Sin(math.Pi*(float64(hour)+0.5)/12)
		curve := s.Unit.At(light, s.Cell.Cell(light, airC, pv.DefaultWind))
		top := curve.MaxPower()
		amps := top.I * s.Strings
		best += top.P * s.Series * s.Strings
		if each := (floorV + amps*s.LoopOhm) / s.Series; each > top.V {
			held += math.Max(0, each*curve.Current(each)) * s.Series * s.Strings
		} else {
			held += top.P * s.Series * s.Strings
		}
	}
	return best, held
}

func wh(x float64) string {
	return quantity.Format(quantity.Quantity{Base: x, Kind: quantity.Energy}, quantity.Metric)
}
