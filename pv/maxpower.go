package pv

import "math"

// climbStep ends the search for the maximum, in units of A: a Halley step shorter than this leaves about its third power over twelve,
// 1e-11 of A in voltage and far less in power.
const climbStep = 5e-4

// MaxPower returns the point of the curve with the greatest power, zero in the dark. Accuracy: 1e-12 of the power, 1e-10 of A in voltage.
func (c Curve) MaxPower() Point {
	if !(c.IL > 0) {
		return Point{}
	}
	return c.climb(c.guess())
}

// MaxPowerFrom is MaxPower, begun from the maximum of a neighbouring state to save its first guess. It returns the same point for any
// start: one that is not near costs only time.
func (c Curve) MaxPowerFrom(near Point) Point {
	if !(c.IL > 0) {
		return Point{}
	}
	x := (near.V + near.I*c.Rs) / c.A
	if !(x > 0) {
		x = c.guess()
	}
	return c.climb(x)
}

// guess returns the diode voltage at the greatest power in units of A, closely where the shunt takes little. The condition of climb, with
// the current in its series term and the shunt taken from the ideal curve, is solved by the omega function.
func (c Curve) guess() float64 {
	l := math.Log1p(c.IL / c.I0)
	u := omega(l + 1) // 1 + x of the ideal diode: e^x·(1 + x) = e^l
	if c.Rs == 0 && math.IsInf(c.Rsh, 1) {
		return u - 1
	}
	i := c.IL * (1 - 1/u)
	r := 2 * i * c.Rs / c.A
	x := min(u-1, c.IL*c.Rsh/(2*c.A))
	left := 1 - 2*(x*c.A-i*c.Rs)/(c.Rsh*c.IL)
	if left < 0.05 { // the shunt rules: half its open-circuit voltage
		return 0.5 * min(l, c.IL*c.Rsh/c.A)
	}
	u = omega(l + math.Log(left) + 1 - r)
	return min(u-1+r, l)
}

// climb solves dP/dVd = 0 from the start x = Vd/A and returns that point. P is concave in the terminal voltage wherever that is positive,
// and rises where it is not, so there is one root, and the sign of the derivative tells on which side of it x lies.
func (c Curve) climb(x float64) Point {
	gsh, inv := 1/c.Rsh, 1/c.A
	all := c.IL + c.I0
	low, high := 0.0, math.Inf(1)
	for range 200 {
		e := c.I0 * math.Exp(x)
		if !(e <= all) { // above open circuit
			high = math.Log1p(c.IL / c.I0)
			x = 0.5 * (low + high)
			continue
		}
		vd := c.A * x
		i := all - e - vd*gsh
		// With g = -dI/dVd and s = Vd - 2·I·Rs: dP/dVd = I - g·s, and its two derivatives.
		ge := e * inv
		g := ge + gsh
		s := vd - 2*i*c.Rs
		t := 1 + 2*g*c.Rs
		f := i - g*s
		g1 := ge * inv
		f1 := -g*(1+t) - g1*s
		f2 := -g1 * (3*t + s*inv)
		if f > 0 {
			low = x
		} else {
			high = x
		}
		// Halley's step.
		d := -2 * f * f1 / (2*f1*f1 - f*f2) * inv
		if math.Abs(f) < -climbStep*c.A*f1 { // Newton's step would be as short; f1 is below zero here
			e *= 1 + d*(1+d*(1.0/2+d*(1.0/6+d*(1.0/24))))
			vd += d * c.A
			i = all - e - vd*gsh
			v := vd - i*c.Rs
			return Point{V: v, I: i, P: v * i}
		}
		if y := x + d; y > low && y < high {
			x = y
			continue
		}
		if math.IsInf(high, 1) {
			high = math.Log1p(c.IL / c.I0)
		}
		if high-low <= 1e-15*high { // nothing left to halve
			return c.At(c.A*x - i*c.Rs)
		}
		x = 0.5 * (low + high)
	}
	return c.At(c.A*x - c.Rs*(all-c.I0*math.Exp(x)-c.A*x*gsh))
}
