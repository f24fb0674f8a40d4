// Package m09 is the room of rule M09.
package m09

import (
	"fmt"
	"math"
	"strings"

	"campwright/check"
	"campwright/conductor"
	"campwright/figure"
	"campwright/quantity"
	"campwright/system"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M09", Title: "home run too small for its current", Holds: "home run carries the array", Worst: check.Fail,
	What: "The cable from array to controller by the code's two tests: its terminals' column must bear 156 % of the short-circuit current, and the " +
		"cable in its heat and bundle 125 % of it.",
	Why:       "A cable in a hot ceiling cools badly; what is right on the bench bakes its insulation over the years.",
	Except:    "Air is 53 C over a sunlit roof in free air, more where an ordinary hot afternoon of the places is above 36 C; a route written as roof lies close to it and gets the book's 33 K; a bay's own heat comes first. Sizes between those of the table count as the thinner one.",
	Formula:   "1.25 × 1.25 × Isum ≤ Iterm; 1.25 × Isum ≤ Icorr",
	Source:    "[NEC] 690.8(B), table 310.16, 310.15(B)(1)",
	Sure:      "the book's own table; the heat of the route is the guess in it",
	Questions: []string{"What size is the cable, and by which way does it run?"},
	Caution:   check.SunLive,
	Run:       run,
}

func run(c check.Case) []check.Outcome {
	n := c.Nets()
	if n == nil {
		return nil
	}
	var list []check.Outcome
	net := n.Net()
	for i := range net.Runs {
		r := &net.Runs[i]
		if r.Side != conductor.Photovoltaic || !strings.HasPrefix(r.To, "controller ") {
			continue
		}
		if isum, ok := sumOf(c, r); ok {
			list = append(list, judge(c, n, r, isum))
		}
	}
	return list
}

// sumOf returns the short-circuit current of the arrays behind a run [A].
func sumOf(c check.Case, r *system.Run) (float64, bool) {
	sum := 0.0
	for i := range c.Doc.Arrays {
		a := &c.Doc.Arrays[i]
		m := c.Module(a.Module)
		if m == nil || !m.Isc.Stands() {
			continue
		}
		if c.Behind(r.From, a.Name) {
			sum += a.Strings.Quantity.Base * m.Isc.Quantity.Base
		}
	}
	return sum, sum > 0
}

// overRoof is how much hotter than the air a cable in free air over a sunlit roof is [K]. Common practice, no source: 53 °C on a day of 36.
const overRoof = 17

func judge(c check.Case, n *check.Nets, r *system.Run, isum float64) check.Outcome {
	r2 := *r
	if hot := c.Coldest(func(s *system.Site) float64 { return -s.HotC }); hot != nil {
		switch {
		case r.Use.SunlitRoof:
			r2.Use.AmbientC = math.Max(30, hot.HotC)
		case r.Use.AmbientC == system.RoofAirC:
			r2.Use.AmbientC = math.Max(system.RoofAirC, hot.HotC+overRoof)
		}
	}
	place := r.Path
	if name, ok := strings.CutPrefix(r.From, "array "); ok {
		place = "arrays/" + name
	}
	rating, term, err := n.Rating(&r2, r.Use.Gauge)
	if err != nil {
		return check.Outcome{Verdict: check.Undecided, Place: place, Part: r.Title(), Measure: []string{check.ReadSize(r)}}
	}
	sum := check.Number("Isum", "short-circuit current of its strings", quantity.Current, isum, "modules")
	term.Symbol = "Icorr"
	last := check.Inequality{Formula: "Ilast = 1.25 × Isum ≤ Icorr", Name: "lasting current", Kind: quantity.Current, Inputs: []figure.Term{sum, corrected(term, rating)},
		Result: func(in check.Inputs) float64 { return conductor.CircuitCurrent(in.Of("Isum")) }, Hints: map[string]string{"Icorr": check.ReadSize(r)}, Source: "[NEC] 690.8(B)(2)"}
	o := last.Judge().Outcome(place, r.Title(), check.Fail)
	if rating.Terminal > 0 {
		limit := check.Number("Iterm", fmt.Sprintf("what terminals of %d °C allow", max(60, r.Use.TerminalC)), quantity.Current, rating.Terminal, rating.TermFrom.String())
		limit.Figure.State = term.Figure.State
		need := check.Inequality{Formula: "Ineed = 1.25 × 1.25 × Isum ≤ Iterm", Name: "rating that its terminals need", Kind: quantity.Current, Inputs: []figure.Term{sum, limit},
			Result: func(in check.Inputs) float64 { return conductor.DeviceCurrent(in.Of("Isum")) }, Hints: map[string]string{"Iterm": check.ReadSize(r)}, Source: "[NEC] 690.8(B)(1)"}
		if p := need.Judge().Outcome(place, r.Title(), check.Fail); p.Verdict > o.Verdict || p.Verdict == o.Verdict && p.Margin != nil && o.Margin != nil && *p.Margin < *o.Margin {
			o = p
		}
	}
	o.Ways = []string{"a thicker home run", "more modules in series, so that less current flows"}
	o.Tries = c.SizeCures(r)
	return o.Unsure(r)
}

// corrected is the rating without the terminals' limit, which the other test holds.
func corrected(t figure.Term, rating conductor.Rating) figure.Term {
	t.Figure.Value, t.Figure.Low, t.Figure.High = rating.Corrected, rating.Corrected, rating.Corrected
	return t
}
