// Package m63 is the room of rule M63.
package m63

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
	ID: "M63", Title: "unit asks more than the line gives", Holds: "charge line feeds the unit", Worst: check.Fail,
	What: "The dc-dc unit on its charge line, solved: a constant power at the end of a resistance. Whether there is an operating point at all, what " +
		"current flows through the smallest fuse, and what voltage is left at the unit.",
	Why: "A unit takes more current as its voltage falls, which makes the voltage fall further. On a thin line it collapses: the fuse opens, or the unit " +
		"stops and starts for hours.",
	Except: "What happens on a weak line is the unit's kind: it limits its input, folds back, or cuts out and starts again. The kind that the file states " +
		"is solved; where none is stated the rule says what the line could bear and asks.",
	Formula:   "Vs² / (4 × R) ≥ Pin; I = Pin / V ≤ fuse; V = (Vs + √(Vs² − 4 × R × Pin)) / 2 ≥ Vmin",
	Source:    "Ohm's law; resistance [NEC] chapter 9 table 8; lowest voltage: " + check.Practice,
	Sure:      "the line warm at 75 C; within 5 % where its length is measured",
	Questions: []string{"What does the unit do on a weak line: limit, fold back, or cut out, and at which voltage?"},
	Caution:   check.AlternatorOn,
	Run:       run,
}

// Lowest voltages at a unit, for a nominal 12 V [V]: below the first every usual unit has cut out, above the second none has; and what a unit
// with a stated cut-out should have to spare. Common practice, no source.
const (
	allCutV, noneCutV = 10.5, 12.0
	aboveCutV         = 0.5
)

func run(c check.Case) []check.Outcome {
	l, ok := c.ChargeLine()
	if unit, _, path := c.Unit(); unit != nil && c.Doc.Vehicle == nil {
		return []check.Outcome{{
			Verdict: check.Undecided, Place: path, Part: "dc-dc unit", Title: "vehicle that feeds it is not told",
			Measure: []string{"tell what the vehicle is: the amps printed on its alternator, its own load, and its voltage with the engine running"},
		}}
	}
	if !ok {
		return nil
	}
	if !c.HasCable() {
		return []check.Outcome{{
			Verdict: check.Undecided, Place: l.Path, Part: "dc-dc unit", Title: "charge line's cable is not told",
			Measure: []string{"measure the length of the charge line and read its gauge, or measure its resistance there and back"},
		}}
	}
	pt, err := l.Point(l.Vs.Figure.Value)
	if err != nil {
		return nil
	}
	o := worst(c, l, pt)
	o.Place, o.Part = l.Path, "dc-dc unit"
	if !l.Kind() && o.Verdict != check.Pass {
		o.Measure = append(o.Measure, "look up what the unit does on a weak line: limits its input, folds back, or cuts out, and at which voltage")
	}
	o.Ways = []string{"set the unit to fewer amps", "a thicker or shorter charge line"}
	o.Tries = cures(c, l)
	return []check.Outcome{o}
}

// worst judges a unit on its line and returns the gravest outcome.
func worst(c check.Case, l check.ChargeLine, pt convert.LinePoint) check.Outcome {
	held := pt.State == convert.Limited || pt.State == convert.Folds
	if !held {
		if o := power(l).Judge().Outcome("", "", check.Fail); o.Verdict == check.Fail || o.Verdict == check.Undecided && pt.State == convert.NoPoint {
			o.Title = "charge line has no operating point"
			o.Consequence = fmt.Sprintf("The line can deliver %s at most, at half its voltage: the unit drags it down until the fuse opens or it cuts out.", check.Say(pt.CriticalW, quantity.Power))
			o.Detail = still(l)
			if pt.State == convert.Cycles || pt.State == convert.CutsOut {
				cutting(&o, pt)
			}
			return o
		}
		if l.Fuse.Figure.State != figure.Absent {
			if o := fuse(l).Judge().Outcome("", "", check.Fail); o.Verdict != check.Pass {
				o.Title = "charge line current over its fuse"
				o.Consequence = "The fuse of the charge line opens, or runs hot for hours."
				return o
			}
		}
	}
	if pt.State == convert.Cycles || pt.State == convert.CutsOut {
		o := volts(l, check.Known("Vmin", "voltage at which the unit cuts out", l.Unit.CutsOut)).Judge().Outcome("", "", check.Fail)
		cutting(&o, pt)
		return o
	}
	if held {
		return holds(l, pt)
	}
	scale := math.Max(1, math.Round(l.Vs.Figure.Value/13.5))
	least := check.Number("Vmin", "lowest voltage that no usual unit minds", quantity.Voltage, noneCutV*scale, check.Practice)
	if spare := l.Said.CutsOut.Quantity.Base + aboveCutV*scale; l.Said.CutsOut.Given() && spare > least.Figure.Value {
		least = check.Number("Vmin", "its cut-out and half a volt", quantity.Voltage, spare, "dc-dc unit; "+check.Practice)
	}
	if !l.Kind() && pt.V < allCutV*scale {
		o := volts(l, check.Number("Vmin", "voltage at which every usual unit has cut out", quantity.Voltage, allCutV*scale, check.Practice)).Judge().Outcome("", "", check.Fail)
		o.Title = "voltage at the unit too low"
		o.Consequence = "The unit cuts out and starts again for as long as the engine runs."
		return o
	}
	o := volts(l, least).Judge().Outcome("", "", check.Warn)
	if o.Verdict >= check.Warn {
		o.Title = "voltage at the unit is low"
		o.Consequence = "The line turns much of what it carries into heat, and a little less from the vehicle makes the unit cut out."
	}
	o.Detail = fmt.Sprintf("It takes %s; the line loses %s. A fuse of 1.25 times that is %s.", check.Say(pt.A, quantity.Current), check.Say(pt.LineLossW, quantity.Power), check.Say(1.25*pt.A, quantity.Current))
	return o
}

// cutting tells of a unit that cuts out.
func cutting(o *check.Outcome, pt convert.LinePoint) {
	o.Title = "unit cuts out and starts again"
	o.Consequence = fmt.Sprintf("It works %.0f %% of the time and delivers %s of %s.", 100*pt.OnShare, check.Say(pt.OutputW, quantity.Power), check.Say(pt.WantedW, quantity.Power))
	if pt.State == convert.CutsOut {
		o.Title, o.Consequence = "unit cuts out and stays off", "The line never recovers to the voltage at which the unit starts again: nothing is charged."
	}
}

// holds is the outcome of a unit that holds itself back.
func holds(l check.ChargeLine, pt convert.LinePoint) check.Outcome {
	q := check.Inequality{
		Formula: "Pout = Pgive ≥ f × Pfull", Name: "what it delivers", Kind: quantity.Power, Source: "Ohm's law",
		Inputs: []figure.Term{
			check.Computed("Pgive", "delivered on this line", quantity.Power, pt.OutputW, fmt.Sprintf("solved: %s at the unit, %s", check.Say(pt.V, quantity.Voltage), check.Say(pt.A, quantity.Current))),
			check.Number("f", "share that counts as full", quantity.Share, nearlyFull, check.Practice),
			check.Computed("Pfull", "delivered on a line without loss", quantity.Power, pt.WantedW, "dc-dc unit"),
		},
	}
	o := q.Judge().Outcome("", "", check.Warn)
	o.Title = "line holds the unit below its rating"
	if o.Verdict == check.Pass {
		o.Title = "unit holds itself to the line"
	}
	o.Consequence = "It charges slower than its label, safely."
	word := "limits its input current"
	if pt.State == convert.Folds {
		word = "folds back"
	}
	o.Detail = fmt.Sprintf("It %s and delivers %s of %s, at %s and %s.", word, check.Say(pt.OutputW, quantity.Power), check.Say(pt.WantedW, quantity.Power), check.Say(pt.V, quantity.Voltage), check.Say(pt.A, quantity.Current))
	if l.Fuse.Figure.State != figure.Absent && pt.A > l.Fuse.Figure.Value {
		o.Verdict = check.Fail
		o.Title, o.Consequence = "charge line current over its fuse", "The fuse of the charge line opens, or runs hot for hours."
	}
	return o
}

// nearlyFull is the share of its rating from which on a unit counts as fully fed. Common practice, no source.
const nearlyFull = 0.9

// power is the most that the line can deliver against what the unit asks.
func power(l check.ChargeLine) check.Inequality {
	return check.Inequality{
		Formula: "Pmax = Vs² / (4 × R) ≥ Pin", Name: "most that the line delivers", Kind: quantity.Power, Inputs: []figure.Term{l.Vs, l.R, l.Pin}, Hints: hints(), Source: "Ohm's law",
	}
}

// fuse is the current through the smallest fuse.
func fuse(l check.ChargeLine) check.Inequality {
	return check.Inequality{
		Formula: "I = Pin / ((Vs + √(Vs² − 4 × R × Pin)) / 2) ≤ Ifuse", Name: "current of the line", Kind: quantity.Current,
		Inputs: []figure.Term{l.Pin, l.Vs, l.R, l.Fuse}, Hints: hints(), Source: "Ohm's law",
		Result: func(in check.Inputs) float64 { _, amps := solved(in); return amps },
	}
}

// volts is the voltage at the unit against a lowest one.
func volts(l check.ChargeLine, least figure.Term) check.Inequality {
	return check.Inequality{
		Formula: "V = (Vs + √(Vs² − 4 × R × Pin)) / 2 ≥ Vmin", Name: "voltage at the unit", Kind: quantity.Voltage,
		Inputs: []figure.Term{l.Vs, l.R, l.Pin, least}, Hints: hints(), Source: "Ohm's law",
		Result: func(in check.Inputs) float64 { volts, _ := solved(in); return volts },
	}
}

// solved returns voltage and current at a unit that takes a constant power; not a number where the line has no operating point.
func solved(in check.Inputs) (volts, amps float64) {
	u, err := convert.NewDCDC(convert.DCDCParams{OutputW: in.Of("Pin"), BankV: in.Of("Vs"), Peak: 1, Curve: convert.FlatCurve(), Wakes: convert.WakeSwitch})
	if err != nil {
		return math.NaN(), math.NaN()
	}
	pt := convert.SolveLine(&u, convert.LineInput{SourceV: in.Of("Vs"), LoopOhm: in.Of("R"), BusV: in.Of("Vs"), AskW: convert.Unlimited, EngineRuns: true})
	if pt.State == convert.NoPoint {
		return math.NaN(), math.NaN()
	}
	return pt.V, pt.A
}

func hints() map[string]string {
	return map[string]string{
		"Vs":  "read the voltage at the start of the charge line with the engine warm and the unit charging",
		"R":   "measure the length of the charge line and read its gauge",
		"Pin": "read amps and volts at the unit's input while it charges at full output",
	}
}

// still tells what the line could bear.
func still(l check.ChargeLine) string {
	amps, ok := bearable(l)
	if !ok {
		return ""
	}
	return fmt.Sprintf("Set to %.0f A it would have enough voltage.", amps)
}

// bearable returns the largest whole output current at which the unit keeps a good voltage and its fuse [A].
func bearable(l check.ChargeLine) (float64, bool) {
	scale := math.Max(1, math.Round(l.Vs.Figure.Value/13.5))
	least := noneCutV * scale
	if l.Said.CutsOut.Given() {
		least = l.Said.CutsOut.Quantity.Base + aboveCutV*scale
	}
	full := l.Unit.Output.Quantity.Base
	for amps := math.Floor(full) - 1; amps >= 1; amps-- {
		p := l.Pin.Figure.High * amps / full
		vs, r := l.Vs.Figure.Low, l.R.Figure.High
		d := vs*vs - 4*r*p
		if d < 0 {
			continue
		}
		v := (vs + math.Sqrt(d)) / 2
		if v >= least && (l.Fuse.Figure.State == figure.Absent || p/v <= l.Fuse.Figure.Value) {
			return amps, true
		}
	}
	return 0, false
}

// cures are a lower setting and the next thicker gauges.
func cures(c check.Case, l check.ChargeLine) []check.Cure {
	var list []check.Cure
	if amps, ok := bearable(l); ok && l.Said.Output.Given() {
		list = append(list, check.Cure{Words: fmt.Sprintf("set the unit to %.0f A", amps), Edits: []rig.Edit{check.Set(l.Path+"/output", l.Said.Output, fmt.Sprintf("%.0f A", amps))}})
	}
	for _, gauge := range []string{"6 AWG", "4 AWG", "2 AWG", "1/0 AWG"} {
		cure := check.Cure{Words: "run the whole line in " + gauge}
		for i := range c.Said.ChargeLine {
			if r := c.Said.ChargeLine[i].Run; r != nil {
				if next, err := rig.ParseValue(gauge, quantity.Section); err == nil && next.Quantity.Base > r.Gauge.Quantity.Base {
					cure.Edits = append(cure.Edits, check.Set(fmt.Sprintf("charge line/%d/run/gauge", i+1), r.Gauge, gauge))
				}
			}
		}
		if len(cure.Edits) > 0 {
			list = append(list, cure)
		}
	}
	return list
}
