package pv

// Correction carries a measured point of a module to another irradiance and temperature.
type Correction struct {
	AlphaAPerK float64 // rise of the short-circuit current [A/K]
	BetaVPerK  float64 // change of the open-circuit voltage [V/K], below zero
	Rs         float64 // series resistance [Ω], zero or more
	KappaOhmK  float64 // change of the series resistance with temperature [Ω/K], usually left at zero
}

// Apply returns the point p as it would be at another irradiance and cell temperature. The point of greatest power goes over to one near the
// greatest power there, within about 1 % for changes up to 20 % of irradiance, which is the range the standard allows.
//
//	p               measured point
//	isc             measured short-circuit current at the same time [A]
//	lightFrom, To   irradiance [W/m²], above zero; below that is taken as no change
//	cellFrom, To    cell temperature [°C]
//
// Source: [IEC-60891] procedure 1.
func (c Correction) Apply(p Point, isc, lightFrom, lightTo, cellFrom, cellTo float64) Point {
	ratio := 1.0
	if lightFrom > 0 && lightTo > 0 {
		ratio = lightTo / lightFrom
	}
	dt := cellTo - cellFrom
	i := p.I + isc*(ratio-1) + c.AlphaAPerK*dt
	v := p.V - c.Rs*(i-p.I) - c.KappaOhmK*i*dt + c.BetaVPerK*dt
	return Point{V: v, I: i, P: v * i}
}
