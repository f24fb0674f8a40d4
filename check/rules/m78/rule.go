// Package m78 is the room of rule M78.
package m78

import (
	"fmt"
	"slices"
	"strings"

	"campwright/check"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M78", Title: "spark beside vented battery or propane", Holds: "no spark beside gas", Worst: check.Stop,
	What: "What sits in the bay of flooded batteries, and in any bay with propane: inverters, chargers, controllers, dc-dc unit, relay and generator, which spark, and " +
		"appliances that burn; and whether the bay of flooded batteries is open to outside air.",
	Why: "A flooded battery gives off hydrogen while it charges, and a leaking fitting gives off propane. In a closed bay either gathers until a relay clicks.",
	Except: "AGM, gel and LFP vent only when they fail. Fuses, switches and lugs are left out: they have no place of their own in the file, and belong outside as well. Rigs " +
		"without flooded batteries whose bays do not speak of propane have nothing to judge.",
	Formula:   "bay of the battery or of propane holds nothing that sparks or burns; open at top and bottom",
	Source:    "vent of 1.7 square inches at top and bottom, no spark beside batteries: NFPA 1192 and RVIA LV, from memory; " + check.Practice,
	Sure:      "as sure as the list of what sits where",
	Questions: []string{"Which bay holds the batteries, which the propane, and what else sits there?", "Is the bay open to outside air at top and bottom?"},
	Caution:   check.LeadAcid,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	flooded := c.Doc.Bank != nil && c.Doc.Bank.Chemistry == "flooded"
	var bays []rig.Bay
	if c.Said.Wiring != nil {
		bays = c.Said.Wiring.Bays
	}
	var list []check.Outcome
	home := false
	for i := range bays {
		b := &bays[i]
		holdsBank := flooded && slices.ContainsFunc(b.Holds, func(name string) bool {
			return name == "bank" || strings.HasPrefix(name, "bank ") || strings.HasPrefix(name, "block ")
		})
		home = home || holdsBank
		if holdsBank || b.Propane == "yes" {
			list = append(list, judge(c, bays, b, holdsBank))
		}
	}
	if flooded && !home {
		list = append(list, check.Outcome{Verdict: check.Undecided, Place: "bank", Part: "bank", Title: "not told what sits beside batteries",
			Measure: []string{"look what sits in the same bay as the batteries, and whether the bay is open to outside air at top and bottom"}})
	}
	return list
}

func judge(c check.Case, bays []rig.Bay, b *rig.Bay, bank bool) check.Outcome {
	o := check.Outcome{Place: "wiring/bays/" + b.Name, Part: "bay " + b.Name}
	gas := "propane"
	if bank {
		gas = "flooded batteries"
	}
	var here, nowhere []string
	for _, s := range sparks(c) {
		switch {
		case holds(b, s):
			here = append(here, s)
		case strings.HasPrefix(s, "appliance ") && b.Propane != "yes":
			// The list of the bay is taken at its word for what stands in a room.
		case !slices.ContainsFunc(bays, func(x rig.Bay) bool { return holds(&x, s) }):
			nowhere = append(nowhere, s)
		}
	}
	switch {
	case len(here) > 0:
		o.Verdict = check.Stop
		o.Detail = fmt.Sprintf("With the %s in it: %s.", gas, strings.Join(here, ", "))
		o.Tries = moves(bays, b, here)
	case bank && b.Vented == "no":
		o.Verdict, o.Title = check.Fail, "bay of vented batteries not vented"
		o.Detail = "Hydrogen gathers under its lid."
		o.Tries = []check.Cure{{Words: "open the bay to outside air at top and bottom", Edits: []rig.Edit{check.SetWord(o.Place+"/vented", b.Vented, "yes")}}}
	case len(nowhere) > 0 || bank && b.Vented != "yes":
		o.Verdict, o.Title = check.Undecided, "not told what sits beside "+gas
		if len(nowhere) > 0 {
			o.Measure = append(o.Measure, "look which bay holds "+strings.Join(nowhere, ", "))
		}
		if bank && b.Vented != "yes" {
			o.Measure = append(o.Measure, fmt.Sprintf("look whether bay %s is open to outside air at top and bottom", b.Name))
		}
	default:
		o.Verdict, o.Detail = check.Pass, "Nothing that sparks or burns is listed in it."
	}
	o.Ways = []string{"move what sparks into another bay", "a closed box of its own for what gives off gas, open to outside air alone at top and bottom"}
	return o
}

// holds tells whether a bay holds a part, by the names that runs use.
func holds(b *rig.Bay, name string) bool {
	return slices.ContainsFunc(b.Holds, func(h string) bool { return h == name || strings.HasPrefix(h, name+" ") })
}

// sparks returns the parts that spark or burn, by the names that runs use.
func sparks(c check.Case) []string {
	var list []string
	d := c.Doc
	for i := range d.Inverters {
		list = append(list, "inverter "+d.Inverters[i].Name)
	}
	for i := range d.Controllers {
		list = append(list, "controller "+d.Controllers[i].Name)
	}
	if d.Shore != nil {
		for i := range d.Shore.Chargers {
			list = append(list, "charger "+d.Shore.Chargers[i].Name)
		}
	}
	for i := range d.ChargeLine {
		switch l := &d.ChargeLine[i]; {
		case l.DCDC != nil:
			list = append(list, "dc-dc")
		case l.Relay != nil:
			list = append(list, "relay")
		}
	}
	for i := range d.Generators {
		list = append(list, "generator "+d.Generators[i].Name)
	}
	for i := range d.Appliances {
		if a := &d.Appliances[i]; a.Propane.Rate.Stands() && a.Runs == "propane" {
			list = append(list, "appliance "+a.Name)
		}
	}
	return list
}

// moves returns the edits that put all that sparks into another bay: each that has neither the batteries nor propane in turn.
func moves(bays []rig.Bay, from *rig.Bay, what []string) []check.Cure {
	var list []check.Cure
	stay := slices.DeleteFunc(slices.Clone(from.Holds), func(h string) bool {
		return slices.ContainsFunc(what, func(w string) bool { return h == w || strings.HasPrefix(h, w+" ") })
	})
	for i := range bays {
		to := &bays[i]
		if to.Name == from.Name || to.Propane == "yes" || holds(to, "bank") || holds(to, "block") {
			continue
		}
		list = append(list, check.Cure{Words: fmt.Sprintf("move %s into bay %s", strings.Join(what, " and "), to.Name), Edits: []rig.Edit{
			{Path: "wiring/bays/" + from.Name + "/holds", Old: names(from.Holds), New: names(stay)},
			{Path: "wiring/bays/" + to.Name + "/holds", Old: names(to.Holds), New: names(append(slices.Clone(to.Holds), what...))},
		}})
	}
	return list
}

// names writes names as the file does.
func names(list []string) string {
	if len(list) == 0 {
		return ""
	}
	return "[" + strings.Join(list, ", ") + "]"
}
