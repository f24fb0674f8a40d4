// Package m64 is the room of rule M64.
package m64

import (
	"fmt"
	"math"

	"campwright/check"
	"campwright/convert"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M64", Title: "alternator short while charging the bank", Holds: "alternator carries the charging unit", Worst: check.Fail,
	What: "What the hot alternators give at idle and at cruise beyond the vehicle's own load, against what the dc-dc unit takes from the charge line.",
	Why: "An alternator gives half of its label or less, hot and at idle. What it lacks comes out of the starter battery: in traffic, or idling in camp, the " +
		"vehicle charges the rig and will not start.",
	Except:    "A unit that lowers its current at idle, or is switched off there, passes at idle; the file cannot say so yet.",
	Formula:   "sum of hot output − own load ≥ Iin, at idle and at cruise",
	Source:    check.Practice + "; that the label is a cold rating: [ISO-8854]",
	Sure:      "hot output of an alternator is a guess until measured: 35 to 55 % of its label at idle",
	Questions: []string{"What does the alternator give hot, at idle and at cruise?", "What does the vehicle itself use?"},
	Caution:   check.AlternatorOn,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	l, ok := c.ChargeLine()
	if !ok || len(c.Doc.Vehicle.Alternators) == 0 {
		return nil
	}
	pt, err := l.Point(l.Vs.Figure.Value)
	if err != nil {
		return nil
	}
	amps := takes(l, pt)
	var list []check.Outcome
	for _, state := range []string{"cruise", "idle"} {
		o := spare(c.Doc.Vehicle, state, amps).Judge().Outcome("vehicle", "vehicle at "+state, check.Fail)
		o.Title = "alternator short at " + state
		if o.Verdict == check.Pass {
			o.Title = "alternator carries the unit at " + state
		}
		if state == "idle" && o.Verdict >= check.Warn {
			o.Consequence = "Idling or in slow traffic the starter battery gives what the alternator lacks, until the vehicle will not start."
		}
		o.Ways = []string{"set the unit to fewer amps", "a unit or a switch that lowers its current at idle"}
		o.Tries = lower(l, o)
		list = append(list, o)
	}
	return list
}

// takes is what the unit takes from the vehicle: solved on its line; where there is no operating point, its power at the lowest usual voltage.
func takes(l check.ChargeLine, pt convert.LinePoint) figure.Term {
	amps := math.Max(pt.A, pt.MeanA)
	why := "solved on its line"
	if pt.State == convert.NoPoint || amps == 0 {
		amps, why = l.Pin.Figure.Value/math.Max(1, l.Vs.Figure.Value), "its power at the start of the line; the line itself cannot carry it"
	}
	by := func(pin float64) float64 { return amps * pin / l.Pin.Figure.Value }
	return check.Between("Iin", "what the dc-dc unit takes", quantity.Current, amps, by(l.Pin.Figure.Low), math.Max(amps, by(l.Pin.Figure.High)), why)
}

// spare is the inequality of the alternators at idle or cruise.
func spare(v *rig.Vehicle, state string, takes figure.Term) check.Inequality {
	q := check.Inequality{Name: "spare at " + state, Kind: quantity.Current, Source: check.Practice, Hints: map[string]string{
		"Iown": "clamp the alternator's cable at " + state + " with the unit off", "Iin": "read the amps at the unit's input while it charges at full output",
	}}
	sum := ""
	for i, a := range v.Alternators {
		hot := a.HotIdle
		if state == "cruise" {
			hot = a.HotCruise
		}
		s := fmt.Sprintf("Ihot%d", i+1)
		if len(v.Alternators) == 1 {
			s = "Ihot"
		}
		if sum != "" {
			sum += " + "
		}
		sum += s
		q.Inputs = append(q.Inputs, check.Known(s, fmt.Sprintf("alternator %d hot at %s", i+1, state), hot))
		q.Hints[s] = fmt.Sprintf("clamp the cable of alternator %d with the engine hot at %s and everything on", i+1, state)
	}
	own := v.OwnLoad
	if state == "idle" {
		own = v.IdleLoad
	}
	load := check.Known("Iown", "what the vehicle uses at "+state, own)
	if load.Figure.Kind == quantity.Power {
		volts := math.Max(1, v.Volts.Quantity.Base)
		load.Figure.Kind = quantity.Current
		load.Figure.Value, load.Figure.Low, load.Figure.High = load.Figure.Value/volts, load.Figure.Low/volts, load.Figure.High/volts
	}
	q.Formula = "Ispare = " + sum + " − Iown ≥ Iin"
	q.Inputs = append(q.Inputs, load, takes)
	return q
}

// lower is the cure of setting the unit so that the alternator carries it.
func lower(l check.ChargeLine, o check.Outcome) []check.Cure {
	spare, ok := o.Figure("Ispare")
	amps, also := o.Figure("Iin")
	if !ok || !also || !l.Said.Output.Given() || amps <= 0 {
		return nil
	}
	to := math.Floor(l.Said.Output.Quantity.Base * spare / amps)
	if to < 1 {
		return nil
	}
	return []check.Cure{{Words: fmt.Sprintf("set the unit to %.0f A", to), Edits: []rig.Edit{check.Set(l.Path+"/output", l.Said.Output, fmt.Sprintf("%.0f A", to))}}}
}
