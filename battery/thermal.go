package battery

import "math"

// ThermalParams describe a bank as one warm mass in its bay.
type ThermalParams struct {
	MassKg   float64 // of the whole bank, 0.1..10000
	KJPerKgK float64 // specific heat [kJ/kgK], 0.5..2; 1.0 for LFP and lead-acid blocks, common practice, no source
	LossWK   float64 // heat lost to the air of the bay for each kelvin [W/K], 0..1000
	HeaterW  float64 // of its heater, 0..10000
}

// Thermal is the warm mass of a bank. It is made by NewThermal and never changes.
type Thermal struct {
	whPerK  float64
	lossWK  float64
	heaterW float64
}

// NewThermal returns the mass that p describes, or an error naming every field out of range.
func NewThermal(p ThermalParams) (Thermal, error) {
	err := check([]bound{
		{"mass", p.MassKg, 0.1, 1e4, " kg"},
		{"specific heat", p.KJPerKgK, 0.5, 2, " kJ/kgK"},
		{"heat loss", p.LossWK, 0, 1000, " W/K"},
		{"heater", p.HeaterW, 0, 1e4, " W"},
	})
	if err != nil {
		return Thermal{}, err
	}
	return Thermal{whPerK: p.MassKg * p.KJPerKgK / 3.6, lossWK: p.LossWK, heaterW: p.HeaterW}, nil
}

// WarmWh returns the heat that brings the bank from one temperature [C] to another [Wh], losses on the way not counted; negative for
// cooling.
func (t Thermal) WarmWh(fromC, toC float64) float64 { return t.whPerK * (toC - fromC) }

// HoldW returns the heat that holds the bank at a temperature [C] in air of airC [C]; negative where the air is warmer.
func (t Thermal) HoldW(tC, airC float64) float64 { return t.lossWK * (tC - airC) }

// Step returns the temperature of the bank at the end of a step [C] and its mean over it.
//
//	tC     at the start [C]
//	airC   air of the bay, steady over the step [C]
//	heatW  heat made inside, steady over the step [W]: Flow.HeatW and a heater
//	dtH    length of the step [h], zero or positive
//
// Exact for one mass with one loss: T' = (heat - loss (T - air)) / mass. Ours, textbook.
func (t Thermal) Step(tC, airC, heatW, dtH float64) (endC, meanC float64) {
	if !(dtH > 0) {
		return tC, tC
	}
	x := t.lossWK * dtH / t.whPerK
	// share = (1 - exp(-x)) / x, the mean of a decline, and 1 where nothing is lost.
	share := 1.0
	if x > 1e-9 {
		share = -math.Expm1(-x) / x
	}
	pull := (heatW - t.lossWK*(tC-airC)) * dtH / t.whPerK // how far it would go without the air drawing back
	endC = tC + pull*share
	meanShare := 0.5
	if x > 1e-4 {
		meanShare = (1 - share) / x
	}
	return endC, tC + pull*meanShare
}

// Heat returns the mean power of the heater over a step [W], 0 to what it has, that brings the bank to keepsC at the end of the step or
// as near as it can, and the temperature then [C]. Without need it is 0. Arguments as Step; heatW without the heater.
func (t Thermal) Heat(tC, airC, heatW, keepsC, dtH float64) (heaterW, endC float64) {
	endC, _ = t.Step(tC, airC, heatW, dtH)
	if !(endC < keepsC) || t.heaterW == 0 || !(dtH > 0) {
		return 0, endC
	}
	full, _ := t.Step(tC, airC, heatW+t.heaterW, dtH)
	heaterW = t.heaterW * min(1, (keepsC-endC)/(full-endC)) // the end is straight in the power
	endC, _ = t.Step(tC, airC, heatW+heaterW, dtH)
	return heaterW, endC
}

// HeatW returns the heat that a step made inside the bank [W], zero or positive: all losses. What flooded cells lose as gas is counted
// too, so that it is an upper figure near their full.
func (f Flow) HeatW() float64 {
	return f.ResistiveLossW + f.PolarisationLossW + f.CoulombicLossW + f.SelfDischargeW
}
