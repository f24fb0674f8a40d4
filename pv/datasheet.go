package pv

import (
	"fmt"
	"math"
)

// Datasheet holds the figures printed on a module's sheet, at 1000 W/m² and 25 °C cell temperature. Coefficients are relative, in 1/K: -0.29 %/K
// is -0.0029. What is marked optional is left at zero if not known.
type Datasheet struct {
	PowerW float64 // optional, checked against Vmp times Imp
	VocV   float64
	IscA   float64
	VmpV   float64
	ImpA   float64
	Alpha  float64 // of Isc [1/K], zero or more; typically 0.0003 to 0.0006
	Beta   float64 // of Voc [1/K], below zero; typically -0.0025 to -0.0036
	Gamma  float64 // optional, of Pmp [1/K], below zero; typically -0.0029 to -0.0045
	Cells  int     // optional, cells in series; of half-cut cells in two parallel halves only one half counts
}

// Limits of a sheet that one diode of crystalline silicon can be. The ranges are wider than the typical ones of the handbook: those are what
// modules are, these what a sheet cannot be.
const (
	powerOff   = 0.03          // Vmp·Imp may differ from the power by this share; sheets round
	leastFill  = 0.50          // below it one diode is no model
	greatFill  = 0.86          // an ideal diode of n = 1 at 0.75 V a cell reaches this
	leastCell  = 0.50          // V a cell at open circuit
	greatCell  = 0.78          // V a cell at open circuit; the best silicon cells made reach 0.75
	greatAlpha = 0.002         // 1/K
	leastBeta  = 0.001         // 1/K, size
	greatBeta  = 0.006         // 1/K, size
	greatGamma = 0.008         // 1/K, size
	sharpest   = 0.012         // A/Voc below which the knee is sharper than any junction's: n = 0.3 at 0.65 V a cell
	gammaOff   = 0.0015        // 1/K, the fitted Gamma may differ from the sheet's by this
	looseShunt = 1000.0        // Rsh is held at or below this many times Voc/Isc
	gammaTo    = 65.0          // °C, end of the range for Gamma
	percentOff = 0.02          // 1/K: a coefficient above this was meant in per cent
	sheet      = "data sheet:" // begins the errors
)

// check returns an error naming the first figures that are missing or contradict each other, or nil.
func (d Datasheet) check() error {
	for _, v := range [...]struct {
		name, unit string
		value      float64
	}{{"Voc", "V", d.VocV}, {"Isc", "A", d.IscA}, {"Vmp", "V", d.VmpV}, {"Imp", "A", d.ImpA}} {
		if !(v.value > 0 && v.value <= 1e6) {
			return fmt.Errorf("%s %s %.4g %s, wanted above zero", sheet, v.name, v.value, v.unit)
		}
	}
	switch {
	case d.VmpV >= d.VocV:
		return fmt.Errorf("%s Vmp %.4g V is not below Voc %.4g V", sheet, d.VmpV, d.VocV)
	case d.ImpA >= d.IscA:
		return fmt.Errorf("%s Imp %.4g A is not below Isc %.4g A", sheet, d.ImpA, d.IscA)
	case !(d.PowerW >= 0 && d.PowerW <= 1e9):
		return fmt.Errorf("%s power %.4g W, wanted above zero, or zero where not known", sheet, d.PowerW)
	}
	power := d.VmpV * d.ImpA
	if d.PowerW > 0 && math.Abs(power-d.PowerW) > powerOff*d.PowerW {
		return fmt.Errorf("%s power %.4g W, but Vmp %.4g V times Imp %.4g A is %.4g W, more than %.4g %% off", sheet, d.PowerW, d.VmpV, d.ImpA, power,
			100*powerOff)
	}
	fill := power / (d.VocV * d.IscA)
	switch {
	case d.VmpV <= d.VocV/2:
		return fmt.Errorf("%s Vmp %.4g V is not above half of Voc %.4g V, which no diode gives", sheet, d.VmpV, d.VocV)
	case d.ImpA <= d.IscA/2:
		return fmt.Errorf("%s Imp %.4g A is not above half of Isc %.4g A, which no diode gives", sheet, d.ImpA, d.IscA)
	case fill < leastFill || fill > greatFill:
		return fmt.Errorf("%s fill factor %.3f from Vmp·Imp over Voc·Isc, one diode gives %.4g to %.4g", sheet, fill, leastFill, greatFill)
	}
	if err := d.checkCoefficients(); err != nil {
		return err
	}
	return d.checkCells()
}

// checkCoefficients is the part of check for signs and sizes of the coefficients.
func (d Datasheet) checkCoefficients() error {
	for _, c := range [...]struct {
		name  string
		value float64
	}{{"Isc", d.Alpha}, {"Voc", d.Beta}, {"Pmp", d.Gamma}} {
		if !finite(c.value) || math.Abs(c.value) > percentOff {
			return fmt.Errorf("%s coefficient of %s %.4g 1/K, wanted below %.4g in size: in per cent or in volt per kelvin?", sheet, c.name, c.value,
				percentOff)
		}
	}
	switch {
	case d.Alpha < 0:
		return fmt.Errorf("%s coefficient of Isc %.4g 1/K is negative, but the current rises with temperature", sheet, d.Alpha)
	case d.Alpha > greatAlpha:
		return fmt.Errorf("%s coefficient of Isc %.4g 1/K, wanted at most %.4g", sheet, d.Alpha, greatAlpha)
	case d.Beta > 0:
		return fmt.Errorf("%s coefficient of Voc %.4g 1/K is positive, but the voltage falls with temperature", sheet, d.Beta)
	case -d.Beta < leastBeta || -d.Beta > greatBeta:
		return fmt.Errorf("%s coefficient of Voc %.4g 1/K, wanted %.4g to %.4g", sheet, d.Beta, -greatBeta, -leastBeta)
	case d.Gamma > 0:
		return fmt.Errorf("%s coefficient of power %.4g 1/K is positive, but the power falls with temperature", sheet, d.Gamma)
	case -d.Gamma > greatGamma:
		return fmt.Errorf("%s coefficient of power %.4g 1/K, wanted at most %.4g in size", sheet, d.Gamma, greatGamma)
	}
	return nil
}

// checkCells is the part of check for the count of cells.
func (d Datasheet) checkCells() error {
	if d.Cells < 0 {
		return fmt.Errorf("%s %d cells, wanted above zero, or zero where not known", sheet, d.Cells)
	}
	if d.Cells == 0 {
		return nil
	}
	each := d.VocV / float64(d.Cells)
	if each >= leastCell && each <= greatCell {
		return nil
	}
	hint := ""
	if 2*each >= leastCell && 2*each <= greatCell && d.Cells%2 == 0 {
		hint = fmt.Sprintf("; if the cells are cut in half, %d are in series", d.Cells/2)
	}
	return fmt.Errorf("%s Voc %.4g V over %d cells is %.3f V a cell, silicon gives %.2f to %.2f%s", sheet, d.VocV, d.Cells, each, leastCell,
		greatCell, hint)
}

// usualCells are counts of cells in series that modules have, with how unusual each is, in the measure of inferCells. Common practice, no source.
var usualCells = [...]struct {
	cells   int
	unusual float64
}{{18, 1.5}, {20, 2}, {24, 2}, {30, 2}, {32, 2.5}, {33, 2.5}, {34, 2}, {36, 0}, {40, 1}, {44, 1.5}, {48, 1}, {50, 2}, {54, 0.5}, {60, 0}, {64, 2},
	{66, 1}, {72, 0}, {78, 1.5}, {80, 1.5}, {88, 2}, {96, 1}, {104, 2}, {108, 2}, {120, 2}, {128, 2}, {132, 2}, {144, 2}}

// inferCells returns the likeliest count of cells in series and why. Cells of higher voltage lose less of it with heat, so the coefficient
// tells which voltage a cell to expect: 0.617 V at -0.351 %/K and 0.687 V at -0.28 %/K, sheets of a 60-cell and a 54-cell module, and a straight
// line between. Ours; a guess that enters no curve, since the fit does not need the count.
func inferCells(d Datasheet) (cells int, why string) {
	expect := max(0.58, min(0.617+100*(0.00351+d.Beta), 0.74))
	best := math.Inf(1)
	for _, u := range usualCells {
		z := math.Log(d.VocV/float64(u.cells)/expect) / 0.07
		if cost := z*z + u.unusual; cost < best {
			best, cells = cost, u.cells
		}
	}
	each := d.VocV / float64(cells)
	if each < leastCell || each > greatCell {
		cells = max(1, int(math.Round(d.VocV/expect)))
		each = d.VocV / float64(cells)
	}
	return cells, fmt.Sprintf("%d cells in series inferred: %.4g V open circuit is then %.3f V a cell, and %.2f %%/K lets expect about %.2f V",
		cells, d.VocV, each, 100*d.Beta, expect)
}

// UsualSubstrings returns how many bypass diodes a module with this many cells in series usually has: one for 18 to 24 cells.
//
// Common practice, no source.
func UsualSubstrings(cells int) int { return max(1, (cells+23)/24) }
