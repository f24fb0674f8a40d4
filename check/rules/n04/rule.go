// Package n04 is the room of rule N04.
package n04

import (
	"fmt"

	"campwright/check"
	"campwright/conductor"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "N04", Title: "charge line's weakest link", Holds: "every link bears the line", Worst: check.Fail,
	What: "Every link of the charge line in its order: a fuse against the largest that its position may hold, and each cable and plug against the smallest fuse, " +
		"for that is what may flow in it for hours.",
	Why:       "A line is as good as its worst link: a fuse position scorches, a plug melts, while the cable between them stays cool.",
	Except:    "Every fuse against every cable behind it is rule M38. Positions whose largest fuse nobody wrote are left out.",
	Formula:   "F ≤ Fposition; F ≤ Iplug",
	Source:    "the makers' ratings; otherwise " + check.Practice,
	Sure:      "ratings against ratings",
	Questions: []string{"What is the largest fuse that the position may hold?", "What is the plug rated for?"},
	Caution:   check.AlternatorOn,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	var list []check.Outcome
	var smallest *rig.Value
	for i := range c.Doc.ChargeLine {
		if f := &c.Doc.ChargeLine[i].Fuse; f.Stands() && (smallest == nil || f.Quantity.Base < smallest.Quantity.Base) {
			smallest = f
		}
	}
	if smallest == nil {
		return nil
	}
	for i := range c.Doc.ChargeLine {
		l := &c.Doc.ChargeLine[i]
		place := fmt.Sprintf("charge line/%d", i+1)
		if l.Fuse.Stands() && l.Position.State != figure.Absent {
			list = append(list, judge(place, "fuse of the charge line", "largest fuse of its position", l.Fuse, l.Position, "Fpos", check.Set(place+"/fuse", l.Fuse, l.Position.Text())))
		}
		if o, ok := cable(c, place, *smallest); l.Run != nil && ok {
			list = append(list, o)
		}
		if l.Plug.State != figure.Absent {
			list = append(list, judge(place, "plug of the charge line", "rating of the plug", *smallest, l.Plug, "Iplug", check.Set(place+"/plug", l.Plug, fmt.Sprintf("%.0f A", smallest.Quantity.Base))))
		}
	}
	return list
}

// cable judges a run of the line against its smallest fuse, by what its book lets stand before such a conductor.
func cable(c check.Case, place string, fuse rig.Value) (check.Outcome, bool) {
	n := c.Nets()
	if n == nil {
		return check.Outcome{}, false
	}
	net := n.Net()
	for i := range net.Runs {
		r := &net.Runs[i]
		if r.Path != place+"/run" || r.FromMeter {
			continue
		}
		rating, _, err := n.Rating(r, r.Core[0].Gauge)
		if err != nil {
			return check.Outcome{}, false
		}
		limit, err := conductor.LargestFuse(rating, r.Volts)
		if err != nil {
			return check.Outcome{}, false
		}
		q := check.Inequality{Formula: "Fuse = F ≤ Fmax", Name: "what may flow for hours", Kind: quantity.Current, Source: limit.Origin.String(), Hints: map[string]string{"Fmax": check.ReadSize(r)},
			Inputs: []figure.Term{check.Known("F", "smallest fuse of the line", fuse), check.Number("Fmax", fmt.Sprintf("largest fuse before %s", r.Core[0].Gauge), quantity.Current, limit.Amps, limit.Origin.String())}}
		o := q.Judge().Outcome(place, "cable of the charge line", check.Fail)
		o.Ways = []string{fmt.Sprintf("a thicker cable than %s in this link", r.Core[0].Gauge), "a smaller fuse, with the unit set to fewer amps"}
		o.Tries = c.SizeCures(r)
		return o.Unsure(r), true
	}
	return check.Outcome{}, false
}

func judge(place, part, what string, fuse, limit rig.Value, symbol string, edit rig.Edit) check.Outcome {
	hint := "read the " + what
	t := check.Known(symbol, what, limit)
	if limit.State == figure.Unknown {
		return check.Outcome{Verdict: check.Undecided, Place: place, Part: part, Measure: []string{hint}}
	}
	q := check.Inequality{Formula: "Fuse = F ≤ " + symbol, Name: "what may flow for hours", Kind: quantity.Current, Source: "ratings", Hints: map[string]string{symbol: hint},
		Inputs: []figure.Term{check.Known("F", "smallest fuse of the line", fuse), t}}
	o := q.Judge().Outcome(place, part, check.Fail)
	o.Ways = []string{"a smaller fuse, with the unit set to fewer amps", "a part with a higher rating in this place"}
	o.Tries = []check.Cure{{Words: "bring the weakest link up to the line", Edits: []rig.Edit{edit}}}
	return o
}
