// Package m51 is the room of rule M51.
package m51

import (
	"fmt"

	"campwright/check"
	"campwright/figure"
	"campwright/gas"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M51", Title: "absorption refrigerator left on the inverter", Holds: "absorption refrigerator off the inverter", Worst: check.Fail,
	What: "An absorption refrigerator that is set to AC where the inverter makes it: what its element takes in a day, against the bank.",
	Why: "Its heating element draws hundreds of watts for most of the day. On propane it needs next to no electricity; on the inverter the bank is " +
		"flat by morning.",
	Except:  "One that is set to propane and switches to AC by itself is rule N06. A bank that bears a day of it gets a WARN, one that bears three days a note with the figure.",
	Formula: "P × d × 24 h / ηi ≤ Ebank",
	Source:  check.Practice,
	Sure:    "element and duty as said; duty rises in heat",
	Run:     run,
}

// days is how long a bank must feed the element for its use of the inverter to be worth no more than a note [d]. Common practice, no source.
const days = 3

// setTo tells what the refrigerator is set to.
var setTo = map[string]string{"ac": "It is set to AC, which no inverter gives it.", "dc": "It is set to DC.", "propane": "It is set to propane.", "off": "It is switched off."}

func run(c check.Case) []check.Outcome {
	if c.Doc.Bank == nil || len(c.Doc.Inverters) == 0 {
		return nil
	}
	var list []check.Outcome
	for i := range c.Doc.Appliances {
		a, said := &c.Doc.Appliances[i], c.SaidAppliance(i)
		if a.Kind != "absorption refrigerator" {
			continue
		}
		o := check.Outcome{Verdict: check.Pass, Place: check.AppliancePath(a), Part: a.Name, Detail: setTo[a.Runs]}
		if a.Runs == "ac" && a.TakesAC != "shore only" && c.OffGrid() {
			j := day(c, a).Judge()
			o = j.Outcome(o.Place, o.Part, check.Fail)
			label, _ := c.UsableWh()
			o.Detail = fmt.Sprintf("The bank of %s lasts %.1f h. On propane it burns %s a day.", check.Say(label, quantity.Energy), 24*label/j.Result, burns(c, a))
			if o.Verdict == check.Pass {
				o.Verdict, o.Title = check.Warn, "absorption refrigerator runs on the inverter"
				o.Consequence = "It takes most of what the bank holds, every day, for what propane does with next to none."
				if j.Result < label/days {
					o.Verdict, o.Consequence = check.Note, ""
				}
			}
			o.Ways = []string{"set it to propane where there is no hookup", "lock its element out while the inverter feeds the circuit"}
			o.Tries = []check.Cure{
				{Words: "set " + a.Name + " to propane", Edits: []rig.Edit{check.SetWord(o.Place+"/runs on", said.Runs, "propane"), check.SetWord(o.Place+"/takes AC", said.TakesAC, "shore only")}},
			}
		}
		list = append(list, o)
	}
	return list
}

// day is what the element takes in a day against the bank.
func day(c check.Case, a *rig.Appliance) check.Inequality {
	label, _ := c.UsableWh()
	return check.Inequality{
		Formula: "Eday = P × d × h / ηi ≤ Ebank", Name: "from the bank in a day", Kind: quantity.Energy,
		Inputs: []figure.Term{
			check.Watts("P", "element of "+a.Name, a.Electric.Rate, c.OutletV()), check.Known("d", "share of the day for which it heats", a.Electric.Duty),
			check.Number("h", "a day", quantity.Duration, 24, "day"), check.Known("ηi", "efficiency of the inverter", c.InverterEfficiency()),
			check.Number("Ebank", "the whole bank, by its label", quantity.Energy, label, "bank"),
		},
		Source: check.Practice,
	}
}

func burns(c check.Case, a *rig.Appliance) string {
	return c.Say(24*gas.KgPerH(a.Propane.Rate.Quantity.Base*a.Propane.Duty.Quantity.Base), quantity.Mass)
}
