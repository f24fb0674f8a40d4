// Package m65 is the room of rule M65.
package m65

import (
	"fmt"
	"math"

	"campwright/check"
	"campwright/convert"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M65", Title: "relay ties bank to the alternator", Holds: "alternator bears the tied bank", Worst: check.Fail,
	What: "A relay that joins vehicle and bank without a limit: the current that the two voltages drive through the line when the bank is low, with " +
		"the vehicle's own load, against the label of the alternators; and at idle against what they give hot, where the file says it.",
	Why: "Nothing between them limits the current. A bank of low resistance takes all it can get for hours, and the alternator runs at its limit until it " +
		"burns.",
	Except:  "A dc-dc unit limits the current and is judged by M63 and M64. The label of an alternator is for a cold one: hot it gives less, for less long.",
	Formula: "(Vs − Vbank) / R + Iown ≤ sum of labels",
	Source:  "Ohm's law; 5 milliohm for relay and bank: " + check.Practice,
	Sure:    "resistance within a third where nothing is measured",
	Caution: check.AlternatorOn,
	Run:     run,
}

// low is the charge of the bank at which a tie is judged. Common practice, no source.
const low = 0.25

func run(c check.Case) []check.Outcome {
	relay, path := c.Link(func(l *rig.Link) bool { return l.Relay != nil })
	if relay == nil || c.Doc.Vehicle == nil || len(c.Doc.Vehicle.Alternators) == 0 || c.Sys == nil {
		return nil
	}
	ohm, lo, hi := 0.0, 0.0, 0.0
	links := system.ChargeLinks(c.Doc)
	for i := range links {
		o, l, h := system.LinkOhm(&links[i], lineC)
		ohm, lo, hi = ohm+o, lo+l, hi+h
	}
	r := check.Between("R", "line, relay and bank", quantity.Resistance, ohm, lo, hi, "[NEC] chapter 9 table 8, cool; relay by common practice")
	if lo == hi {
		r.Figure.State = figure.Plain
	}
	bank := check.Computed("Vbank", fmt.Sprintf("bank at %.0f %%", 100*low), quantity.Voltage, c.Sys.Bank.Model.Voc(low), "bank")
	o := tied(c.Doc.Vehicle, r, bank).Judge().Outcome(path+"/relay", "relay of the charge line", check.Fail)
	if o.Verdict == check.Pass {
		if q, told := idling(c.Doc.Vehicle, r, bank); told {
			if at := q.Judge().Outcome(path+"/relay", "relay of the charge line", check.Fail); at.Verdict == check.Fail {
				o = at
				o.Title = "relay overloads the alternator at idle"
				o.Consequence = "Hot and slow it gives less than the bank asks for: it runs at its limit with hardly any air through it, until it burns."
			}
		}
	}
	o.Ways = []string{"a dc-dc unit in place of the relay", "leave the relay open while the bank is low"}
	if at := c.SaidLink(path); at != nil && at.Relay != nil {
		o.Tries = []check.Cure{{Words: "replace the relay by a dc-dc unit of 30 A", Edits: []rig.Edit{{Path: path + "/relay", Old: relayText(at.Relay)}, {Path: path + "/dc-dc", New: "{output: 30 A, wakes on: engine signal}"}}}}
	}
	return []check.Outcome{o}
}

// lineC is a cool line [°C]: less resistance, more current. Common practice, no source.
const lineC = 20

func relayText(r *rig.Relay) string {
	if r.Rated.Text() == "" {
		return "{}"
	}
	return "{rated: " + r.Rated.Text() + "}"
}

// tied is the inequality of a tie.
func tied(v *rig.Vehicle, r, bank figure.Term) check.Inequality {
	rated := 0.0
	for _, a := range v.Alternators {
		rated += a.Rated.Quantity.Base
	}
	return asked(v, r, bank, v.OwnLoad, check.Number("Ilabel", "label of the alternators", quantity.Current, rated, "vehicle"))
}

// idling is the same at idle, against what the alternators give hot; told is false where their owner does not say what that is.
func idling(v *rig.Vehicle, r, bank figure.Term) (q check.Inequality, told bool) {
	hot := 0.0
	for _, a := range v.Alternators {
		if !a.HotIdle.Given() {
			return q, false
		}
		hot += a.HotIdle.Quantity.Base
	}
	return asked(v, r, bank, v.IdleLoad, check.Number("Ilabel", "what the alternators give hot, at idle", quantity.Current, hot, "vehicle")), true
}

// asked is what a tie and the vehicle's load ask of the alternators, against a limit.
func asked(v *rig.Vehicle, r, bank figure.Term, load rig.Value, limit figure.Term) check.Inequality {
	own := check.Known("Iown", "what the vehicle uses", load)
	if own.Figure.Kind == quantity.Power {
		volts := math.Max(1, v.Volts.Quantity.Base)
		own.Figure.Kind = quantity.Current
		own.Figure.Value, own.Figure.Low, own.Figure.High = own.Figure.Value/volts, own.Figure.Low/volts, own.Figure.High/volts
	}
	return check.Inequality{
		Formula: "Iall = (Vs − Vbank) / R + Iown ≤ Ilabel", Name: "asked of the alternators", Kind: quantity.Current,
		Inputs: []figure.Term{
			check.Known("Vs", "vehicle, engine running", v.Volts), bank, r, own, limit,
		},
		Result: func(in check.Inputs) float64 {
			relay, err := convert.NewRelay(convert.RelayParams{LoopOhm: math.Max(1e-5, in.Of("R"))})
			if err != nil {
				return math.NaN()
			}
			return relay.Flow(convert.Tie{VehicleV: in.Of("Vs"), BankV: in.Of("Vbank"), SpareA: convert.Unlimited}).WantedA + in.Of("Iown")
		},
		Hints: map[string]string{
			"Vs": "read the voltage at the vehicle's battery with the engine warm", "R": "measure the length of the line and read its gauge",
			"Iown": "clamp the alternator's cable with the relay open",
		},
		Source: "Ohm's law",
	}
}
