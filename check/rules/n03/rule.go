// Package n03 is the room of rule N03.
package n03

import (
	"strings"

	"campwright/check"
	"campwright/figure"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "N03", Title: "vehicle plug that can hurt", Holds: "vehicle plug parts safely", Worst: check.Fail,
	What: "How the high-current plug between vehicle and trailer is handled: parted without current, its live half covered, slack enough for a full turn, and " +
		"the plug parting before the cable tears.",
	Why:       "Contacts opened under 50 A burn away and draw an arc at the hand; a bare live half sparks on the hitch; a cable that tears lies live on the road.",
	Except:    "Only rigs with such a plug in the charge line, where the wiring speaks of it or has runs, and those of which the wiring tells how it is handled. Its rating against the line is rule N04.",
	Formula:   "no current when parted; live half covered; slack; plug first",
	Source:    check.Practice,
	Sure:      "as sure as the look at it",
	Questions: []string{"Can the plug be parted while current flows?", "Are the live contacts covered?", "Does the cable reach in the tightest turn?", "What gives way first?"},
	Caution:   check.AlternatorOn,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	l, _ := c.Link(func(l *rig.Link) bool { return l.Plug.State != figure.Absent })
	if c.Doc.Wiring == nil || l == nil && c.Doc.Wiring.Plug == nil {
		return nil
	}
	p := c.Doc.Wiring.Plug
	if p == nil {
		p = &rig.VehiclePlug{}
	}
	o := check.Outcome{Place: "wiring/vehicle plug", Part: "vehicle plug"}
	var fails, warns, asks []string
	item := func(got, bad, good, words, ask string, list *[]string) {
		switch got {
		case bad:
			*list = append(*list, words)
		case good:
		default:
			asks = append(asks, ask)
		}
	}
	item(p.UnderLoad, "yes", "no", "it can be opened under load", "see whether the unit stops before the plug is parted", &fails)
	item(p.Covered, "no", "yes", "its live contacts can be touched", "look whether the live half is covered when parted", &fails)
	item(p.Parts, "cable", "plug", "the cable tears before it parts", "look what gives way first when the trailer pulls free", &fails)
	item(p.Slack, "no", "yes", "it has no slack for a full turn", "turn as tight as the hitch allows and look at the slack", &warns)
	all := append(append([]string(nil), fails...), warns...)
	switch {
	case len(fails) > 0:
		o.Verdict = check.Fail
	case len(asks) > 0:
		o.Verdict, o.Measure = check.Undecided, asks
	case len(warns) > 0:
		o.Verdict = check.Warn
	default:
		o.Verdict, o.Detail = check.Pass, "It is parted without current, covered, slack enough, and parts before the cable."
	}
	if len(all) > 0 {
		o.Detail = "As written: " + strings.Join(all, "; ") + "."
	}
	o.Ways = []string{"a switch or an engine signal that stops the unit before the plug is parted, and a cap on the live half", "a longer cable with a lanyard that pulls the plug before the cable tightens"}
	o.Tries = cure(p)
	return []check.Outcome{o}
}

// cure makes the plug right in all that is written wrong.
func cure(p *rig.VehiclePlug) []check.Cure {
	var edits []rig.Edit
	for _, x := range []struct{ key, got, good string }{{"opened under load", p.UnderLoad, "no"}, {"live side covered", p.Covered, "yes"}, {"slack for a full turn", p.Slack, "yes"}, {"parts first", p.Parts, "plug"}} {
		if x.got != "" && x.got != x.good {
			edits = append(edits, check.SetWord("wiring/vehicle plug/"+x.key, x.got, x.good))
		}
	}
	if len(edits) == 0 {
		return nil
	}
	return []check.Cure{{Words: "mend what is wrong with the plug", Edits: edits}}
}
