package battery

import "math"

// Tables of temperature run from coldest to warmest whole degree; between degrees the value is a straight line, outside it is held.
const (
	coldestC = -40
	warmestC = 60
	degrees  = warmestC - coldestC + 1
)

// byDegree is a property against temperature, one value for each degree.
type byDegree [degrees]float64

// at returns the value at a temperature [C]; below -40 and above 60 C the end values are held.
func (t *byDegree) at(tC float64) float64 {
	d := tC - coldestC
	if !(d > 0) {
		return t[0]
	}
	if d >= degrees-1 {
		return t[degrees-1]
	}
	i := int(d)
	return t[i] + (t[i+1]-t[i])*(d-float64(i))
}

// lfpResistanceC and lfpResistance are measured on LFP cells [LFP-COLD]: resistance relative to 25 C. Resistance is close to
// exponential in temperature between the points.
var (
	lfpResistanceC = []float64{-15, -5, 5, 25}
	lfpResistance  = []float64{9, 3, 1.8, 1}
)

// ieee485C and ieee485Multiplier are the cell size correction for lead-acid against temperature [IEEE485] table 1, from memory: how
// many times larger a battery must be to give the same as at 25 C. The table's Fahrenheit steps are kept.
var (
	ieee485F          = []float64{25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 77, 80, 85, 90, 95, 100, 105, 110, 115, 120, 125}
	ieee485Multiplier = []float64{1.52, 1.43, 1.35, 1.30, 1.25, 1.19, 1.15, 1.11, 1.08, 1.04, 1.00, 0.98, 0.96, 0.94, 0.93, 0.91, 0.89, 0.88,
		0.87, 0.86, 0.85}
)

// ResistanceFactor returns the resistance of the cells relative to 25 C [1].
//
//	tC  temperature of the cells [C], any; held below -40 and above 60
//
// LFP: 1.8 at 5 C, 3 at -5, 9 at -15 as measured, exponential between; below -15 the last slope goes on, which is extrapolation; above
// 25 C it stays 1, which is on the safe side. Lead-acid: the size multiplier of IEEE 485, since what it corrects is mostly voltage lost
// in cold acid; ours, no source for the resistance itself. Good to about 20 % for LFP between -15 and 25 C.
//
// Source: [LFP-COLD]; [IEEE485] table 1.
func ResistanceFactor(c Chemistry, tC float64) float64 {
	tC = clampC(tC)
	if c.LeadAcid() {
		return leadMultiplier(tC)
	}
	if tC >= 25 {
		return 1
	}
	t, f := lfpResistanceC, lfpResistance
	i := 1
	for i < len(t)-1 && tC > t[i] {
		i++
	}
	slope := math.Log(f[i]/f[i-1]) / (t[i] - t[i-1])
	return f[i-1] * math.Exp(slope*(tC-t[i-1]))
}

// CapacityShare returns how much of the capacity at 25 C a bank gives at another temperature, at its rated discharge time [1].
//
//	tC  temperature of the cells [C], any; held below -40 and above 60
//
// LFP: 1 at 0 C and above, 0.99 at -15, 0.98 at -25, straight between and beyond, as measured at C/30: at low rates cold costs an LFP
// cell almost no charge, the loss is in the resistance. Lead-acid: one over the size multiplier of IEEE 485, carried on straight from
// -3.9 C through 0.40 at -17.8 C, the army manual's value; never under 0.1. Good to about 5 % of capacity.
//
// Source: [LFP-COLD]; [IEEE485] table 1; [TM-6140].
func CapacityShare(c Chemistry, tC float64) float64 {
	tC = clampC(tC)
	if c.LeadAcid() {
		return 1 / leadMultiplier(tC)
	}
	switch {
	case tC >= 0:
		return 1
	case tC >= -15:
		return 1 + 0.01*tC/15
	}
	return 0.99 + 0.001*(tC+15)
}

// leadMultiplier returns the size multiplier for lead-acid at a temperature already inside -40..60 C. Below the table's 25 F the
// capacity share falls straight to 0.40 at 0 F [TM-6140] and on to a least share of 0.1; above 125 F the last value is held.
func leadMultiplier(tC float64) float64 {
	tF := tC*9/5 + 32
	f, m := ieee485F, ieee485Multiplier
	if tF < f[0] {
		warm := 1 / m[0]
		return 1 / math.Max(0.1, 0.40+(warm-0.40)*tF/f[0])
	}
	for i := 1; i < len(f); i++ {
		if tF <= f[i] {
			return m[i-1] + (m[i]-m[i-1])*(tF-f[i-1])/(f[i]-f[i-1])
		}
	}
	return m[len(m)-1]
}

// clampC holds a temperature to -40..60 C; a value that is no number becomes 25.
func clampC(tC float64) float64 {
	if math.IsNaN(tC) {
		return 25
	}
	return math.Min(warmestC, math.Max(coldestC, tC))
}
