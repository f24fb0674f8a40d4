// Package figure is the number as people meet it: a value with its unit, its range, how well it is known, where it comes from and the
// working behind it. Terminal, page and paper all print figures through this package, so a value reads the same everywhere.
//
// A working carries its formula as text, and Evaluate reads that text again: what is printed beside an answer can be checked against
// it, and tests do so. The formula language is what a pocket calculator can do, in the signs people write: + − × ÷ / ^ √ ², brackets,
// min, max and a few functions. It is left without variables of its own, conditions or loops, because a working that needs them is
// not a working that a person can follow.
package figure

import (
	"math"

	"campwright/quantity"
)

// State says how well a value is known. The order is from least to most said.
type State uint8

// The states of knowing.
const (
	Absent   State = iota // nothing said and nothing filled in yet
	Default               // left out by the owner, filled in by the program, which says why
	Unknown               // the owner says it is not known
	About                 // the owner's estimate: "about 65 W"
	Plain                 // stated: "65 W"
	Measured              // read off an instrument: "65 W measured"
)

// states are the words for State, in its order.
var states = [...]string{"absent", "default", "unknown", "about", "plain", "measured"}

// String returns the word for a state.
func (s State) String() string {
	if int(s) < len(states) {
		return states[s]
	}
	return "no state"
}

// Figure is one number of an answer.
type Figure struct {
	Name    string        // what it is, in trade words
	Value   float64       // in the base unit of Kind
	Kind    quantity.Kind // what it measures
	Low     float64       // ends of its range; both equal to Value where there is no range
	High    float64
	State   State
	Source  string // where it comes from: a part of the rig, a model, a citation key
	Working *Working
	Unit    string // the unit it is shown in where that is not the usual one, such as "BTU/h"; Value stays in the base unit
}

// Working is the arithmetic behind a figure: the formula in symbols and what stood for each symbol.
type Working struct {
	Formula string // such as "n × Voc × (1 + β × (Tmin − 25))"
	Terms   []Term
	Source  string // citation key, edition and clause or equation
}

// Term is one symbol of a working.
type Term struct {
	Symbol string
	Figure Figure
}

// Exact is a stated figure without a range.
func Exact(name string, value float64, kind quantity.Kind) Figure {
	return Figure{Name: name, Value: value, Kind: kind, Low: value, High: value, State: Plain}
}

// Between is an estimate with the ends of its range.
func Between(name string, value, low, high float64, kind quantity.Kind) Figure {
	return Figure{Name: name, Value: value, Kind: kind, Low: low, High: high, State: About}
}

// HasRange tells whether the figure is a range and not one number. Two ends at zero are no range.
func (f Figure) HasRange() bool { return f.Low < f.High }

// finite tells whether a figure can be shown as a number.
func (f Figure) finite() bool {
	for _, x := range []float64{f.Value, f.Low, f.High} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}
