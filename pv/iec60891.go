package pv

// Correction carries a measured point of a module to another irradiance and temperature.
type Correction struct {
	AlphaAPerK float64 // rise of the short-circuit current [A/K]
	BetaVPerK  float64 // change of the open-circuit voltage [V/K], below zero
	Rs         float64 // series resistance [Ω], zero or more
	KappaOhmK  float64 // change of the series resistance with temperature [Ω/K], usually left at zero
}

// Condition is the light and warmth of a module: irradiance [W/m²] and cell temperature [°C].
type Condition struct{ Light, CellC float64 }

// Apply returns the point p, measured under one condition, as it would be under another. The point of greatest power goes over to one near the
// greatest power there, within about 1 % for changes up to 20 % of irradiance, which is the range the standard allows. isc is the short-circuit
// current measured with p [A]. Where either irradiance is not above zero, only the temperature is corrected.
//
// Source: [IEC-60891] procedure 1.
func (c Correction) Apply(p Point, isc float64, from, to Condition) Point {
	ratio := 1.0
	if from.Light > 0 && to.Light > 0 {
		ratio = to.Light / from.Light
	}
	dt := to.CellC - from.CellC
	i := p.I + isc*(ratio-1) + c.AlphaAPerK*dt
	v := p.V - c.Rs*(i-p.I) - c.KappaOhmK*i*dt + c.BetaVPerK*dt
	return Point{V: v, I: i, P: v * i}
}
