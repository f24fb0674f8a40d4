package battery

import (
	"errors"
	"fmt"
)

// bound is one field with its allowed ends, both included.
type bound struct {
	what      string
	value     float64
	low, high float64
	unit      string
}

// check returns an error naming every bound that its value breaks; a value that is no number breaks all.
func check(bounds []bound) error {
	var all []error
	for _, b := range bounds {
		if !(b.value >= b.low && b.value <= b.high) {
			all = append(all, fmt.Errorf("battery: %s %.6g%s outside %.6g to %.6g", b.what, b.value, b.unit, b.low, b.high))
		}
	}
	return errors.Join(all...)
}

// check returns an error naming every field that is out of range.
func (p Params) check() error {
	if p.Chemistry < LFP || p.Chemistry > Gel {
		return fmt.Errorf("battery: %v is not known", p.Chemistry)
	}
	cells := float64(p.Cells)
	cell := p.Chemistry.NominalCellV()
	full := leadRest[len(leadRest)-1].v + p.PolarisationV
	if p.Chemistry == LFP {
		full = 3.3 // the last half per cent rises to the cut-off, which charging need not reach
	}
	taperHigh := 0.0
	if p.Chemistry.LeadAcid() {
		taperHigh = 10
	}
	return check([]bound{
		{"blocks in series", float64(p.Series), 1, 100, ""},
		{"blocks in parallel", float64(p.Parallel), 1, 1000, ""},
		{"cells in a block", cells, 1, 500, ""},
		{"capacity", p.CapacityAh, 0.1, 1e5, " Ah"},
		{"rated discharge time", p.RatedHours, 0.2, 200, " h"},
		{"health", p.Health, 0.1, 1.5, ""},
		{"resistance", p.ResistanceOhm, 1e-6, 10, " ohm"},
		{"resistance of the cells", p.CellOhm, 0, p.ResistanceOhm, " ohm"},
		{"charge limit", p.ChargeLimitA, 0, 1e6, " A"},
		{"discharge limit", p.DischargeLimitA, 0, 1e6, " A"},
		{"polarisation of a cell", p.PolarisationV, 0, 0.1 * cell, " V"},
		{"taper time", p.TaperHours, 0, taperHigh, " h"},
		{"absorption voltage", p.AbsorptionV, full * cells, 1.5 * cell * cells, " V"},
		{"float voltage", p.FloatV, 0, 1.5 * cell * cells, " V"},
		{"lowest charging temperature", p.ChargeAboveC, -100, 100, " C"},
		{"highest charging temperature", p.ChargeBelowC, p.ChargeAboveC, 150, " C"},
		{"lowest discharging temperature", p.DischargeAboveC, -100, 100, " C"},
		{"highest discharging temperature", p.DischargeBelowC, p.DischargeAboveC, 150, " C"},
		{"rate exponent", p.RateExponent, 1, 1.5, ""},
		{"coulombic efficiency in bulk", p.Efficiency.Bulk, 0.1, 1, ""},
		{"coulombic efficiency above 80 %", p.Efficiency.Late, 0.1, 1, ""},
		{"coulombic efficiency above 90 %", p.Efficiency.Full, 0.1, 1, ""},
		{"self-discharge in a month", p.SelfPerMonth, 0, 0.5, ""},
	})
}

// check returns an error naming every field that is out of range.
func (p IdealParams) check() error {
	return check([]bound{
		{"nominal voltage", p.NominalV, 1, 2000, " V"},
		{"capacity", p.CapacityAh, 0.1, 1e6, " Ah"},
		{"charge efficiency", p.ChargeEff, 0.1, 1, ""},
		{"discharge efficiency", p.DischargeEff, 0.1, 1, ""},
		{"charge power", p.MaxChargeW, 0, 1e9, " W"},
		{"discharge power", p.MaxDischargeW, 0, 1e9, " W"},
		{"lowest state of charge", p.SoCMin, 0, 1, ""},
		{"highest state of charge", p.SoCMax, p.SoCMin, 1, ""},
	})
}
