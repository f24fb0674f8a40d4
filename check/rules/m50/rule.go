// Package m50 is the room of rule M50.
package m50

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
	ID: "M50", Title: "inverter feeds its own bank's charger", Holds: "charger stays off the inverter's circuits", Worst: check.Fail,
	What: "Each shore charger: whether it also runs on the circuits that the inverter feeds. Where the wiring of the AC side is written back to its sources, its runs tell; otherwise the words \"fed by\".",
	Why: "The bank then charges itself through two losses. It empties in hours with nothing switched on, and the charger's lamp says that all is " +
		"well.",
	Except:    "An inverter/charger in one case does not feed its own charger.",
	Formula:   "Iout × Vbat × (1 − 1 / (ηc × ηi)) ≥ 0: what the bank gains",
	Source:    check.Practice,
	Sure:      "arithmetic of two efficiencies below one",
	Questions: []string{"Is the charger wired ahead of the transfer switch, or behind it?"},
	Caution:   check.ShorePower,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	if c.Doc.Shore == nil || len(c.Doc.Inverters) == 0 {
		return nil
	}
	var list []check.Outcome
	for i := range c.Doc.Shore.Chargers {
		k, said := &c.Doc.Shore.Chargers[i], &c.Said.Shore.Chargers[i]
		o := check.Outcome{Verdict: check.Pass, Place: "shore/chargers/" + k.Name, Part: "charger " + k.Name}
		way, wired := c.ACWay("charger " + k.Name + " ac")
		switch {
		case len(way) > 0:
			o = eaten(c, k, o)
			o.Detail = strings.TrimSpace("The wiring leads from " + strings.Join(way, " to ") + ". " + o.Detail)
			o.Ways = []string{"feed the charger from the shore side of the transfer switch", "switch its breaker off whenever the inverter is on"}
		case wired && k.FedBy == "any AC" && said.FedBy == "any AC":
			o.Verdict, o.Title = check.Undecided, "words and wiring of the charger disagree"
			o.Detail = "It is said to run on any AC, and the wiring that is written feeds it from no inverter."
			o.Measure = []string{"unplug shore, switch the inverter on, and look whether " + k.Name + " charges; then mend the words or the wiring"}
		case wired:
			o.Detail = "The wiring feeds it from no inverter."
		case check.Untold(said.FedBy):
			o.Verdict, o.Title = check.Undecided, "not known what feeds the charger"
			o.Measure = []string{"unplug shore, switch the inverter on, and look whether " + k.Name + " charges"}
		case k.FedBy == "any AC":
			o = eaten(c, k, o)
			o.Ways = []string{"feed the charger from the shore side of the transfer switch", "switch its breaker off whenever the inverter is on"}
			o.Tries = []check.Cure{{Words: "feed " + k.Name + " from shore only", Edits: []rig.Edit{check.SetWord(o.Place+"/fed by", said.FedBy, "shore only")}}}
		default:
			o.Detail = "It is fed by shore only."
		}
		list = append(list, o)
	}
	return list
}

// eaten judges a charger on the inverter's circuits.
func eaten(c check.Case, k *rig.Charger, o check.Outcome) check.Outcome {
	j := loop(c, k).Judge()
	o = j.Outcome(o.Place, o.Part, check.Fail)
	o.Margin = nil // a share of nothing
	if label, _ := c.UsableWh(); j.Result < 0 && label > 0 {
		o.Detail = fmt.Sprintf("The bank of %s is gone in %.0f h with nothing on.", check.Say(label, quantity.Energy), label/-j.Result)
	}
	return o
}

// loop is what the bank gains by charging itself.
func loop(c check.Case, k *rig.Charger) check.Inequality {
	return check.Inequality{
		Formula: "Pnet = Iout × Vbat × (1 − 1 / (ηc × ηi)) ≥ Pzero", Name: "what the bank gains", Kind: quantity.Power,
		Inputs: []figure.Term{
			check.Known("Iout", "charger "+k.Name, k.Output), check.Number("Vbat", "bank while charging", quantity.Voltage, c.ChargingV(), check.Practice),
			check.Known("ηc", "efficiency of the charger", k.Efficiency), check.Known("ηi", "efficiency of the inverter", c.InverterEfficiency()),
			check.Number("Pzero", "nothing", quantity.Power, 0, "a charger must not empty its bank"),
		},
		Source: check.Practice,
	}
}
