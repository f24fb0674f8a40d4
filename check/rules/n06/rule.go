// Package n06 is the room of rule N06.
package n06

import (
	"fmt"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "N06", Title: "appliance takes the inverter's AC itself", Holds: "appliance leaves the inverter's AC alone", Worst: check.Fail,
	What: "Appliances that switch to AC by themselves as soon as AC is there, in a rig whose inverter makes it: what that takes from the bank.",
	Why: "Set to automatic, a refrigerator or water heater cannot tell shore from inverter. It drops propane and drains the bank with hundreds of watts, " +
		"unseen, whenever the inverter is on.",
	Except:    "One that is set to AC by hand is rule M51 or M52, a charger on the inverter's circuits rule M50.",
	Formula:   "P / (ηi × Vbank) ≤ 0: nothing that burns propane should draw it",
	Source:    check.Practice,
	Sure:      "how an appliance switches stands in its manual",
	Questions: []string{"Does the appliance switch to AC by itself, and is its circuit fed by the inverter?"},
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	if len(c.Doc.Inverters) == 0 || c.Doc.Bank == nil {
		return nil
	}
	var list []check.Outcome
	for i := range c.Doc.Appliances {
		a, said := &c.Doc.Appliances[i], c.SaidAppliance(i)
		if a.Runs == "ac" || a.Runs == "off" || !twoWays(a, said) {
			continue
		}
		o := check.Outcome{Verdict: check.Pass, Place: check.AppliancePath(a), Part: a.Name}
		switch a.TakesAC {
		case "always":
			j := draws(c, a).Judge()
			o = j.Outcome(o.Place, o.Part, check.Fail)
			o.Margin = nil
			if !j.Unknown { // any draw is too much, whatever it is
				o.Verdict, o.Measure = check.Fail, nil
			}
			label, _ := c.UsableWh()
			o.Detail = fmt.Sprintf("The whole bank lasts %.0f h under it.", label/(j.Result*c.BankV()))
			o.Ways = []string{"lock it out while the inverter feeds the circuit: a relay, or its own breaker off", "feed its outlet from the shore side alone"}
			o.Tries = []check.Cure{{Words: "let " + a.Name + " have shore power only", Edits: []rig.Edit{check.SetWord(o.Place+"/takes AC", said.TakesAC, "shore only")}}}
		case "":
			o.Verdict, o.Title = check.Undecided, "not known when it takes AC"
			o.Measure = []string{"switch the inverter on with shore unplugged, set " + a.Name + " to automatic, and look which it takes"}
		default:
			o.Detail = "It takes AC: " + a.TakesAC + "."
		}
		list = append(list, o)
	}
	return list
}

// twoWays tells whether an appliance can run on AC besides what feeds it now.
func twoWays(a, said *rig.Appliance) bool {
	if a.TakesAC != "" || said.TakesAC != "" {
		return true
	}
	return a.Kind == "absorption refrigerator" || said.Electric.Rate.State != figure.Absent
}

// draws is what an appliance takes from the bank through the inverter.
func draws(c check.Case, a *rig.Appliance) check.Inequality {
	return check.Inequality{
		Formula: "Ibank = P / (ηi × Vbank) ≤ Inone", Name: "taken from the bank", Kind: quantity.Current,
		Inputs: []figure.Term{
			check.Watts("P", "AC side of "+a.Name, check.Element(a).Rate, c.OutletV()), check.Known("ηi", "efficiency of the inverter", c.InverterEfficiency()),
			check.Number("Vbank", "nominal voltage of the bank", quantity.Voltage, c.BankV(), "bank"), check.Number("Inone", "nothing", quantity.Current, 0, "it can burn propane"),
		},
		Hints:  map[string]string{"P": "read the watts of its element on the label of " + a.Name},
		Source: check.Practice,
	}
}
