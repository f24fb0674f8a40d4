// Package m17 is the room of rule M17.
package m17

import (
	"fmt"
	"math"
	"strings"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M17", Title: "array larger than the controller passes", Holds: "controller passes the array's noon", Worst: check.Note,
	What: "What the arrays of a controller make on a clear noon, against its limit of charge current at the charging voltage, or of power.",
	Why: "What is above the limit stays on the roof around noon. That is no danger: the controller takes what it can. It costs energy on bright " +
		"days and none on dull ones.",
	Except:  "Rules M01 and M18 judge what can break a controller: its voltage and its short-circuit current.",
	Formula: "W × 0.8 × 0.96 ≤ Iout × Vbat",
	Source:  check.Practice,
	Sure:    "a flat array at noon gives 70 to 90 % of its label",
	Run:     run,
}

// What a level array gives of its label on a clear noon, and a controller's efficiency there. Common practice, no source.
const noon, efficiency = 0.8, 0.96

func run(c check.Case) []check.Outcome {
	var list []check.Outcome
	for i := range c.Doc.Controllers {
		k := &c.Doc.Controllers[i]
		arrays := c.ArraysOn(k.Name)
		if len(arrays) == 0 || !k.Output.Stands() || c.Doc.Bank == nil {
			continue
		}
		watts := 0.0
		for _, a := range arrays {
			if m := c.Module(a.Module); m != nil {
				watts += m.Power.Quantity.Base * a.InSeries.Quantity.Base * a.Strings.Quantity.Base
			}
		}
		j := passes(watts, c.ChargingV(), k).Judge()
		o := j.Outcome("controllers/"+k.Name, "controller "+k.Name, check.Note)
		if o.Verdict == check.Note {
			o.Detail = fmt.Sprintf("%s are clipped at noon, about %s on a clear day, on %s.", in(j.Result-j.Limit, quantity.Power), in(clippedWh(j.Result, j.Limit), quantity.Energy), names(arrays))
		}
		list = append(list, o)
	}
	return list
}

// passes is the inequality of a controller.
func passes(watts, busV float64, k *rig.Controller) check.Inequality {
	q := check.Inequality{
		Formula: "Pnoon = W × k × η ≤ Iout × Vbat", Name: "power of a clear noon", Kind: quantity.Power,
		Inputs: []figure.Term{
			check.Number("W", "label power of its arrays", quantity.Power, watts, "arrays"),
			check.Number("k", "share of the label on a clear noon", quantity.Share, noon, check.Practice),
			check.Number("η", "efficiency", quantity.Share, efficiency, check.Practice),
			check.Known("Iout", "output limit of "+k.Name, k.Output), check.Number("Vbat", "bank while charging", quantity.Voltage, busV, check.Practice),
		},
		Hints:  map[string]string{"Iout": "read the output limit on " + k.Name},
		Source: check.Practice,
	}
	if k.Power.Given() {
		q.Formula = "Pnoon = W × k × η ≤ min(Iout × Vbat, Pout)"
		q.Inputs = append(q.Inputs, check.Known("Pout", "power limit of "+k.Name, k.Power))
	}
	return q
}

// dayHours is a clear day's sun, in a half sine. Common practice, no source.
const dayHours = 12

// clippedWh returns what lies above a limit on a clear day whose power is a half sine [Wh]: T/π·(2·P·cos x − L·(π − 2·x)) with x = asin(L/P).
// Ours: the integral of P·sin − L between its roots.
func clippedWh(noonW, limitW float64) float64 {
	if noonW <= limitW || noonW <= 0 {
		return 0
	}
	x := math.Asin(math.Max(0, limitW) / noonW)
	return dayHours / math.Pi * (2*noonW*math.Cos(x) - limitW*(math.Pi-2*x))
}

func names(arrays []*rig.Array) string {
	var list []string
	for _, a := range arrays {
		list = append(list, a.Name)
	}
	return strings.Join(list, ", ")
}

func in(x float64, kind quantity.Kind) string {
	return quantity.Format(quantity.Quantity{Base: x, Kind: kind}, quantity.Metric)
}
