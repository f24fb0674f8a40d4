package check

import (
	"math"

	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Known returns a value of the completed document as a term of an inequality, with the ends between which it may lie.
func Known(symbol, name string, v rig.Value) figure.Term {
	f := figure.Figure{Name: name, Value: v.Quantity.Base, Kind: v.Quantity.Kind, Low: v.Quantity.Base, High: v.Quantity.Base, State: v.State, Source: v.At.Path}
	if v.State < figure.Plain && v.High > v.Low {
		f.Low, f.High = math.Min(v.Low, f.Value), math.Max(v.High, f.Value)
	}
	return figure.Term{Symbol: symbol, Figure: f}
}

// Number returns a figure that is no guess: a limit of a book, a count, a constant of practice.
func Number(symbol, name string, kind quantity.Kind, x float64, source string) figure.Term {
	return figure.Term{Symbol: symbol, Figure: figure.Figure{Name: name, Value: x, Low: x, High: x, Kind: kind, State: figure.Plain, Source: source}}
}

// Computed returns a figure that science worked out from others.
func Computed(symbol, name string, kind quantity.Kind, x float64, source string) figure.Term {
	return figure.Term{Symbol: symbol, Figure: figure.Figure{Name: name, Value: x, Low: x, High: x, Kind: kind, State: figure.Plain, Source: source}}
}

// Between returns a figure that the program takes between two ends, for want of a better: a practice with a range.
func Between(symbol, name string, kind quantity.Kind, x, low, high float64, source string) figure.Term {
	return figure.Term{Symbol: symbol, Figure: figure.Figure{Name: name, Value: x, Low: low, High: high, Kind: kind, State: figure.Default, Source: source}}
}

// Inputs are the terms of an inequality, each at one number.
type Inputs struct{ terms []figure.Term }

// Of returns the number that stands for a symbol.
func (in Inputs) Of(symbol string) float64 {
	for i := range in.terms {
		if in.terms[i].Symbol == symbol {
			return in.terms[i].Figure.Value
		}
	}
	panic("check: internal error: no term " + symbol)
}
