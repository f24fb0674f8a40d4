// Package m12 is the room of rule M12.
package m12

import (
	"fmt"

	"campwright/check"
	"campwright/rig"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M12", Title: "breaker that cannot break this current", Holds: "breakers break this current", Worst: check.Fail,
	What: "Every breaker and switch on the direct-current side: whether it is made for direct current, and, where it is polarised, whether its line " +
		"mark looks to the end from which the fault comes. The network tells which end that is.",
	Why: "Direct current has no zero at which an arc goes out; a breaker for alternating current burns. Magnets in a polarised breaker push the arc one " +
		"way: joined the other way round they push it into the case.",
	Except: "A fuse breaks either way. A polarised breaker that faces the fault and carries charging current backwards in ordinary work breaks the fault " +
		"and not the charging: open the charger first, or take one without polarity.",
	Formula:   "made for direct current; line mark towards the larger fault current",
	Source:    "direction of the fault: the solved network; otherwise " + check.Practice,
	Sure:      "the direction is computed; the rest is what the owner reads off the device",
	Questions: []string{"Is the breaker made for direct current?", "Is it polarised, and to which end does its line or + mark look?"},
	Caution:   check.BatteryFault,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	n := c.Nets()
	if n == nil {
		return nil
	}
	var list []check.Outcome
	net := n.Net()
	for i := range net.Devices {
		d := &net.Devices[i]
		if d.Kind != "breaker" && d.Kind != "switch" && d.Kind != "disconnect" || d.Run < 0 || !check.OffShore(&net.Runs[d.Run]) {
			continue
		}
		if d.Kind != "breaker" && d.Doc.Made == "" && d.Doc.Polarised == "" {
			continue
		}
		o := judge(n, net, i)
		if o.Verdict != check.Pass {
			o.Ways = []string{"a breaker for direct current without polarity", "a fuse with a switch for direct current"}
			o.Tries = tries(net, d)
		}
		list = append(list, o)
	}
	return list
}

func judge(n *check.Nets, net *system.Network, i int) check.Outcome {
	d := &net.Devices[i]
	o := check.Outcome{Place: d.Path, Part: d.Title(net)}
	towards := "start"
	if n.Fault(i).Short == "before it" {
		towards = "end"
	}
	place := map[string]string{"start": net.Runs[d.Run].From, "end": net.Runs[d.Run].To}
	switch {
	case d.Doc.Made == "ac":
		o.Verdict, o.Title = check.Fail, "AC breaker on direct current"
		o.Consequence = "Opened on load it draws an arc that does not go out."
	case d.Doc.Made == "" || d.Doc.Made == "unknown":
		o.Verdict = check.Undecided
		o.Measure = []string{check.ReadPrint(net, d, "direct voltage and the word DC")}
	case d.Doc.Polarised == "no":
		o.Verdict, o.Detail = check.Pass, "It is made for direct current and has no polarity."
	case d.Doc.Polarised != "yes":
		o.Verdict = check.Undecided
		o.Measure = []string{"look for + and −, or line and load, on " + d.Title(net)}
	case d.Doc.Line == "" || d.Doc.Line == "unknown":
		o.Verdict = check.Undecided
		o.Measure = []string{"look to which end the line or + mark of " + d.Title(net) + " points: " + place["start"] + " or " + place["end"]}
	case d.Doc.Line != towards:
		o.Verdict, o.Title = check.Fail, "polarised breaker faces the wrong way"
		o.Consequence = fmt.Sprintf("A fault comes from %s with %.0f A, and its magnets push that arc into the case.", place[towards], n.Fault(i).Amps)
	case backwards(n, net, i, towards):
		o.Verdict, o.Title = check.Warn, "polarised breaker charges backwards"
		o.Consequence = "It breaks a fault, but opened while charging current flows it breaks the wrong way."
	default:
		o.Verdict, o.Detail = check.Pass, fmt.Sprintf("Its line mark looks to %s, where a fault comes from, and no state sends current the other way.", place[towards])
	}
	return o
}

// backwards tells whether some state sends a lasting current against the direction of the fault.
func backwards(n *check.Nets, net *system.Network, i int, towards string) bool {
	e := net.Devices[i].Edges[0]
	for k := range n.Solved[1] {
		s := &n.Solved[1][k]
		if s.Problem != "" {
			continue
		}
		if a := s.EdgeA[e]; a < -1 && towards == "start" || a > 1 && towards == "end" {
			return true
		}
	}
	return false
}

func tries(net *system.Network, d *system.Device) []check.Cure {
	var edits []rig.Edit
	if d.Doc.Made != "dc" {
		edits = append(edits, check.SetWord(d.Path+"/made for", d.Doc.Made, "dc"))
	}
	if d.Doc.Polarised != "no" {
		edits = append(edits, check.SetWord(d.Path+"/polarised", d.Doc.Polarised, "no"))
	}
	return []check.Cure{{Words: "take a breaker for direct current without polarity as " + d.Title(net), Edits: edits}}
}
