package web

import (
	"math"
	"slices"
	"strings"

	"campwright/check"
	"campwright/figure"
	"campwright/quantity"
)

// safeCase writes the inequality of an outcome with the rig's figures.
func safeCase(o *check.Outcome) SafeCase {
	w, us, shown := o.Numbers, check.Show(o.Numbers, quantity.US), check.Show(o.Numbers, quantity.Metric)
	c := SafeCase{Part: plainWords(o.Part), Detail: inBoth(figure.Sentence(o.Detail)), Working: SafeWorking{
		Formula: shown.Formula, Filled: Both{us.Filled, shown.Filled}, Result: Both{us.Result, shown.Result}, Limit: Both{us.Limit, shown.Limit}, Terms: []TermRow{}, Source: shown.Source,
	}}
	if shown.Filled == shown.Result {
		c.Working.Filled = Both{} // one symbol on both sides
	}
	warm := false
	for _, t := range w.Terms {
		row := TermRow{Symbol: t.Symbol, Name: inBoth(t.Figure.Name), Value: figureText(t.Figure), Source: inBoth(t.Figure.Source), Working: working(t.Figure)}
		warm = warm || t.Figure.Kind == quantity.Temperature
		c.Working.Terms = append(c.Working.Terms, row)
	}
	c.Working.Celsius = warm && us.Filled == shown.Filled && us.Limit == shown.Limit && us.Result == shown.Result
	limit, ok := limitOf(w)
	if !ok {
		return c
	}
	result := w.Terms[0].Figure
	if at := strings.IndexAny(w.Formula, "≤≥"); anyUnknown(w.Terms, w.Formula[:at]) {
		result.State = figure.Unknown
	}
	c.Sense, c.Result, c.Limit = shown.Sense, number(result), number(limit)
	if limit.HasRange() && limit.State != figure.Unknown {
		c.Worst, c.AtBest = both(quantity.Quantity{Base: limit.Low, Kind: limit.Kind}), both(quantity.Quantity{Base: limit.High, Kind: limit.Kind})
		if shown.Sense == "≥" {
			c.Worst, c.AtBest = c.AtBest, c.Worst
		}
	}
	if result.State == figure.Unknown {
		c.Working.Result = c.Result
	}
	if limit.State == figure.Unknown {
		c.Working.Limit = c.Limit
	} else if strings.ContainsAny(shown.Limit, "+×/÷") || strings.Contains(shown.Limit, " − ") {
		c.Working.Comes = number(limit)
	}
	if o.Margin != nil && result.State != figure.Unknown && limit.State != figure.Unknown {
		c.Nominal = nominal(result.Value, limit.Value, shown.Sense)
		c.Margin, c.Spare = o.Margin, spare(*o.Margin, shown.Sense)
		if o.Verdict == check.Undecided {
			c.Spare += " at worst"
		}
	}
	return c
}

// figureText is a figure with how well it is known.
func figureText(f figure.Figure) Both {
	return Both{US: figure.Text(f, quantity.US), Metric: figure.Text(f, quantity.Metric)}
}

// number is a figure, or its range, without how well it is known.
func number(f figure.Figure) Both {
	if f.State != figure.Unknown {
		f.State = figure.Plain
	}
	return figureText(f)
}

// limitOf works out the last side of an inequality, with the ends that its guesses allow. There is none for a working that compares
// nothing.
func limitOf(w figure.Working) (figure.Figure, bool) {
	if !strings.ContainsAny(w.Formula, "≤≥") || len(w.Terms) == 0 {
		return figure.Figure{}, false
	}
	_, limit, _, err := figure.Holds(w.Formula, w.Terms)
	if err != nil {
		return figure.Figure{}, false
	}
	out := figure.Exact("limit", limit, w.Terms[0].Figure.Kind)
	side := w.Formula[strings.LastIndexAny(w.Formula, "≤≥"):]
	if anyUnknown(w.Terms, side) {
		out.State = figure.Unknown
	}
	var guesses []int
	for i, t := range w.Terms {
		if t.Figure.HasRange() && strings.Contains(side, t.Symbol) && i > 0 && len(guesses) < mostGuesses {
			guesses = append(guesses, i)
		}
	}
	terms := append([]figure.Term(nil), w.Terms...)
	for corner := range 1 << len(guesses) {
		for b, g := range guesses {
			terms[g].Figure.Value = w.Terms[g].Figure.Low
			if corner>>b&1 == 1 {
				terms[g].Figure.Value = w.Terms[g].Figure.High
			}
		}
		if _, x, _, err := figure.Holds(w.Formula, terms); err == nil {
			out.Low, out.High = math.Min(out.Low, x), math.Max(out.High, x)
		}
	}
	return out, true
}

// anyUnknown tells whether a side of a formula holds a value of which nothing is known, not even a range.
func anyUnknown(terms []figure.Term, side string) bool {
	words := strings.FieldsFunc(side, func(r rune) bool { return strings.ContainsRune(" ()+−×/÷=≤≥,", r) })
	return slices.ContainsFunc(terms, func(t figure.Term) bool {
		return (t.Figure.State == figure.Unknown || t.Figure.State == figure.Absent) && !t.Figure.HasRange() && slices.Contains(words, t.Symbol)
	})
}

// mostGuesses caps the corners that are tried for the ends of a limit.
const mostGuesses = 8

// nominal is the margin with every guess as taken, as a share of the limit.
func nominal(result, limit float64, sense string) *float64 {
	if limit == 0 {
		return nil
	}
	m := (limit - result) / math.Abs(limit)
	if sense == "≥" {
		m = -m
	}
	return &m
}

// spare says a margin in words.
func spare(margin float64, sense string) string {
	share := quantity.Digits(100*math.Abs(margin), 2, 1) + " % "
	switch {
	case margin >= 0:
		return share + "to spare"
	case sense == "≥":
		return share + "short"
	}
	return share + "over"
}
