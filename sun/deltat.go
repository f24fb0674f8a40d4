package sun

// DeltaT returns terrestrial time minus universal time [s] in a decimal year, 1900 to 2150; outside, the nearer end is used.
//
// Accuracy: 1 s from 1900 to 2005, where it follows observations. It forecasts too much since: 3 s in 2020 and 6 s in 2026, because
// the Earth has turned faster than expected. The sun's place among the stars moves 0.04 arc seconds in a second, so 6 s is 0.00007
// degrees.
//
// Source: [ESPENAK-MEEUS], the polynomials of each span of years.
func DeltaT(year float64) float64 {
	y := min(max(year, 1900), 2150)
	switch {
	case y < 1920:
		return poly(y-1900, -2.79, 1.494119, -0.0598939, 0.0061966, -0.000197)
	case y < 1941:
		return poly(y-1920, 21.20, 0.84493, -0.076100, 0.0020936)
	case y < 1961:
		t := y - 1950
		return 29.07 + 0.407*t - t*t/233 + t*t*t/2547
	case y < 1986:
		t := y - 1975
		return 45.45 + 1.067*t - t*t/260 - t*t*t/718
	case y < 2005:
		return poly(y-2000, 63.86, 0.3345, -0.060374, 0.0017275, 0.000651814, 0.00002373599)
	case y < 2050:
		return poly(y-2000, 62.92, 0.32217, 0.005589)
	default:
		u := (y - 1820) / 100
		return -20 + 32*u*u - 0.5628*(2150-y)
	}
}

// poly returns the polynomial of x with the given coefficients, lowest power first.
func poly(x float64, coefficients ...float64) float64 {
	sum := 0.0
	for i := len(coefficients) - 1; i >= 0; i-- {
		sum = sum*x + coefficients[i]
	}
	return sum
}
