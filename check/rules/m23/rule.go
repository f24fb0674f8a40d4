// Package m23 is the room of rule M23.
package m23

import (
	"fmt"
	"math"
	"slices"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M23", Title: "inverter larger than the battery's limit", Holds: "battery bears the inverter", Worst: check.Fail,
	What: "The current that an inverter takes at its rating from a bank that is low, against the lasting discharge limit of all blocks together; and, where the wiring " +
		"is written, what the solved network takes from the bank with inverters and DC loads together.",
	Why: "The electronics of a lithium battery open, and everything is dark at once, detectors and all.",
	Except: "Blocks are taken to share alike; whether their leads let them is rules M27 and M28. An inverter that is never loaded to its rating can be " +
		"lived with: the largest honest load is told.",
	Formula:   "P / η / V ≤ N × Ilim",
	Source:    "power over voltage; low voltage 0.97 of nominal: " + check.Practice,
	Sure:      "limits are the maker's; the efficiency moves it by a few per cent",
	Questions: []string{"What lasting discharge current does one block allow?"},
	Caution:   check.BatteryFault,
	Run:       run,
}

// lowShare is the voltage of a bank that is low and loaded, of its nominal: 12.4 V for 12.8. Common practice, no source.
const lowShare = 0.97

func run(c check.Case) []check.Outcome {
	b := c.Doc.Bank
	if b == nil || !b.Block.DischargeLimit.Stands() {
		return nil
	}
	var list []check.Outcome
	for i := range c.Doc.Inverters {
		if v := &c.Doc.Inverters[i]; v.Power.Stands() {
			list = append(list, judge(c, v))
		}
	}
	if o, ok := together(c); ok && !slices.ContainsFunc(list, func(x check.Outcome) bool { return x.Verdict >= o.Verdict }) {
		list = append(list, o)
	}
	return list
}

// together judges what the solved network takes from the bank in the state that asks most of it; nothing where it is within the limit.
func together(c check.Case) (check.Outcome, bool) {
	n := c.Nets()
	if n == nil || !c.Wired() {
		return check.Outcome{}, false
	}
	b, flow := c.Doc.Bank, n.Discharge()
	q := check.Inequality{
		Formula: "I = Ibank ≤ N × Ilim", Name: "current out of the bank", Kind: quantity.Current, Source: "Kirchhoff's laws",
		Inputs: []figure.Term{flow.Term("Ibank", "current out of the bank, all loads together"), check.Known("N", "blocks side by side", b.Blocks),
			check.Known("Ilim", "lasting limit of one block", b.Block.DischargeLimit)},
		Hints: map[string]string{"Ilim": "look up the lasting discharge current of one block", "Ibank": "measure the current out of the bank with everything on"},
	}
	o := q.Judge().Outcome("bank", "bank", check.Fail)
	if o.Verdict == check.Pass {
		return o, false
	}
	if o.Verdict == check.Fail {
		o.Title = "loads together exceed the battery's limit"
	}
	o.Detail = fmt.Sprintf("In state %q %s flow.", flow.State, check.Say(flow.Amps, quantity.Current))
	if b.Chemistry != "LFP" {
		o.Consequence = consequence
	}
	o.Ways = []string{"another block in parallel", "a smaller inverter, or loads that are not run together"}
	o.Tries = blocks(c)
	return o, true
}

const consequence = "The bank's voltage falls until the inverter stops, its plates age fast, and what it gives at that rate is a small part of its label."

// blocks adds blocks, as tries of a cure.
func blocks(c check.Case) []check.Cure {
	n := c.Said.Bank
	if n == nil || !n.Blocks.Given() {
		return nil
	}
	var list []check.Cure
	for k := 1; k <= 3; k++ {
		text := fmt.Sprintf("%.0f", n.Blocks.Quantity.Base+float64(k))
		list = append(list, check.Cure{Words: "make it " + text + " blocks", Edits: []rig.Edit{check.Set("bank/blocks", n.Blocks, text)}})
	}
	return list
}

func judge(c check.Case, v *rig.Inverter) check.Outcome {
	b := c.Doc.Bank
	q := check.Inequality{
		Formula: "I = P / η / V ≤ N × Ilim", Name: "current at its rating", Kind: quantity.Current, Source: "power over voltage",
		Inputs: []figure.Term{
			check.Known("P", "rating of "+v.Name, v.Power), check.Known("η", "its efficiency", v.Efficiency),
			check.Number("V", "bank low and loaded", quantity.Voltage, low(c), check.Practice),
			check.Known("N", "blocks side by side", b.Blocks), check.Known("Ilim", "lasting limit of one block", b.Block.DischargeLimit),
		},
		Hints: map[string]string{"Ilim": "look up the lasting discharge current of one block", "η": "look up the efficiency of " + v.Name + " at full load"},
	}
	o := q.Judge().Outcome("inverters/"+v.Name, "inverter "+v.Name, check.Fail)
	honest := math.Floor(b.Blocks.Quantity.Base*b.Block.DischargeLimit.Quantity.Base*low(c)*v.Efficiency.Quantity.Base/10) * 10
	watts := check.Say(honest, quantity.Power)
	if o.Verdict == check.Pass {
		o.Detail = check.Taken("lasting limit of a block", c.Said.Bank.Block.DischargeLimit)
	} else {
		o.Detail = fmt.Sprintf("The largest load that the bank bears is %s.", watts)
		if b.Chemistry != "LFP" {
			o.Consequence = consequence
		}
	}
	o.Ways = []string{"another block in parallel", fmt.Sprintf("an inverter of %s, or loads kept below that", watts)}
	o.Tries = append(o.Tries, blocks(c)...)
	return o
}

func low(c check.Case) float64 { return math.Round(lowShare*c.BankV()*100) / 100 }
