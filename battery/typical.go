package battery

// Typical returns the usual values of a bank of one block, every field filled, for the caller to overwrite with what is known.
//
//	nominalV    of the block [V], as on its label: 12, 12.8, 24, 6
//	capacityAh  of the block [Ah], as on its label
//
// For an unknown chemistry or a value not above zero it returns what New refuses.
//
// Where the values come from: charge temperatures, absorption and float voltage, coulombic efficiency, self-discharge, resistance of a
// 12 V 100 Ah block are the middle values of common data sheets, from memory unless said otherwise. Resistance falls with capacity and
// rises with the number of cells. The LFP cell's own resistance is 24 milliohm-ampere-hours and its polarisation, 18 mV, the middle
// of the measured hysteresis [LFP-COLD]. The limits of charge and discharge current, as hours of capacity, are common practice without
// source, and are what a label tells best.
//
// Rate exponent: LFP 1. Flooded 1.2, the handbook's lower usual value [PEUKERT]. AGM and gel 1.02: handbooks say 1.05 to 1.15, but a
// measured AGM block lost nothing between C/6 and C/33 [AGM-MEASURED], where 1.2 would have cost 30 %.
//
// Coulombic efficiency of flooded cells: above 95 % at low charge and falling near full [SANDIA-COULOMB]; the bands above 0.8 are from
// memory of data sheets. AGM and gel: ours, such that a whole cycle gives the measured 0.94 [AGM-MEASURED].
func Typical(c Chemistry, nominalV, capacityAh float64) Params {
	cells := CellsFor(c, nominalV)
	n := float64(cells)
	p := Params{
		Chemistry: c, Series: 1, Parallel: 1, Cells: cells,
		CapacityAh: capacityAh, RatedHours: 20, Health: 1, RateExponent: 1,
		ChargeAboveC: -20, ChargeBelowC: 50, DischargeAboveC: -30, DischargeBelowC: 60,
	}
	switch c {
	case LFP:
		p.RatedHours = 5
		p.CellOhm = 0.024 / capacityAh * n
		p.ResistanceOhm = p.CellOhm + 0.00125*n*(100/capacityAh)
		p.ChargeLimitA, p.DischargeLimitA = capacityAh/2, capacityAh
		p.PolarisationV = 0.018
		p.AbsorptionV, p.FloatV = 3.55*n, 3.375*n
		p.ChargeAboveC, p.ChargeBelowC, p.DischargeAboveC, p.DischargeBelowC = 0, 45, -20, 60
		p.Efficiency = Coulombic{Bulk: 0.995, Late: 0.995, Full: 0.995}
		p.SelfPerMonth = 0.02
	case Flooded:
		p.lead(0.004, 0.2)
		p.AbsorptionV, p.FloatV = 2.433*n, 2.233*n
		p.RateExponent = 1.2
		p.Efficiency = Coulombic{Bulk: 0.95, Late: 0.85, Full: 0.5}
		p.SelfPerMonth = 0.05
	case AGM:
		p.lead(0.004, 0.3)
		p.TaperHours = 1
		p.AbsorptionV, p.FloatV = 2.4*n, 2.267*n
		p.RateExponent = 1.02
		p.Efficiency = Coulombic{Bulk: 0.97, Late: 0.9, Full: 0.75}
		p.SelfPerMonth = 0.02
	case Gel:
		p.lead(0.005, 0.2)
		p.AbsorptionV, p.FloatV = 2.35*n, 2.267*n
		p.RateExponent = 1.02
		p.Efficiency = Coulombic{Bulk: 0.97, Late: 0.9, Full: 0.75}
		p.SelfPerMonth = 0.02
	}
	return p
}

// lead fills what the three lead-acid kinds share: the resistance of a 12 V 100 Ah block [ohm] and the charge limit as a share of the
// capacity in an hour. All of the resistance follows temperature. The polarisation is ours: a measured AGM block gave 12.0 V in the mean
// of a discharge at C/33, 0.22 V below its mean rest voltage, of which its resistance explains 0.01 V [AGM-MEASURED].
func (p *Params) lead(ohm, chargeShare float64) {
	p.ResistanceOhm = ohm * 100 / p.CapacityAh * float64(p.Cells) / 6
	p.CellOhm = p.ResistanceOhm
	p.ChargeLimitA, p.DischargeLimitA = chargeShare*p.CapacityAh, p.CapacityAh
	p.PolarisationV = 0.035
	p.TaperHours = 0.75 // over the coulombic efficiency: 0.8 to 1.5 h, the trade's range
}
