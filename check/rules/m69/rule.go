// Package m69 is the room of rule M69.
package m69

import (
	"fmt"
	"strings"

	"campwright/check"
	"campwright/figure"
	"campwright/load"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M69", Title: "AC amps counted as DC amps", Holds: "no AC amps counted as DC", Worst: check.Fail,
	What: "Appliances that run on DC by the file, are given in amps, and go by the name of a household thing that heats, cooks or cools: whether " +
		"those amps at the bank's voltage could be it at all.",
	Why:     "An amp at 120 V is ten at 12 V. A sum that mixes them is short by ten times, and cable, fuse and bank are chosen by it.",
	Except:  "Known by name only. The same thing made for 12 V draws its power in real DC amps and passes.",
	Formula: "I × Vbank ≥ 300 W, the least that any of them takes",
	Source:  check.Practice,
	Sure:    "power is voltage times current; the list of names is ours",
	Run:     run,
}

// household is what people name things that take at least leastW on AC. Common practice, no source.
var household = []string{"microwave", "kettle", "toaster", "coffee maker", "hair dryer", "hairdryer", "induction", "hot plate", "hotplate", "space heater",
	"electric heater", "vacuum", "iron", "air fryer", "rice cooker", "instant pot", "pressure cooker", "griddle", "waffle", "dishwasher", "washing machine", "air conditioner", "blender"}

const leastW = 300

func run(c check.Case) []check.Outcome {
	var list []check.Outcome
	amps := 0
	for i := range c.Doc.Appliances {
		a, said := &c.Doc.Appliances[i], c.SaidAppliance(i)
		if a.Runs != "dc" || !a.Power.Rate.Given() || a.Power.Rate.Quantity.Kind != quantity.Current {
			continue
		}
		amps++
		if !named(a.Name) {
			continue
		}
		j := plausible(a, c.BankV()).Judge()
		o := j.Outcome(check.AppliancePath(a), a.Name, check.Fail)
		at := a.Power.Rate.Quantity.Base
		real := load.StartDCA(at*c.OutletV(), c.InverterEfficiency().Quantity.Base, c.BankV())
		if o.Verdict >= check.Warn {
			o.Detail = fmt.Sprintf("%s on its label are amps at %.0f V; from the bank they are %s.", check.Say(at, quantity.Current), c.OutletV(), check.Say(real, quantity.Current))
		}
		o.Ways = []string{"say that it runs on ac", "give its watts"}
		o.Tries = []check.Cure{{Words: "say that " + a.Name + " runs on ac", Edits: []rig.Edit{check.SetWord(o.Place+"/runs on", said.Runs, "ac")}}}
		list = append(list, o)
	}
	if len(list) == 0 && amps > 0 {
		list = append(list, check.Outcome{Verdict: check.Pass, Place: "rig", Part: "all appliances", Detail: figure.Plural(amps, "appliance", "") + " given in DC amps, none of them a household one."})
	}
	return list
}

func named(name string) bool {
	name = strings.ToLower(name)
	for _, h := range household {
		if strings.Contains(" "+name+" ", " "+h) {
			return true
		}
	}
	return false
}

func plausible(a *rig.Appliance, bankV float64) check.Inequality {
	return check.Inequality{
		Formula: "P = I × Vbank ≥ Pleast", Name: "power that the file counts", Kind: quantity.Power,
		Inputs: []figure.Term{
			check.Known("I", a.Name, a.Power.Rate), check.Number("Vbank", "nominal voltage of the bank", quantity.Voltage, bankV, "bank"),
			check.Number("Pleast", "least that such a thing takes", quantity.Power, leastW, check.Practice),
		},
		Hints:  map[string]string{"I": "read on the label of " + a.Name + " at which voltage its amps are meant"},
		Source: check.Practice,
	}
}
