package check

import (
	"campwright/catalogue"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Start returns what an appliance on AC takes at its start, as a term in watts: what its owner says, or for a motor of which he says nothing the usual start of
// one, as a guess with its ends. False for what has no motor to speak of.
func (c Case) Start(symbol string, i int) (figure.Term, bool) {
	a := &c.Doc.Appliances[i]
	if a.Runs != "ac" {
		return figure.Term{}, false
	}
	if a.Surge.Stands() {
		return Watts(symbol, "start of "+a.Name, a.Surge, c.OutletV()), true
	}
	running := Watts(symbol, a.Name, a.Power.Rate, c.OutletV()).Figure.Value
	usual, ok := catalogue.Start(a.Name, a.Kind, running)
	if !ok {
		return figure.Term{}, false
	}
	t := Between(symbol, "start of "+a.Name+", taken for a usual motor", quantity.Power, usual.Value, usual.Low, usual.High, usual.Why)
	if a.Surge.State == figure.Unknown {
		t.Figure.State = figure.Unknown
	}
	return t, true
}

// Peak limits that blocks with electronics of their own are made with, as multiples of the lasting limit. Common practice, no source.
const (
	leastPeak, usualPeak, mostPeak = 1, 2, 3
)

// PeakLimit returns the peak limit of one block as a term: what its owner says, or a guess from the lasting limit.
func (c Case) PeakLimit(symbol string) figure.Term {
	k := &c.Doc.Bank.Block
	if k.PeakLimit.Given() {
		return Known(symbol, "peak limit of one block", k.PeakLimit)
	}
	lasting := Known("", "", k.DischargeLimit).Figure
	t := Between(symbol, "peak limit of one block, taken from the lasting limit", quantity.Current, usualPeak*lasting.Value, leastPeak*lasting.Low, mostPeak*lasting.High, Practice)
	if k.PeakLimit.State == figure.Unknown {
		t.Figure.State = figure.Unknown
	}
	return t
}

// Taken tells a reader that a rating is none of the owner's: the end of a sentence for a rule's detail, empty where he wrote it.
func Taken(what string, said rig.Value) string {
	if said.Given() || said.State == figure.Unknown {
		return ""
	}
	return "The " + what + " is taken, not read off the label."
}
