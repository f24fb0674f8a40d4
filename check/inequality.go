package check

import (
	"cmp"
	"math"
	"slices"

	"campwright/figure"
	"campwright/quantity"
)

// Inequality is what a rule holds a rig to. Its formula has three sides: "Vcold = n × Voc × (1 + β × (Tmin − 25)) ≤ Vmax". The first is the
// symbol of the result, the last the limit, a symbol or a sum of symbols.
type Inequality struct {
	Formula string
	Name    string // of the result, in words
	Kind    quantity.Kind
	Inputs  []figure.Term
	Result  func(Inputs) float64 // what the middle side comes to, out of a science package; nil for one that is plain arithmetic
	Spare   float64              // how much of the limit must be left for a pass, as a share of it; a holding that leaves less is Thin
	Hints   map[string]string    // by symbol: how to find a guess out
	Source  string
}

// Judged is an inequality worked out for a rig, at the nominal figures and at both ends of every guess.
type Judged struct {
	Holds     bool // at nominal
	HoldsBad  bool // at the worst that the guesses allow
	HoldsGood bool // at the best
	Cautious  bool // it breaks, but only because a guess was taken at its bad end for caution's sake; the good end holds
	Thin      bool // it holds, but leaves less than Spare at the bad end
	Margin    float64
	Result    float64 // at nominal
	Limit     float64 // at nominal
	Measure   []string
	Unknown   bool // a term is marked as unknown by the owner
	Blank     bool // one of them has not even a span
	Working   figure.Working
}

// mostCorners caps how many guesses are tried at both ends together: those that move the margin most. The rest, which a rule over many parts can have,
// stand together at the ends that each alone is worse at, and then at those it is better at.
const mostCorners = 10

// Judge works an inequality out.
func (q Inequality) Judge() Judged {
	sides, signs := sidesOf(q.Formula)
	if len(sides) != 3 || signs[0] != "=" {
		panic("check: internal error: not an inequality: " + q.Formula)
	}
	atMost := signs[1] == "≤" || signs[1] == "<"
	in := Inputs{terms: slices.Clone(q.Inputs)}
	nominal := func() { copy(in.terms, q.Inputs) }
	at := func() (result, limit, margin float64) {
		result, limit = q.result(sides[1], in), eval(sides[2], in)
		margin = limit - result
		if !atMost {
			margin = -margin
		}
		if limit != 0 {
			margin /= math.Abs(limit)
		}
		if math.IsNaN(margin) {
			margin = math.Inf(-1)
		}
		return result, limit, margin
	}
	nominal()
	var j Judged
	var mid float64
	j.Result, j.Limit, mid = at()
	low, high := mid, mid
	lowest, highest := j.Result, j.Result
	guesses := q.guesses()
	alone := func(g int, upper bool) float64 {
		nominal()
		in.terms[g].Figure.Value = end(q.Inputs[g].Figure, upper)
		_, _, m := at()
		return m
	}
	few, rest := guesses, []int(nil)
	if len(guesses) > mostCorners {
		swing := func(g int) float64 { return math.Abs(alone(g, true) - alone(g, false)) }
		guesses = slices.Clone(guesses)
		slices.SortStableFunc(guesses, func(a, b int) int { return cmp.Compare(swing(b), swing(a)) })
		few, rest = guesses[:mostCorners], guesses[mostCorners:]
	}
	for _, better := range []bool{false, true} {
		upper := make([]bool, len(rest))
		for k, g := range rest {
			upper[k] = alone(g, true) > alone(g, false) == better
		}
		for corner := range 1 << len(few) {
			nominal()
			for k, g := range rest {
				in.terms[g].Figure.Value = end(q.Inputs[g].Figure, upper[k])
			}
			for b, g := range few {
				in.terms[g].Figure.Value = end(q.Inputs[g].Figure, corner>>b&1 == 1)
			}
			r, _, m := at()
			low, high = math.Min(low, m), math.Max(high, m)
			if !math.IsNaN(r) {
				lowest, highest = math.Min(lowest, r), math.Max(highest, r)
			}
		}
		if len(rest) == 0 {
			break
		}
	}
	j.Holds, j.HoldsBad, j.HoldsGood, j.Margin = mid >= 0, low >= 0, high >= 0, low
	if !j.Holds {
		j.Margin = mid
	}
	j.Cautious = !j.Holds && j.HoldsGood && mid <= low && high > mid
	j.Thin = j.HoldsBad && low < q.Spare
	j.Measure, j.Unknown = q.measure(guesses, alone)
	for _, t := range q.Inputs {
		j.Blank = j.Blank || t.Figure.State == figure.Unknown && t.Figure.High <= t.Figure.Low
	}
	result := figure.Figure{Name: q.Name, Value: j.Result, Low: lowest, High: highest, Kind: q.Kind, State: figure.Plain}
	j.Working = figure.Working{Formula: q.Formula, Source: q.Source, Terms: append([]figure.Term{{Symbol: sides[0], Figure: result}}, q.Inputs...)}
	return j
}

func (q Inequality) result(side string, in Inputs) float64 {
	if q.Result != nil {
		return q.Result(in)
	}
	return eval(side, in)
}

// eval works a side out. What cannot be worked out with these figures, such as a division by nothing, is no number, and so the worst there is.
func eval(side string, in Inputs) float64 {
	x, err := figure.Evaluate(side, in.terms)
	if err != nil {
		return math.NaN()
	}
	return x
}

func end(f figure.Figure, upper bool) float64 {
	if upper {
		return f.High
	}
	return f.Low
}

// guesses returns the numbers of the inputs that are no firm figures.
func (q Inequality) guesses() []int {
	var list []int
	for i, t := range q.Inputs {
		if f := t.Figure; f.High > f.Low {
			list = append(list, i)
		}
	}
	return list
}

// measure returns how to find out each guess, the one that moves the margin most first, and whether the owner marked any input as unknown.
func (q Inequality) measure(guesses []int, margin func(g int, upper bool) float64) (list []string, unknown bool) {
	type swing struct {
		g  int
		by float64
	}
	var all []swing
	for _, g := range guesses {
		if by := math.Abs(margin(g, true) - margin(g, false)); by > 0 {
			all = append(all, swing{g, by})
		}
	}
	slices.SortStableFunc(all, func(a, b swing) int {
		switch {
		case a.by > b.by:
			return -1
		case a.by < b.by:
			return 1
		}
		return 0
	})
	for i, t := range q.Inputs {
		if t.Figure.State == figure.Unknown {
			unknown = true
			if !slices.ContainsFunc(all, func(s swing) bool { return s.g == i }) {
				all = append(all, swing{g: i})
			}
		}
	}
	for _, s := range all {
		t := q.Inputs[s.g]
		hint := q.Hints[t.Symbol]
		if hint == "" {
			hint = "find out: " + t.Figure.Name
		}
		list = append(list, hint)
	}
	return list, unknown
}

// Verdict returns what an inequality says, when its breach at nominal is worth fails: the bad end of every guess decides, an unknown never
// passes and fails only what fails over all of its span, and a pass that leaves less than Spare is a warning. A figure that was taken at its bad end for caution's sake fails nothing that its good
// end would pass: it has to be looked up first.
func (j Judged) Verdict(fails Verdict) Verdict {
	switch {
	case j.Cautious, j.Blank, j.Unknown && j.HoldsGood:
		return Undecided
	case !j.Holds:
		return fails
	case !j.HoldsBad:
		return Undecided
	case j.Thin:
		return min(Warn, fails)
	}
	return Pass
}

// Outcome makes the outcome of a judged inequality at a place.
func (j Judged) Outcome(place, part string, fails Verdict) Outcome {
	margin := j.Margin
	o := Outcome{Verdict: j.Verdict(fails), Place: place, Part: part, Numbers: j.Working}
	if !math.IsInf(margin, 0) {
		o.Margin = &margin
	}
	if o.Verdict == Undecided {
		o.Measure = j.Measure
	}
	return o
}
