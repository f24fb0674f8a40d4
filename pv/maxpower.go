package pv

import "math"

// MaxPower returns the point of the curve with the greatest power, zero in the dark. Accuracy: 1e-12 of the power, 1e-7 of A in voltage.
func (c Curve) MaxPower() Point {
	if !(c.IL > 0) {
		return Point{}
	}
	k := circuit{c.IL, c.I0, c.Rs, 1 / c.Rsh, c.A, 1 / c.A}
	return k.climb(k.near(roughLog(k.il) - roughLog(k.i0) - 3))
}

// MaxPowerFrom is MaxPower, begun from the maximum of a neighbouring state. It returns the same point within the accuracy of MaxPower for any
// start: one that is not near costs only time.
func (c Curve) MaxPowerFrom(neighbour Point) Point {
	if !(c.IL > 0) {
		return Point{}
	}
	k := circuit{c.IL, c.I0, c.Rs, 1 / c.Rsh, c.A, 1 / c.A}
	return k.climb(k.near((neighbour.V + neighbour.I*c.Rs) * k.inv))
}

// circuit is a Curve with the reciprocals that its solution needs: gsh = 1/Rsh [S], inv = 1/A [1/V].
type circuit struct{ il, i0, rs, gsh, a, inv float64 }

// roughLog returns ln y of a positive normal number within 0.06, from its bits: the exponent, and the fraction for the rest of the logarithm.
func roughLog(y float64) float64 {
	return float64(int64(math.Float64bits(y))-0x3ff<<52) * (math.Ln2 / (1 << 52))
}

// near returns the diode voltage at the greatest power in units of A, within 0.01 for the curves of modules, from a guess x within 1 of it.
//
// The condition of climb is e^x·I0·(1 + x - r) = (IL + I0)·left, with r = 2·I·Rs/A and left the share that the shunt leaves. As x = φ(x) with φ
// the logarithm of the rest it is nearly constant, so that one Newton step on x - φ(x) comes close.
func (c *circuit) near(x float64) float64 {
	all := c.il + c.i0
	shunt := c.gsh * c.a / all // part of the current that goes through the shunt, for each x
	u := 1 + x
	i := all * (1 - 1/u - shunt*x)
	r := 2 * i * c.rs * c.inv
	u -= r
	left := 1 - shunt*(2*x-r)
	if !(u > 2 && left > 0.1) {
		return c.far()
	}
	slope := -1/u - 2*shunt/left
	return x + (math.Log(all*left/(u*c.i0))-x)/(1-slope)
}

// far is near without a guess, for curves that are not those of a module in daylight: next to no light, great series resistance, or a shunt
// that takes most of the current.
func (c *circuit) far() float64 {
	l := math.Log1p(c.il / c.i0)
	u := omega(l + 1) // 1 + x of the ideal diode: e^x·(1 + x) = e^l
	i := c.il * (1 - 1/u)
	r := 2 * i * c.rs * c.inv
	half := c.il / (2 * c.a * c.gsh) // x at half the open-circuit voltage of the shunt alone
	x := min(u-1, half)
	left := 1 - 2*(x*c.a-i*c.rs)*c.gsh/c.il
	if !(left > 0.1) {
		return 0.5 * min(l, 2*half)
	}
	return min(omega(l+math.Log(left)+1-r)-1+r, l)
}

// nearEnough ends the search for the maximum, in units of A: a Halley step shorter than this leaves about its third power over twelve, 1e-7,
// and the top of the power is flat.
const nearEnough = 0.01

// climb solves dP/dVd = 0 from the start x = Vd/A and returns that point. P is concave in the terminal voltage wherever that is positive,
// and rises where it is not, so there is one root, and the sign of the derivative tells on which side of it x lies.
func (c *circuit) climb(x float64) Point {
	all := c.il + c.i0
	low, high := 0.0, math.Inf(1)
	for range 200 {
		e := c.i0 * math.Exp(x)
		if !(e <= all) { // above open circuit
			high = math.Log1p(c.il / c.i0)
			x = 0.5 * (low + high)
			continue
		}
		vd := c.a * x
		i := all - e - vd*c.gsh
		// With g = -dI/dVd and s = Vd - 2·I·Rs: dP/dVd = I - g·s, and its two derivatives.
		ge := e * c.inv
		g := ge + c.gsh
		s := vd - 2*i*c.rs
		t := 1 + 2*g*c.rs
		f := i - g*s
		g1 := ge * c.inv
		f1 := -g*(1+t) - g1*s
		f2 := -g1 * (3*t + s*c.inv)
		d := -2 * f * f1 / (2*f1*f1 - f*f2) * c.inv // Halley's step
		if math.Abs(f) < -nearEnough*c.a*f1 {       // Newton's step would be as short; f1 is below zero here
			e *= 1 + d*(1+d*(1.0/2+d*(1.0/6+d*(1.0/24+d*(1.0/120)))))
			vd += d * c.a
			i = all - e - vd*c.gsh
			v := vd - i*c.rs
			return Point{V: v, I: i, P: v * i}
		}
		if f > 0 {
			low = x
		} else {
			high = x
		}
		if y := x + d; y > low && y < high {
			x = y
			continue
		}
		if math.IsInf(high, 1) {
			high = math.Log1p(c.il / c.i0)
		}
		x = 0.5 * (low + high)
		if !(high-low > 1e-15*high) { // nothing left to halve
			break
		}
	}
	vd := c.a * x
	i := c.il - c.i0*math.Expm1(x) - vd*c.gsh
	v := vd - i*c.rs
	return Point{V: v, I: i, P: v * i}
}
