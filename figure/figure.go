// Package figure is the number as people meet it: a value with its unit, its range, how well it is known, where it comes from and the
// working behind it. Terminal, page and paper all print figures through this package, so a value reads the same everywhere.
package figure

import "campwright/quantity"

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
