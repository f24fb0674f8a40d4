// Package m53 is the room of rule M53.
package m53

import (
	"fmt"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M53", Title: "idle draw eats the day's energy", Holds: "idle draw is a small share", Worst: check.Warn,
	What: "What each inverter draws just to be on, through the hours for which it is on, against a tenth of what the rig uses in a day.",
	Why: "An inverter that is on for a night without a load takes as much as many loads do. Nothing seems to be on, and the bank is lower in the " +
		"morning.",
	Except:  "An inverter that is on only when something is used costs its idle draw for minutes. A search mode has its own draw.",
	Formula: "P × t ≤ 10 % × Eday",
	Source:  check.Practice,
	Sure:    "idle draw as said; where it is a default it may be half or twice",
	Run:     run,
}

// share is the part of a day's energy that being on may take. Common practice, no source.
const share = 0.1

func run(c check.Case) []check.Outcome {
	day, where, ok := c.AnyDay()
	if !ok || !c.Inverted() {
		return nil
	}
	var list []check.Outcome
	for i := range c.Doc.Inverters {
		v, said := &c.Doc.Inverters[i], &c.Said.Inverters[i]
		path := "inverters/" + v.Name
		if v.On.Word == "when used" || v.On.Word == "never" {
			list = append(list, check.Outcome{Verdict: check.Pass, Place: path, Part: "inverter " + v.Name, Detail: "It is on " + v.On.Word + "."})
			continue
		}
		hours := onHours(v)
		j := idle(v, hours, day, where, c.BankV()).Judge()
		o := j.Outcome(path, "inverter "+v.Name, check.Warn)
		o.Detail = fmt.Sprintf("That is %s and %.0f %% of %s.", check.Say(j.Result/c.BankV(), quantity.Charge), 100*j.Result/day.TotalWh, where)
		o.Ways = []string{"switch it on when something needs it", "a search mode, or a small inverter for small loads"}
		o.Tries = []check.Cure{
			{Words: "switch " + v.Name + " on when used", Edits: []rig.Edit{check.SetHours(path+"/on", said.On, "when used")}},
			{Words: "switch " + v.Name + " off at night", Edits: []rig.Edit{check.SetHours(path+"/on", said.On, "07:00-22:00")}},
		}
		list = append(list, o)
	}
	return list
}

// onHours returns for how long an inverter is on in a day [h].
func onHours(v *rig.Inverter) float64 {
	if v.On.Word == "always" {
		return 24
	}
	return float64(v.On.Minutes()) / 60
}

func idle(v *rig.Inverter, hours float64, day system.Budget, where string, bankV float64) check.Inequality {
	p := check.Watts("P", "idle draw of "+v.Name, v.Idle, bankV)
	return check.Inequality{
		Formula: "Eidle = P × t ≤ f × Eday", Name: "idle draw of a day", Kind: quantity.Energy,
		Inputs: []figure.Term{
			p, check.Number("t", "on in a day", quantity.Duration, hours, "its hours"), check.Number("f", "share that it may take", quantity.Share, share, check.Practice),
			check.Computed("Eday", "what the rig uses, "+where, quantity.Energy, day.TotalWh, "appliances"),
		},
		Hints:  map[string]string{"P": "read the bank's current with " + v.Name + " on and nothing drawing, less that with it off"},
		Source: check.Practice,
	}
}
