package check

import (
	"slices"
	"strings"
	"unicode"

	"campwright/figure"
	"campwright/quantity"
)

// Working is an inequality with the rig's figures in it, ready to show.
type Working struct {
	Formula string `json:"formula"` // in symbols
	Filled  string `json:"filled"`  // the same with figures: "4 × 22.3 V × (1 + (−0.3 %/°C) × (−20 °C − 25))"
	Result  string `json:"result"`  // what that comes to: "101.2 V"
	Sense   string `json:"sense"`   // "≤" or "≥": what it must be to the limit
	Limit   string `json:"limit"`   // "100 V"
	Terms   []Term `json:"terms" nullable:"false"`
	Source  string `json:"source"`
}

// Term is one figure of a working.
type Term struct {
	Symbol string        `json:"symbol"`
	Figure figure.Figure `json:"figure"`
}

// Show writes a working for people in the units of a system. A working without a comparison shows its terms alone. A formula with temperatures and bare numbers
// beside them, such as (T − 25), holds in degrees Celsius alone and is shown in metric units.
func Show(w figure.Working, units quantity.System) Working {
	out := Working{Formula: w.Formula, Source: w.Source, Terms: []Term{}}
	for _, t := range w.Terms {
		out.Terms = append(out.Terms, Term(t))
	}
	if bareDegrees(w) {
		units = quantity.Metric
	}
	fill := func(side string, terms []figure.Term) string { return fill(side, terms, units) }
	sides, signs := sidesOf(w.Formula)
	switch {
	case len(sides) == 3:
		out.Filled, out.Sense = fill(sides[1], w.Terms), signs[1]
		out.Result, out.Limit = fill(sides[0], w.Terms), fill(sides[2], w.Terms)
	case len(sides) == 2 && signs[0] == "=":
		out.Filled, out.Result = fill(sides[1], w.Terms), fill(sides[0], w.Terms)
	case len(sides) == 2:
		out.Result, out.Sense, out.Limit = fill(sides[0], w.Terms), signs[0], fill(sides[1], w.Terms)
	}
	return out
}

// Line writes the working on one line: "4 × 22.3 V × … = 101.2 V, must be ≤ 100 V".
func (w Working) Line() string {
	var parts []string
	if w.Filled != "" && w.Filled != w.Result {
		parts = append(parts, w.Filled)
	}
	if w.Result != "" {
		parts = append(parts, w.Result)
	}
	line := strings.Join(parts, " = ")
	if w.Sense != "" {
		line += ", must be " + w.Sense + " " + w.Limit
	}
	return line
}

// Lines writes the whole working: the formula, the figures in it, and what each symbol stands for.
func (w Working) Lines(system quantity.System) []string {
	lines := []string{w.Formula, w.Line()}
	for _, t := range w.Terms {
		line := t.Symbol + ": " + figure.Line(t.Figure, system)
		if t.Figure.Source != "" {
			line += " (" + t.Figure.Source + ")"
		}
		lines = append(lines, line)
	}
	if w.Source != "" {
		lines = append(lines, "source: "+w.Source)
	}
	return lines
}

// sidesOf splits a formula at its comparisons: "A = B ≤ C" gives A, B, C and the signs between them.
func sidesOf(formula string) (sides, signs []string) {
	begin := 0
	for i, c := range formula {
		if strings.ContainsRune("=≤≥<>", c) {
			sides, signs = append(sides, strings.TrimSpace(formula[begin:i])), append(signs, string(c))
			begin = i + len(string(c))
		}
	}
	return append(sides, strings.TrimSpace(formula[begin:])), signs
}

// bareDegrees tells whether a formula has a temperature in it and a bare number.
func bareDegrees(w figure.Working) bool {
	warm := slices.ContainsFunc(w.Terms, func(t figure.Term) bool { return t.Figure.Kind == quantity.Temperature })
	for rest := w.Formula; warm && rest != ""; {
		word := wordOf(rest)
		if word != "" && word[0] >= '2' && word[0] <= '9' {
			return true
		}
		rest = rest[max(len(word), len(string([]rune(rest)[0]))):]
	}
	return false
}

// fill writes one side of a formula with every symbol's figure in its place. A negative figure behind a sign stands in brackets.
func fill(side string, terms []figure.Term, units quantity.System) string {
	var b strings.Builder
	signed := false // an operator stands right before
	for rest := side; rest != ""; {
		word := wordOf(rest)
		if word == "" {
			c := []rune(rest)[0]
			if !unicode.IsSpace(c) {
				signed = strings.ContainsRune("+−×/", c)
			}
			b.WriteRune(c)
			rest = rest[len(string(c)):]
			continue
		}
		text := word
		for _, t := range terms {
			if t.Symbol == word {
				if text = shown(t.Figure, units); signed && strings.HasPrefix(text, "−") {
					text = "(" + text + ")"
				}
			}
		}
		b.WriteString(text)
		rest, signed = rest[len(word):], false
	}
	return b.String()
}

// shown is a figure in a formula: what nobody knows is told as such and not as the nothing that stands for it.
func shown(f figure.Figure, units quantity.System) string {
	if f.State == figure.Unknown && f.Value == 0 && f.High <= f.Low {
		return "unknown"
	}
	return figure.Nominal(f, units)
}

// wordOf returns the word or number that a text begins with.
func wordOf(s string) string {
	for i, r := range s {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '_' && r != '.' && r != '′' {
			return s[:i]
		}
	}
	return s
}

// Recompute works a printed working out again from its terms: an error when it cannot be computed, or when what stands left of its equals sign
// is off by more than the share tolerance. Tests hold every outcome to it.
func Recompute(w figure.Working, tolerance float64) error {
	sides, signs := sidesOf(w.Formula)
	for i, side := range sides {
		x, err := figure.Evaluate(side, w.Terms)
		if err != nil {
			return err
		}
		if i > 0 && signs[i-1] == "=" {
			f := figure.Figure{Name: sides[i-1], Value: x, Working: &figure.Working{Formula: sides[i-1], Terms: w.Terms}}
			if err := figure.Check(f, tolerance); err != nil {
				return err
			}
		}
	}
	return nil
}
