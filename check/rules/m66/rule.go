// Package m66 is the room of rule M66.
package m66

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
	ID: "M66", Title: "voltage trigger on a resting alternator", Holds: "unit charges whenever the engine runs", Worst: check.Warn,
	What: "A dc-dc unit that starts by the vehicle's voltage, behind a regulator that lowers its voltage to save fuel: the mean current over a drive.",
	Why: "While the regulator rests the unit takes the engine for stopped. It charges for a third of the drive, and the bank arrives low after a day on " +
		"the road.",
	Except:    "A fixed regulator, or a unit that wakes on the engine-run signal. Where neither is told, that is a note.",
	Formula:   "Iout × share of the drive at full voltage ≥ 90 % × Iout",
	Source:    check.Practice,
	Sure:      "how long a regulator rests differs by vehicle and load",
	Questions: []string{"What starts the unit: a signal from the engine, its voltage, or a switch?", "Does the vehicle lower its voltage to save fuel?"},
	Run:       run,
}

// nearly is the share of its current from which on a unit counts as charging all the time. Common practice, no source.
const nearly = 0.9

func run(c check.Case) []check.Outcome {
	unit, said, path := c.Unit()
	if unit == nil || c.Doc.Vehicle == nil {
		return nil
	}
	v := c.Doc.Vehicle
	o := check.Outcome{Verdict: check.Pass, Place: path, Part: "dc-dc unit", Detail: told(said.Wake, c.Said.Vehicle.Regulation, unit, v)}
	regulation := c.Said.Vehicle.Regulation
	switch {
	case check.Untold(said.Wake) && (said.Wake == "unknown" || v.Regulation == "variable" || regulation == "unknown"):
		o.Verdict, o.Title, o.Detail = check.Undecided, "not known what starts the unit", ""
		o.Measure = []string{"look up what starts the unit: a signal from the engine, the vehicle's voltage, or a switch"}
	case said.Wake == "" && regulation == "":
		o.Verdict, o.Title = check.Note, "nobody said what starts the unit"
		o.Detail += " Many vehicles of the last decade rest their regulator, and a unit that wakes on their voltage then charges for a part of the drive alone: look up what starts it."
	case unit.Wake == "voltage" && check.Untold(regulation):
		o.Verdict, o.Title, o.Detail = check.Undecided, "not known whether the vehicle's voltage rests", ""
		o.Measure = []string{"watch the vehicle's voltage through half an hour of driving: does it fall below 13.2 V?"}
	case unit.Wake == "voltage" && v.Regulation == "variable":
		o = mean(c, unit, v).Judge().Outcome(path, "dc-dc unit", check.Warn)
		if unit.Output.Stands() {
			o.Detail = fmt.Sprintf("Its label says %s.", check.Say(unit.Output.Quantity.Base, quantity.Current))
		} else {
			o.Detail = fmt.Sprintf("Its label says %s.", check.Say(unit.Power.Quantity.Base, quantity.Power))
		}
		o.Ways = []string{"wake the unit by the engine-run signal", "drive with the headlights on, which keeps some regulators up"}
		o.Tries = []check.Cure{{Words: "wake the unit by the engine-run signal", Edits: []rig.Edit{check.SetWord(path+"/wakes on", said.Wake, "engine signal")}}}
	}
	return []check.Outcome{o}
}

// told says how the unit wakes and how the vehicle is regulated, and which of the two was taken because nobody said.
func told(saidWake, saidRegulation string, unit *rig.DCDC, v *rig.Vehicle) string {
	var said, taken []string
	put := func(word, text string) {
		if word == "" {
			taken = append(taken, text)
			return
		}
		said = append(said, text)
	}
	put(saidWake, "it wakes on the "+unit.Wake)
	put(saidRegulation, "the regulator is "+v.Regulation)
	text := ""
	if len(said) > 0 {
		text = strings.ToUpper(said[0][:1]) + strings.Join(said, "; ")[1:] + "."
	}
	if len(taken) > 0 {
		text += " Taken, as nobody said: " + strings.Join(taken, "; ") + "."
	}
	return strings.TrimSpace(text)
}

// mean is the current over a drive.
func mean(c check.Case, unit *rig.DCDC, v *rig.Vehicle) check.Inequality {
	out := check.Known("Iout", "output of the unit", unit.Output)
	if !unit.Output.Stands() { // its label gives watts
		watts := check.Known("", "", unit.Power).Figure
		volts := c.ChargingV()
		out = check.Between("Iout", "power of the unit over the charging voltage", quantity.Current, watts.Value/volts, watts.Low/volts, watts.High/volts, watts.Source)
		out.Figure.State = watts.State
	}
	return check.Inequality{
		Formula: "Imean = Iout × (1 − r) ≥ f × Iout", Name: "mean current over a drive", Kind: quantity.Current,
		Inputs: []figure.Term{
			out, check.Known("r", "share of the drive for which the regulator rests", v.RestShare),
			check.Number("f", "share that counts as all the time", quantity.Share, nearly, check.Practice),
		},
		Hints:  map[string]string{"r": "watch the vehicle's voltage through half an hour of driving"},
		Source: check.Practice,
	}
}
