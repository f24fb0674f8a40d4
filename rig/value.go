package rig

import (
	"campwright/figure"
	"campwright/quantity"
)

// At is a place in the document.
type At struct {
	Line, Column int    // from 1; zero for a value that is not in the text
	Path         string // segments joined by "/"; members of a list go by name where they have one, otherwise by their number from 1
}

// Value is one quantity of the document.
type Value struct {
	Quantity quantity.Quantity // number in the base unit of its kind, and the unit it was written in
	State    figure.State
	Low      float64 // ends of an estimate, in the same base unit, when the owner gave them; both zero otherwise
	High     float64
	Why      string // for Default: the reason; for Unknown: what the program takes meanwhile
	At       At
}

// Given tells whether the document itself says something usable: a number in any state but unknown.
func (v Value) Given() bool { return v.State >= figure.About }

// Known tells whether there is a number at all, defaults included.
func (v Value) Known() bool { return v.Given() || v.State == figure.Default }

// Stands tells whether there is a number to work with: one that is known, or the span of one that its owner marks as unknown.
func (v Value) Stands() bool { return v.Known() || v.State == figure.Unknown && v.High > v.Low }

// Size is length by width.
type Size struct {
	Length, Width Value
	At            At
}

// Draw is what an appliance takes while it runs, and the share of time for which it runs: "300 W at 60 %".
type Draw struct {
	Rate Value // power, or current at the voltage of its circuit
	Duty Value // share of its hours; Absent when not written
}

// Cylinders is how propane is carried: a number of vessels of one size, the size by propane weight or by volume.
type Cylinders struct {
	Count Value
	Each  Value // mass or volume of propane in one full vessel
}

// Hours says when in the day something runs, on the local clock.
type Hours struct {
	Word  string // "always", "never", "when used", "night", "day", or empty when spans are given
	Spans []Span
	State figure.State
	At    At
}

// Span is part of a day in minutes after midnight; Until below From runs past midnight.
type Span struct{ From, Until int }

// Place is a named place or a position.
type Place struct {
	Name      string // as written, when it is a name
	Latitude  float64
	Longitude float64
	HasSpot   bool // latitude and longitude were written
	State     figure.State
	At        At
}

// Date is a calendar day without a zone.
type Date struct {
	Year, Month, Day int
	State            figure.State
	At               At
}

// Chance is a limit such as "at most 1 in 100".
type Chance struct {
	Of    float64 // the chance, 0 to 1
	State figure.State
	At    At
}

// Edit is the one currency of change: it says what stood at a path and what shall stand there. An empty Old adds, an empty New
// removes.
type Edit struct {
	Path string `json:"path"`
	Old  string `json:"old"`
	New  string `json:"new"`
}
