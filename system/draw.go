package system

import (
	"math"
	"slices"
	"strings"

	"campwright/figure"
	"campwright/rig"
)

// Draw turns the values of a document into plain numbers. Formulas never see how well a value is known: a Draw decides which number
// stands for it. The zero Draw takes every value at its nominal.
type Draw struct {
	end    int                // -1 low ends, +1 high ends, 0 otherwise
	shares map[string]float64 // for a member: where in its span each guess lies, 0 to 1
}

// LowEnd and HighEnd take every guess at one end of its span.
func LowEnd() Draw { return Draw{end: -1} }

// HighEnd takes every guess at the upper end of its span.
func HighEnd() Draw { return Draw{end: +1} }

// Member takes each guess at its share of its own distribution, 0 to 1, keyed by path. Guesses without a share are taken at nominal.
func Member(shares map[string]float64) Draw { return Draw{shares: shares} }

// Of returns the number that stands for a value.
func (d Draw) Of(v rig.Value) float64 {
	if !IsGuess(v) {
		return v.Quantity.Base
	}
	switch {
	case d.end < 0:
		return v.Low
	case d.end > 0:
		return v.High
	case d.shares != nil:
		if share, drawn := d.shares[DrawKey(v)]; drawn {
			return Quantile(v, share)
		}
	}
	return v.Quantity.Base
}

// IsGuess tells whether a value is one that the ensemble varies: a default, an estimate or an unknown with a span.
func IsGuess(v rig.Value) bool {
	return v.State != figure.Absent && v.State < figure.Plain && v.High > v.Low
}

// Quantile returns the value below which a guess lies with the given chance, 0 to 1.
//
// An estimate or default is triangular with its peak at the nominal value and its ends at the ends of its span; an unknown is spread
// evenly over its span. Ours: the triangle is the simplest shape with a most likely value and firm ends.
func Quantile(v rig.Value, share float64) float64 {
	share = math.Min(math.Max(share, 0), 1)
	low, mode, high := v.Low, math.Min(math.Max(v.Quantity.Base, v.Low), v.High), v.High
	width := high - low
	if v.State == figure.Unknown {
		return low + share*width
	}
	if cut := (mode - low) / width; share < cut {
		return low + math.Sqrt(share*width*(mode-low))
	}
	return high - math.Sqrt((1-share)*width*(high-mode))
}

// Guesses returns every value of a completed document that an ensemble varies, in the order of the document. Ends of electrical figures
// on a module's data sheet matter to the rules and not to the energy, so only those the owner marked as uncertain are among them.
func Guesses(doc *rig.Rig) []rig.Value {
	var list []rig.Value
	rig.Walk(doc, func(path string, v *rig.Value) {
		if !IsGuess(*v) || isSheetDefault(path, *v) {
			return
		}
		guess := *v
		if guess.At.Path == "" {
			guess.At.Path = path
		}
		guess.At.Path = DrawKey(guess)
		if !slices.ContainsFunc(list, func(g rig.Value) bool { return g.At.Path == guess.At.Path }) {
			list = append(list, guess)
		}
	})
	return list
}

// DrawKey returns the name under which a guess is drawn. What the program fills in for every array of one roof, or for every appliance in
// one body, is one guess and not several: dust does not fall on arrays one by one.
func DrawKey(v rig.Value) string {
	path := v.At.Path
	if v.State != figure.Default {
		return path
	}
	for _, shared := range [...]struct{ part, tail string }{
		{"arrays/", "/soiling"}, {"arrays/", "/mismatch"}, {"appliances/", "/heat loss"}, {"controllers/", "/efficiency"}, {"controllers/", "/own use"},
	} {
		if strings.HasPrefix(path, shared.part) && strings.HasSuffix(path, shared.tail) {
			return shared.part + "all" + shared.tail
		}
	}
	return path
}

// isSheetDefault tells a default of a module's or controller's sheet that no energy hangs on.
func isSheetDefault(path string, v rig.Value) bool {
	if v.State != figure.Default {
		return false
	}
	for _, tail := range []string{"/voc per C", "/isc per C", "/power per C", "/noct", "/starts at", "/restarts at", "/absorbs for",
		"/peak limit", "/run/gauge", "bank/opens at", "bank/loads off at", "bank/inverter off at", "/surge", "bank/heats below"} {
		if len(path) >= len(tail) && path[len(path)-len(tail):] == tail {
			return true
		}
	}
	return false
}
