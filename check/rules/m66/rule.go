// Package m66 is the room of rule M66.
package m66

import (
	"fmt"

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
	Except:    "A fixed regulator, or a unit that wakes on the engine-run signal.",
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
	o := check.Outcome{Verdict: check.Pass, Place: path, Part: "dc-dc unit", Detail: "It wakes on the " + unit.Wake + "; the regulator is " + v.Regulation + "."}
	switch {
	case v.Regulation == "variable" && said.Wake == "":
		o.Verdict, o.Title, o.Detail = check.Undecided, "not known what starts the unit", ""
		o.Measure = []string{"look up what starts the unit: a signal from the engine, the vehicle's voltage, or a switch"}
	case unit.Wake == "voltage" && c.Said.Vehicle.Regulation == "":
		o.Verdict, o.Title, o.Detail = check.Undecided, "not known whether the vehicle's voltage rests", ""
		o.Measure = []string{"watch the vehicle's voltage through half an hour of driving: does it fall below 13.2 V?"}
	case unit.Wake == "voltage" && v.Regulation == "variable":
		o = mean(unit, v).Judge().Outcome(path, "dc-dc unit", check.Warn)
		o.Detail = fmt.Sprintf("Its label says %s.", check.Say(unit.Output.Quantity.Base, quantity.Current))
		o.Ways = []string{"wake the unit by the engine-run signal", "drive with the headlights on, which keeps some regulators up"}
		o.Tries = []check.Cure{{Words: "wake the unit by the engine-run signal", Edits: []rig.Edit{check.SetWord(path+"/wakes on", said.Wake, "engine signal")}}}
	}
	return []check.Outcome{o}
}

// mean is the current over a drive.
func mean(unit *rig.DCDC, v *rig.Vehicle) check.Inequality {
	return check.Inequality{
		Formula: "Imean = Iout × (1 − r) ≥ f × Iout", Name: "mean current over a drive", Kind: quantity.Current,
		Inputs: []figure.Term{
			check.Known("Iout", "output of the unit", unit.Output), check.Known("r", "share of the drive for which the regulator rests", v.RestShare),
			check.Number("f", "share that counts as all the time", quantity.Share, nearly, check.Practice),
		},
		Hints:  map[string]string{"r": "watch the vehicle's voltage through half an hour of driving"},
		Source: check.Practice,
	}
}
