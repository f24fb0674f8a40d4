package system

import (
	"math"

	"campwright/pv"
	"campwright/quantity"
	"campwright/rig"
)

// standardC is the cell temperature of standard test conditions [°C].
const standardC = 25

// VoltsAt returns a voltage of a data sheet at another cell temperature [V], by the sheet's own coefficient: V·(1 + k·(T − 25)).
//
//	volts  at 25 °C [V]
//	perK   coefficient, relative [1/K], below zero
//	cellC  cell temperature [°C]
//
// NEC 690.7(A)(1) asks for this where the coefficient is known. Light below 1000 W/m² only lowers it. Source: [IEC-60891] procedure 1, as
// pv.Correction has it, with light and current unchanged.
func VoltsAt(volts, perK, cellC float64) float64 {
	return pv.Correction{BetaVPerK: volts * perK}.Apply(pv.Point{V: volts}, 0, 1, 1, standardC, cellC).V
}

// VocPerK returns the coefficient of a module's open-circuit voltage relative to that voltage [1/K], whichever way its sheet writes it.
func VocPerK(m *rig.Module) rig.Value { return relative(m.VocPerC, m.Voc) }

// IscPerK returns the coefficient of a module's short-circuit current relative to that current [1/K].
func IscPerK(m *rig.Module) rig.Value { return relative(m.IscPerC, m.Isc) }

// relative returns a coefficient as a share per degree, with its ends.
func relative(c, of rig.Value) rig.Value {
	base := of.Quantity.Base
	k := perKelvin(c, of)
	if k != c.Quantity.Base && base > 0 {
		c.Quantity.Kind, c.Quantity.Unit = quantity.PerDegree, "%/C"
		c.Quantity.Base, c.Low, c.High = k, c.Low/base, c.High/base
	}
	return c
}

// HotCell returns the cell temperature of an array in full sun, 1000 W/m² and the wind taken where none is known, at an air temperature [°C].
func (a *Array) HotCell(airC float64) float64 { return a.Cell.Cell(fullSun, airC, pv.DefaultWind) }

// fullSun is the light of a clear noon [W/m²].
const fullSun = 1000

// MountingCell returns the cell temperature in full sun of a mounting as the document names it, at an air temperature [°C]; NaN for an
// unknown one.
func MountingCell(mounting string, airC float64) float64 {
	cell, _, err := mountings[mounting].Model()
	if err != nil {
		return math.NaN()
	}
	return cell.Cell(fullSun, airC, pv.DefaultWind)
}
