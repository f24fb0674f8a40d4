// Package m67 is the room of rule M67.
package m67

import (
	"fmt"

	"campwright/check"
	"campwright/figure"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M67", Title: "charge line fused at one end", Holds: "charge line is fused where fed", Worst: check.Stop,
	What: "Whether the charge line has a fuse at each end from which it can be fed: always at the vehicle, and at the bank too where a relay or a two-way unit " +
		"lets the bank feed it.",
	Why: "Chafed through, a line that is fused at one end burns from the other until that battery is empty. A trailer has burnt by its unfused charge " +
		"line.",
	Except:    "A one-way dc-dc unit cannot feed its line backwards: the fuse at the vehicle protects the line, and its output is fused at the bank like any charger's.",
	Formula:   "a fuse between each source and the line",
	Source:    check.Practice + "; low-voltage practice asks that all conductors are protected",
	Sure:      "as sure as the chain that is written",
	Questions: []string{"Can the unit feed the vehicle, or only the house?", "Where are the fuses of the line?"},
	Caution:   check.AlternatorOn,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	end, both, asked := -1, false, false
	for i := range c.Doc.ChargeLine {
		switch l := &c.Doc.ChargeLine[i]; {
		case l.Relay != nil:
			end, both = i, true
		case l.DCDC != nil:
			end = i
			both = l.DCDC.TwoWay == "yes"
			_, said, _ := c.Unit()
			asked = said.TwoWay == "" || said.TwoWay == "unknown"
		}
	}
	if end < 0 || !hasCable(c.Doc.ChargeLine[:end]) {
		return nil
	}
	front, back := fuses(c.Doc.ChargeLine, end)
	o := check.Outcome{Place: "charge line", Part: "charge line", Ways: []string{"a fuse at each end, within reach of its battery", "a one-way unit, which cannot feed the line backwards"}}
	switch {
	case !front:
		o.Verdict, o.Title = check.Stop, "charge line unfused at the vehicle"
	case back || !both && !asked:
		o.Verdict = check.Pass
		o.Detail = "It is fused at the vehicle, and nothing feeds it from the other end."
		if back {
			o.Detail = "It is fused at both ends."
		}
	case asked:
		o.Verdict = check.Undecided
		o.Title = "not told whether the unit works backwards"
		o.Detail = "It is fused at the vehicle alone, which is enough for a one-way unit."
		o.Measure = []string{"look up whether the dc-dc unit can feed the vehicle, and write two-way: yes or no"}
	default:
		o.Verdict, o.Title = check.Stop, "charge line unfused at the bank"
	}
	if o.Verdict == check.Stop {
		o.Tries = tries(c, end, front)
	}
	return []check.Outcome{o}
}

func hasCable(links []rig.Link) bool {
	for i := range links {
		if links[i].Run != nil || links[i].Ohms.State != figure.Absent {
			return true
		}
	}
	return false
}

// fuses tells whether a fuse stands before the first cable, and whether one stands behind the last, on either side of the unit or relay.
func fuses(links []rig.Link, end int) (front, back bool) {
	first, last := -1, -1
	for i := range links {
		if links[i].Run != nil || links[i].Ohms.State != figure.Absent {
			if i < end {
				last = i
			}
			if first < 0 {
				first = i
			}
		}
	}
	for i := range links {
		if links[i].Fuse.State == figure.Absent {
			continue
		}
		if i < first {
			front = true
		}
		if i > last {
			back = true
		}
	}
	return front, back
}

// tries adds the fuse that is missing, of the rating of the other.
func tries(c check.Case, end int, front bool) []check.Cure {
	rating := ""
	for i := range c.Said.ChargeLine {
		if f := c.Said.ChargeLine[i].Fuse; f.Given() {
			rating = f.Text()
		}
	}
	if !front {
		return c.FirstFuse()
	}
	if rating == "" {
		return nil
	}
	if l := &c.Said.ChargeLine[end]; l.DCDC != nil {
		return []check.Cure{{Words: "take a unit that cannot feed the vehicle", Edits: []rig.Edit{check.SetWord(fmt.Sprintf("charge line/%d/dc-dc/two-way", end+1), l.DCDC.TwoWay, "no")}}}
	}
	return []check.Cure{{Words: "add a fuse at the bank", Edits: []rig.Edit{{Path: fmt.Sprintf("charge line/%d", len(c.Said.ChargeLine)+1), New: "{fuse: " + rating + "}"}}}}
}
