package convert

import "math"

// Loss is what a converter turns into heat, as a function of what it puts out [W]:
//
//	loss(P) = P0 + a·P + b·P²
//
// P0 is the power to be awake at all, a stands for what grows with current through fixed voltages (diodes, switching), b for what
// grows with its square (resistance).
//
// Source: [JANTSCH-1992], the model of self-consumption, voltage losses and ohmic losses; in watts here, not in shares of the rating.
type Loss struct {
	FixedW  float64 // P0 [W], zero or more
	PerW    float64 // a [W/W], zero or more
	PerWSqr float64 // b [W/W²], zero or more
}

// Curve says how the loss at the point of peak efficiency is made up, for data sheets that print the peak alone.
type Curve struct {
	PeakAt     float64 // output at which efficiency is highest, as share of the rating, above 0 to 1
	FixedShare float64 // share of the loss at that point that is P0; the same share is b·P², the rest a·P; 0 (flat) to 0.5
}

// FlatCurve returns the curve of one efficiency at every load: no fixed and no quadratic part.
func FlatCurve() Curve { return Curve{PeakAt: 1, FixedShare: 0} }

// TypicalCurve returns the curve taken for charge controllers, chargers and DC-DC units of which only the peak efficiency is known:
// peak at half load, a quarter of the loss there fixed. At 97 % peak that is 96.6 % at full load and 94.7 % at a tenth.
// Common practice, no source.
func TypicalCurve() Curve { return Curve{PeakAt: 0.5, FixedShare: 0.25} }

// FitCurve returns the loss of a converter from its peak efficiency and the shape of its curve.
//
//	ratedW     rated output [W], above zero
//	peak       peak efficiency, output over input [1], above 0 to 1
//	curve      where the peak lies and how the loss there is made up
//
// Efficiency is highest where P0 = b·P², so at P* = PeakAt·ratedW, with k = 1/peak - 1 the loss per watt put out there:
// P0 = f·k·P*, b = f·k/P*, a = k(1 - 2f). It returns an error for a value outside these ranges. Source: ours, from the curve of Loss.
func FitCurve(ratedW, peak float64, curve Curve) (Loss, error) {
	f := faults{place: "efficiency curve"}
	f.within("rated output", ratedW, 1e-3, 1e7, "W")
	f.within("peak efficiency", peak, 0.01, 1, "")
	f.within("peak at", curve.PeakAt, 0.001, 1, "of rating")
	f.within("fixed share", curve.FixedShare, 0, 0.5, "")
	if err := f.err(); err != nil {
		return Loss{}, err
	}
	k, at := 1/peak-1, curve.PeakAt*ratedW
	return Loss{FixedW: curve.FixedShare * k * at, PerW: k * (1 - 2*curve.FixedShare), PerWSqr: curve.FixedShare * k / at}, nil
}

// mostW is the largest power that a loss is computed for [W]; whatever is above counts as this much, so that no result is infinite.
const mostW = 1e30

// At returns the loss [W] while outW [W] is put out; outW below zero counts as zero, above 1e30 as that.
func (l Loss) At(outW float64) float64 {
	outW = min(max(outW, 0), mostW)
	return l.FixedW + (l.PerW+l.PerWSqr*outW)*outW
}

// In returns the input [W] needed to put out outW [W], with the same ends as At.
func (l Loss) In(outW float64) float64 { return min(max(outW, 0), mostW) + l.At(outW) }

// Out returns the output [W] that inW [W] of input makes: the inverse of In, and zero for an input of P0 or less or no number; an input
// above 1e30 counts as that.
// Exact to rounding. Source: ours, the positive root of b·P² + (1+a)·P + P0 - In = 0, in the form that stays exact as b goes to zero.
func (l Loss) Out(inW float64) float64 {
	net := min(inW, mostW) - l.FixedW
	if !(net > 0) {
		return 0
	}
	lin := 1 + l.PerW
	if l.PerWSqr == 0 {
		return net / lin
	}
	return 2 * net / (lin + math.Sqrt(lin*lin+4*l.PerWSqr*net))
}

// Efficiency returns output over input [1] at outW [W], and zero where nothing is put out.
func (l Loss) Efficiency(outW float64) float64 {
	if !(outW > 0) {
		return 0
	}
	return outW / l.In(outW)
}

// Peak returns the output [W] of highest efficiency and that efficiency [1]. For a curve without both fixed and quadratic part the
// peak lies at no finite output above zero: it then returns output zero and the efficiency approached.
func (l Loss) Peak() (outW, efficiency float64) {
	if l.FixedW == 0 || l.PerWSqr == 0 {
		return 0, 1 / (1 + l.PerW)
	}
	return math.Sqrt(l.FixedW / l.PerWSqr), 1 / (1 + l.PerW + 2*math.Sqrt(l.FixedW*l.PerWSqr))
}
