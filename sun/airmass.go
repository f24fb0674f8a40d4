package sun

import "math"

// AirMass returns the relative optical air mass, 1 with the sun overhead, for an apparent zenith angle [deg], 0 to 90.
//
// It is 37.92 at 90 degrees. Below the horizon there is no path and it returns 0; a negative zenith counts as its opposite.
// Accuracy: 0.5 % or better to 90 degrees. Source: [KASTEN-YOUNG] eq. 3.
func AirMass(zenith float64) float64 {
	z := math.Abs(zenith)
	if !(z <= 90) {
		return 0
	}
	return 1 / (math.Cos(z*radian) + lowSun(z))
}

// AbsoluteAirMass returns the air mass corrected to the pressure of the place: relative air mass, pressure [Pa].
func AbsoluteAirMass(relative, pressure float64) float64 {
	return relative * pressure / 101325
}

// lowSun is the term of [KASTEN-YOUNG] that matters with a low sun; zenith [deg], 0 to 90.
func lowSun(zenith float64) float64 {
	return 0.50572 * math.Pow(96.07995-zenith, -1.6364)
}
