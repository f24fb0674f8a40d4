package figure

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Holds computes an inequality such as "n × Voc ≤ Vmax" and tells both sides and whether it holds. The signs are < > ≤ ≥ <= >=.
func Holds(formula string, terms []Term) (left, right float64, holds bool, err error) {
	sign, at := "", -1
	for _, s := range []string{"<=", ">=", "≤", "≥", "<", ">"} {
		if i := strings.Index(formula, s); i >= 0 && at < 0 {
			sign, at = s, i
		}
	}
	if at < 0 {
		return 0, 0, false, errors.New("not an inequality")
	}
	if left, err = Evaluate(formula[:at], terms); err != nil {
		return 0, 0, false, fmt.Errorf("left side: %w", err)
	}
	if right, err = Evaluate(formula[at+len(sign):], terms); err != nil {
		return 0, 0, false, fmt.Errorf("right side: %w", err)
	}
	switch sign {
	case "<":
		holds = left < right
	case ">":
		holds = left > right
	case "<=", "≤":
		holds = left <= right
	default:
		holds = left >= right
	}
	return left, right, holds, nil
}

// Check computes the working of a figure again and compares: an error when there is none, when it cannot be computed, or when its
// result is off by more than the share tolerance of the figure's value.
func Check(f Figure, tolerance float64) error {
	if f.Working == nil {
		return fmt.Errorf("figure %q has no working", f.Name)
	}
	x, err := Evaluate(f.Working.Formula, f.Working.Terms)
	if err != nil {
		return fmt.Errorf("figure %q: %w", f.Name, err)
	}
	if d := math.Abs(x - f.Value); !(d <= tolerance*math.Max(math.Abs(f.Value), math.Abs(x))) {
		return fmt.Errorf("figure %q is %g and its working gives %g", f.Name, f.Value, x)
	}
	return nil
}

// Numbers writes a formula with its terms replaced by their numbers, in base units and six digits, so that a reader can work it out on
// a calculator. Evaluate reads it without terms. Negative numbers stand in brackets.
func Numbers(w Working) (string, error) {
	p, err := newReader(rightSide(w.Formula), w.Terms)
	if err != nil {
		return "", err
	}
	var b strings.Builder
	for p.rest != "" {
		if t, size := p.symbol(); size > 0 {
			b.WriteString(number(t.Figure.Value))
			p.take(size)
			continue
		}
		if word := p.word(); word != "" {
			if !isFunction(word) {
				return "", p.fault("unknown symbol \"" + word + "\"")
			}
			b.WriteString(word)
			p.take(len(word))
			continue
		}
		// A number is copied whole, so that no symbol is looked for inside it.
		size := numberSize(p.rest)
		if size == 0 {
			_, size = utf8.DecodeRuneInString(p.rest)
		}
		b.WriteString(p.rest[:size])
		p.take(size)
	}
	return b.String(), nil
}

// number writes a number for a calculator.
func number(x float64) string {
	s := strconv.FormatFloat(math.Abs(x), 'g', 6, 64)
	if y, err := strconv.ParseFloat(s, 64); err == nil && y < 1e15 && (y == 0 || y >= 1e-6) {
		s = strconv.FormatFloat(y, 'f', -1, 64)
	}
	if x < 0 {
		return "(\u2212" + s + ")"
	}
	return s
}
