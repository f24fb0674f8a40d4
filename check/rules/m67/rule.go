// Package m67 is the room of rule M67.
package m67

import (
	"fmt"
	"strings"

	"campwright/check"
	"campwright/conductor"
	"campwright/figure"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M67", Title: "charge line fused at one end", Holds: "charge line is fused where fed", Worst: check.Stop,
	What: "Every cable of the charge line, and each source that can feed it: whether a fuse stands between. The vehicle feeds all cable ahead of the unit, and through a " +
		"relay what lies behind it; the bank feeds all cable behind the unit, and what lies ahead of it through a relay or a two-way unit.",
	Why: "Chafed through, a line that is fused at one end burns from the other until that battery is empty. A trailer has burnt by its unfused charge " +
		"line.",
	Except: "A one-way dc-dc unit cannot feed its line backwards: the fuse at the vehicle protects what lies ahead of it. Cable up to the first fuse counts as fused where it " +
		"is no longer than the rig's book allows there. Cable behind the unit that is written under the wiring is left to rules M33 and M34.",
	Formula:   "a fuse between each source and the line",
	Source:    check.Practice + "; low-voltage practice asks that all conductors are protected",
	Sure:      "as sure as the chain that is written",
	Questions: []string{"Can the unit feed the vehicle, or only the house?", "Where are the fuses of the line?"},
	Caution:   check.AlternatorOn,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	links, unit := c.Doc.ChargeLine, -1
	tied, twoWay := -1, "no"
	for i := range links {
		switch l := &links[i]; {
		case l.DCDC != nil && unit < 0:
			_, said, _ := c.Unit()
			unit, twoWay = i, said.TwoWay
		case l.Relay != nil:
			tied = i
		}
	}
	if unit < 0 && tied < 0 {
		return nil // nothing says how the line ends
	}
	var bare bareAt
	cables := 0
	for i := range links {
		if !cable(&links[i]) || max(unit, tied) < i && outWired(c) {
			continue
		}
		cables++
		if unit < 0 || i < unit {
			bare.vehicle = bare.vehicle || !fused(c, links[:i], &links[i], false)
		}
		if open := !fused(c, links[i+1:], &links[i], true); open {
			switch {
			case unit < i || twoWay == "yes":
				bare.bank = true
			case twoWay != "no":
				bare.asked = true
			}
		}
	}
	if cables == 0 {
		return nil
	}
	return []check.Outcome{bare.outcome(c, unit, twoWay == "no")}
}

// bareAt is at which end a cable of the line lies without a fuse before the source there.
type bareAt struct {
	vehicle, bank bool
	asked         bool // at the bank, where the unit works backwards
}

func (b bareAt) outcome(c check.Case, unit int, oneWay bool) check.Outcome {
	o := check.Outcome{Place: "charge line", Part: "charge line", Ways: []string{"a fuse at each end, within reach of its battery", "a one-way unit, which cannot feed the line backwards"}}
	switch {
	case b.vehicle:
		o.Verdict, o.Title, o.Tries = check.Stop, "charge line unfused at the vehicle", c.FirstFuse()
		if b.bank {
			o.Detail = "It is unfused at the bank too."
		}
	case b.bank:
		o.Verdict, o.Title, o.Tries = check.Stop, "charge line unfused at the bank", tries(c, unit)
		if oneWay {
			o.Detail = "Cable lies between the unit and the bank, and the bank feeds it."
		}
	case b.asked:
		o.Verdict, o.Title = check.Undecided, "not told whether the unit works backwards"
		o.Detail = "It is fused at the vehicle alone, which is enough for a one-way unit."
		o.Measure = []string{"look up whether the dc-dc unit can feed the vehicle, and write two-way: yes or no"}
	case oneWay:
		o.Verdict, o.Detail = check.Pass, "It is fused at the vehicle, and nothing feeds it from the other end without a fuse."
	default:
		o.Verdict, o.Detail = check.Pass, "It is fused at both ends."
	}
	return o
}

// cable tells whether a link is cable.
func cable(l *rig.Link) bool { return l.Run != nil || l.Ohms.State != figure.Absent }

// outWired tells whether the written wiring has the cable behind the unit or relay.
func outWired(c check.Case) bool {
	if c.Said.Wiring == nil {
		return false
	}
	for i := range c.Said.Wiring.Runs {
		r := &c.Said.Wiring.Runs[i]
		for _, end := range []string{r.From, r.To} {
			if strings.HasPrefix(end, "dc-dc out") || strings.HasPrefix(end, "relay out") {
				return true
			}
		}
	}
	return false
}

// fused tells whether a fuse stands in what lies between a cable and a source, or the cable and all cable up to the source is within the reach that the book gives
// a first device. backwards tells that the source is at the far end of between.
func fused(c check.Case, between []rig.Link, own *rig.Link, backwards bool) bool {
	bare := 0.0
	for i := range between {
		if between[i].Fuse.State != figure.Absent {
			return true
		}
		bare += metres(&between[i])
	}
	book, ok := conductor.BookNamed(c.Doc.Book)
	if !ok || !beyond(c.Doc.ChargeLine, own, backwards) {
		return false
	}
	reach, err := conductor.FirstDevice(book, conductor.BatteryPost, false)
	return err == nil && reach.Stated && bare+metres(own) <= reach.Metres
}

// beyond tells whether a fuse stands on the other side of a cable, so that the cable is the lead from a battery to it.
func beyond(links []rig.Link, own *rig.Link, backwards bool) bool {
	after := false
	for i := range links {
		if &links[i] == own {
			after = true
			continue
		}
		if after != backwards && links[i].Fuse.State != figure.Absent {
			return true
		}
	}
	return false
}

// metres is how long a link is [m]; so long that nothing reaches over it where its length is not told.
func metres(l *rig.Link) float64 {
	switch {
	case !cable(l):
		return 0
	case l.Run != nil && l.Run.Length.Given():
		return l.Run.Length.Quantity.Base
	}
	return farM
}

// farM stands for a length that nobody told [m].
const farM = 1000

// tries adds the fuse that is missing at the bank, of the rating of the other, or takes a unit that cannot work backwards.
func tries(c check.Case, unit int) []check.Cure {
	var list []check.Cure
	if unit >= 0 {
		if said := c.Said.ChargeLine[unit].DCDC; said != nil && said.TwoWay == "yes" {
			list = append(list, check.Cure{Words: "take a unit that cannot feed the vehicle", Edits: []rig.Edit{check.SetWord(fmt.Sprintf("charge line/%d/dc-dc/two-way", unit+1), said.TwoWay, "no")}})
		}
	}
	for i := range c.Said.ChargeLine {
		if f := c.Said.ChargeLine[i].Fuse; f.Given() {
			list = append(list, check.Cure{Words: "add a fuse at the bank", Edits: []rig.Edit{{Path: fmt.Sprintf("charge line/%d", len(c.Said.ChargeLine)+1), New: "{fuse: " + f.Text() + "}"}}})
			break
		}
	}
	return list
}
