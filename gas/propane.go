package gas

import "math"

// Heat content and density as published [PROPANE]. Sheets differ by 0.2 % (21,548 or 21,591 BTU/lb; 4.20 or 4.24 lb/gal).
const (
	BTUPerGal = 91502.0
	BTUPerLb  = 21548.0
	LbPerGal  = 4.24
	BoilingF  = -44.0 // at sea level
	FillShare = 0.80  // of a container's volume that liquid may fill
)

// Exact or defined unit factors.
const (
	whPerBTU = 0.29307107017 // International Table BTU
	kgPerLb  = 0.45359237
	lPerGal  = 3.785411784
)

// Heat and density of propane in the program's units.
const (
	WhPerKg = BTUPerLb * whPerBTU / kgPerLb  // 13,922
	WhPerL  = BTUPerGal * whPerBTU / lPerGal // 7,084
	KgPerL  = LbPerGal * kgPerLb / lPerGal   // 0.508
)

// KgPerH returns the mass burned in an hour [kg/h] by a heat rate [W], zero or positive.
func KgPerH(heatW float64) float64 { return math.Max(0, heatW) / WhPerKg }

// pressureF and pressurePsig are the vapour pressure of propane above the atmosphere against temperature [PROPANE].
var (
	pressureF    = []float64{-30, -20, -10, 0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100, 110}
	pressurePsig = []float64{6.8, 11.5, 17.5, 24.5, 34, 42, 53, 65, 78, 93, 110, 128, 150, 177, 204}
)

const (
	atmospherePsi = 14.696
	paPerPsi      = 6894.757
)

// VapourPressurePa returns the pressure in a container of propane above the standard atmosphere [Pa], zero or positive.
//
//	tC  temperature of the liquid [C]; held below -42.2, where propane boils in the open and the pressure is zero, and above 43.3
//
// Straight in the logarithm of absolute pressure between the points of the chart. Published charts differ by 4 psi at 0 F and 12 at 70 F.
//
// Source: [PROPANE].
func VapourPressurePa(tC float64) float64 {
	tF := tC*9/5 + 32
	if !(tF > BoilingF) {
		return 0
	}
	lowF, lowPsig := BoilingF, 0.0
	for i, f := range pressureF {
		if tF <= f {
			low, high := math.Log(lowPsig+atmospherePsi), math.Log(pressurePsig[i]+atmospherePsi)
			return paPerPsi * (math.Exp(low+(high-low)*(tF-lowF)/(f-lowF)) - atmospherePsi)
		}
		lowF, lowPsig = f, pressurePsig[i]
	}
	return paPerPsi * lowPsig
}
