package starter

import (
	"math"

	"campwright/catalogue"
	"campwright/system"
)

// Day is what a rig takes and gathers on one mean day at camp, parked, on its own stores. The shares say how much of each store a day uses
// up; a store that is not there has none.
type Day struct {
	UseWh     float64 // from the bank, inverter loss included
	HarvestWh float64 // into it from the arrays
	HeatWh    float64 // of propane
	BankWh    float64 // from its charge at the start down to the floor

	Battery, Propane, Fresh, Grey, Black float64 // share of the store a day; the battery's is below zero where the sun gives more than is used
}

// swing is how far the air goes up and down around its mean over a day [K]. Common practice, no source.
const swing = 6.0

// arrayFactor is the share of label power times sun hours that reaches the bank over a day from modules flat on a roof, by mean air [°C]:
// 0.78 in frost down to 0.67 in great heat. Common practice, no source: 0.77 to 0.78 cold, 0.72 to 0.76 mild, 0.66 to 0.70 hot.
func arrayFactor(airC float64) float64 {
	return math.Min(0.78, math.Max(0.66, 0.785-0.0035*airC))
}

// MeanDay sums a day of a system under so much light on the level [kWh/m²/day, zero or more] and mean air [°C]. It is an estimate for
// sizing and for comparing: the trip answers with weather and dispatch.
//
// The array gives its rating by the sun hours and arrayFactor, which holds the usual dirt and mismatch; what a system says of its own beside
// the usual is taken into account. Against the trip's own sums on four stays: use within 8 %, harvest 7 to 19 % low.
func MeanDay(sys *system.System, sun, airC float64) Day {
	var d Day
	ac := make([]float64, len(sys.Inverters))
	busV := sys.Bank.Model.NominalV()
	for _, l := range sys.Loads {
		wh := dayWh(l.Day, l.ByAir, airC)
		switch {
		case !l.When.Holds(false):
		case l.Bus == system.AC && l.Inverter >= 0:
			ac[l.Inverter] += wh
		case l.Bus == system.AC:
		case l.Amps:
			d.UseWh += wh * busV
		default:
			d.UseWh += wh
		}
	}
	for i := range sys.Inverters {
		p := sys.Inverters[i].Unit.Params()
		d.UseWh += ac[i] / p.Peak
		if !sys.Inverters[i].Used {
			d.UseWh += 24 * p.IdleW
		}
	}
	for i := range sys.Controllers {
		d.UseWh += 24 * sys.Controllers[i].Unit.Params().OwnUseW
	}
	for _, b := range sys.Burns {
		if b.When.Holds(false) {
			d.HeatWh += dayWh(b.Day, b.ByAir, airC)
		}
	}
	usual := (1 - catalogue.Soiling.Value) * (1 - catalogue.Mismatch.Value)
	for i := range sys.Arrays {
		a := &sys.Arrays[i]
		d.HarvestWh += a.RatedW * a.Clean * a.Keeps * a.Beam / usual * math.Max(0, sun) * arrayFactor(airC)
	}
	d.BankWh = sys.Bank.CapacityAh * busV * math.Max(0, sys.Bank.StartSoC-sys.Floor)
	d.Battery = share(d.UseWh-d.HarvestWh, d.BankWh)
	d.Propane = share(d.HeatWh*sys.Propane.KgPerWh, sys.Propane.StartKg)
	w := sys.Water
	d.Fresh, d.Grey, d.Black = share(w.FreshPerDay, w.FreshL), share(w.GreyPerDay, w.GreyL), share(w.BlackPerDay, w.BlackL)
	return d
}

// share is a part of a whole, zero where there is no whole.
func share(part, whole float64) float64 {
	if whole > 0 {
		return part / whole
	}
	return 0
}

// dayWh sums a day of means over steps, its share by air included, warmest at three in the afternoon.
func dayWh(day []float64, by *system.ByAir, airC float64) float64 {
	total, stepH := 0.0, 24/float64(len(day))
	for i, v := range day {
		s := 1.0
		if by != nil {
			s = by.At(airC + swing*math.Cos(2*math.Pi*((float64(i)+0.5)*stepH-15)/24))
		}
		total += v * s * stepH
	}
	return total
}
