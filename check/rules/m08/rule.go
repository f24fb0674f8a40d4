// Package m08 is the room of rule M08.
package m08

import (
	"fmt"
	"strings"

	"campwright/check"
	"campwright/conductor"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M08", Title: "branch connectors overloaded", Holds: "branch connectors bear the sum", Worst: check.Fail,
	What: "The current that all strings together push through the common leg of branch connectors, or through a combiner, against its rating. " +
		"125 % of the short-circuit current, as everywhere on the array side.",
	Why:       "The common leg carries the sum of all strings; a connector made for one string melts on the roof, where nobody sees it.",
	Except:    "Connectors whose rating is not written are a question. Heat on the roof takes more off a connector than its print says.",
	Formula:   "1.25 × sum of strings × Isc ≤ Iconn",
	Source:    "[NEC] 690.8(A)(1); the rating is the maker's",
	Sure:      "label figures",
	Questions: []string{"What are the branch connectors, or the combiner, rated for?"},
	Caution:   check.SunLive,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	w := c.Doc.Wiring
	if w == nil {
		return nil
	}
	var list []check.Outcome
	for i := range w.Combiners {
		list = append(list, judge(c, &w.Combiners[i]))
	}
	return list
}

func judge(c check.Case, b *rig.Combiner) check.Outcome {
	place, part := "wiring/combiners/"+b.Name, "combiner "+b.Name
	read := "read the rating of the branch connectors or of the box of " + b.Name
	q := check.Inequality{Name: "current of the common leg", Kind: quantity.Current, Hints: map[string]string{"Iconn": read}, Source: "[NEC] 690.8(A)(1)"}
	var sum []string
	for k, name := range b.Arrays {
		for i := range c.Doc.Arrays {
			a := &c.Doc.Arrays[i]
			m := c.Module(a.Module)
			if a.Name != name || m == nil {
				continue
			}
			p, isc := fmt.Sprintf("p%d", k+1), fmt.Sprintf("Isc%d", k+1)
			sum = append(sum, p+" × "+isc)
			q.Inputs = append(q.Inputs, check.Known(p, "strings of "+name, a.Strings), check.Known(isc, "Isc of "+m.Name, m.Isc))
		}
	}
	if !b.Connectors.Given() || len(sum) == 0 {
		return check.Outcome{Verdict: check.Undecided, Place: place, Part: part, Measure: []string{read}}
	}
	q.Inputs = append(q.Inputs, check.Known("Iconn", "rating of connectors or box", b.Connectors))
	q.Formula = "Isum = 1.25 × (" + strings.Join(sum, " + ") + ") ≤ Iconn"
	q.Result = func(in check.Inputs) float64 {
		total := 0.0
		for k := range b.Arrays {
			total += in.Of(fmt.Sprintf("p%d", k+1)) * in.Of(fmt.Sprintf("Isc%d", k+1))
		}
		return conductor.CircuitCurrent(total)
	}
	if len(sum) != len(b.Arrays) {
		q.Result = nil
	}
	o := q.Judge().Outcome(place, part, check.Fail)
	o.Ways = []string{"a combiner box, or separate home runs", "more modules in series and fewer strings"}
	for _, name := range b.Arrays {
		for i := range c.Doc.Arrays {
			if c.Doc.Arrays[i].Name == name {
				o.Tries = append(o.Tries, c.Longer(&c.Doc.Arrays[i])...)
			}
		}
	}
	return o
}
