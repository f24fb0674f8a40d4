// Package m52 is the room of rule M52.
package m52

import (
	"fmt"

	"campwright/check"
	"campwright/figure"
	"campwright/load"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M52", Title: "water heater element on the inverter", Holds: "water heater spares the bank", Worst: check.Warn,
	What: "A water heater that is set to AC where the inverter makes it: the charge that one tankful takes, against a tenth of the bank.",
	Why: "Water holds more heat than a bank holds charge. One shower costs what a small rig uses in a night, at a current that warms every joint on " +
		"its way.",
	Except:  "One that is set to propane and switches to AC by itself is rule N06. The tank is taken as six gallons, warmed by 40 K.",
	Formula: "m × c × ΔT / (ηi × Vbank) ≤ a tenth of the bank",
	Source:  check.Practice,
	Sure:    "heat of water within 1 %; the tank's size is a guess",
	Run:     run,
}

// A tankful of hot water: six gallons [L], by so much [K]; and the share of the bank that it may take. Common practice, no source.
const litres, riseK, share = 22.7, 40, 0.1

func run(c check.Case) []check.Outcome {
	if c.Doc.Bank == nil || len(c.Doc.Inverters) == 0 {
		return nil
	}
	var list []check.Outcome
	for i := range c.Doc.Appliances {
		a, said := &c.Doc.Appliances[i], c.SaidAppliance(i)
		if a.Kind != "water heater" {
			continue
		}
		o := check.Outcome{Verdict: check.Pass, Place: check.AppliancePath(a), Part: a.Name, Detail: "It is set to " + a.Runs + "."}
		if a.Runs == "ac" && a.TakesAC != "shore only" && c.OffGrid() {
			o = tankful(c).Judge().Outcome(o.Place, o.Part, check.Warn)
			watts := check.Watts("P", "", a.Electric.Rate, c.OutletV()).Figure.Value
			o.Detail = fmt.Sprintf("A tankful is %s at the element; while it heats the bank gives %s.", check.Say(load.HeatWaterWh(litres, riseK), quantity.Energy),
				check.Say(load.StartDCA(watts, c.InverterEfficiency().Quantity.Base, c.BankV()), quantity.Current))
			o.Ways = []string{"set it to propane where there is no hookup", "lock its element out while the inverter feeds the circuit"}
			o.Tries = []check.Cure{
				{Words: "set " + a.Name + " to propane", Edits: []rig.Edit{check.SetWord(o.Place+"/runs on", said.Runs, "propane"), check.SetWord(o.Place+"/takes AC", said.TakesAC, "shore only")}},
				{Words: "let " + a.Name + " have shore power only", Edits: []rig.Edit{check.SetWord(o.Place+"/takes AC", said.TakesAC, "shore only")}},
			}
		}
		list = append(list, o)
	}
	return list
}

// tankful is the charge of one tankful against the bank.
func tankful(c check.Case) check.Inequality {
	return check.Inequality{
		Formula: "Qtank = Eheat / (ηi × Vbank) ≤ f × Qbank", Name: "charge of a tankful", Kind: quantity.Charge,
		Inputs: []figure.Term{
			check.Computed("Eheat", "heat of six gallons by 40 K", quantity.Energy, load.HeatWaterWh(litres, riseK), "specific heat of water"),
			check.Known("ηi", "efficiency of the inverter", c.InverterEfficiency()), check.Number("Vbank", "nominal voltage of the bank", quantity.Voltage, c.BankV(), "bank"),
			check.Number("f", "share that a tankful may take", quantity.Share, share, check.Practice), c.BankAh("Qbank"),
		},
		Source: check.Practice,
	}
}
