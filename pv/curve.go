package pv

import (
	"fmt"
	"math"
)

// Point is one operating point: voltage V [V], current I [A] positive out of the module, and their product P [W].
type Point struct{ V, I, P float64 }

// Curve is the current-voltage curve of one cell, substring, module or array of equal modules in equal light:
//
//	I = IL - I0·(exp((V + I·Rs)/A) - 1) - (V + I·Rs)/Rsh
//
//	IL   photocurrent [A], zero or more
//	I0   saturation current of the diode [A], above zero
//	Rs   series resistance [Ω], zero or more
//	Rsh  shunt resistance [Ω], above zero; +Inf means no shunt
//	A    ideality factor times cells in series times thermal voltage [V], above zero
//
// The methods assume such values (Check tells) and are then total. A Curve made by Module.At is always valid.
//
// Source: [DESOTO-2006], the equation of the equivalent circuit.
type Curve struct{ IL, I0, Rs, Rsh, A float64 }

// mostNegative is what Voltage returns where a current cannot be driven through the unit at any voltage [V].
const mostNegative = -1e6

// Check returns an error naming the first value outside its range, or nil.
func (c Curve) Check() error {
	switch {
	case !(c.IL >= 0 && c.IL <= math.MaxFloat64):
		return fmt.Errorf("curve: photocurrent %g A, wanted zero or more", c.IL)
	case !(c.I0 > 0 && c.I0 <= math.MaxFloat64):
		return fmt.Errorf("curve: saturation current %g A, wanted above zero", c.I0)
	case !(c.Rs >= 0 && c.Rs <= math.MaxFloat64):
		return fmt.Errorf("curve: series resistance %g Ω, wanted zero or more", c.Rs)
	case !(c.Rsh > 0):
		return fmt.Errorf("curve: shunt resistance %g Ω, wanted above zero", c.Rsh)
	case !(c.A > 0 && c.A <= math.MaxFloat64):
		return fmt.Errorf("curve: modified ideality %g V, wanted above zero", c.A)
	}
	return nil
}

// Scale returns the curve of equal units joined: the voltage times series, the current times parallel, both above zero. Scale(1.0/2, 1) is
// one of two equal substrings of a module. Exact, since equal units in equal light share voltage and current equally.
//
// Source: Ours; put V = series·v and I = parallel·i into the equation of Curve.
func (c Curve) Scale(series, parallel float64) Curve {
	r := series / parallel
	return Curve{IL: c.IL * parallel, I0: c.I0 * parallel, Rs: c.Rs * r, Rsh: c.Rsh * r, A: c.A * series}
}

// Current returns the current at the terminal voltage v [A]. Any finite v is allowed; a reverse voltage gives the photocurrent and what
// the shunt adds (no breakdown, see Reverse). Accuracy: 1e-12 of the photocurrent, more loosely far above the open-circuit voltage, where
// the result is large and negative and good to 1e-12 of itself.
//
// Source: Ours; the equation of Curve solved for the diode voltage x·A by the Wright omega function.
func (c Curve) Current(v float64) float64 {
	gsh := 1 / c.Rsh
	if c.Rs == 0 {
		return c.IL - c.I0*math.Expm1(v/c.A) - v*gsh
	}
	// With k = 1 + Rs/Rsh the equation reads x + b·e^x = θ, b = Rs·I0/(A·k), θ = (v + Rs·(IL + I0))/(A·k); then x = θ - w, w = b·e^x,
	// and w + ln w = θ + ln b.
	ak := c.A * (1 + c.Rs*gsh)
	theta := (v + c.Rs*(c.IL+c.I0)) / ak
	b := c.Rs * c.I0 / ak
	w := omega(theta + math.Log(b))
	x := theta - w
	if x < 1 { // the diode carries less than its saturation current or little more: the difference to it must not be lost
		return c.IL - c.I0*math.Expm1(x) - c.A*x*gsh
	}
	return c.IL + c.I0 - w*ak/c.Rs - c.A*x*gsh
}

// Voltage returns the terminal voltage at the current i [V]. Any finite i is allowed: a current above what light and shunt can give needs a
// negative voltage, and -1e6 V is returned where that is the limit or the unit has no shunt. Accuracy: 1e-12 of the open-circuit voltage
// for currents from zero to the short-circuit current.
func (c Curve) Voltage(i float64) float64 {
	v := c.A*c.diode(i) - i*c.Rs
	if !(v >= mostNegative) {
		return mostNegative
	}
	return v
}

// Voc returns the open-circuit voltage [V], zero in the dark.
func (c Curve) Voc() float64 { return c.A * c.diode(0) }

// Isc returns the short-circuit current [A], zero in the dark.
func (c Curve) Isc() float64 {
	if c.IL == 0 {
		return 0
	}
	return c.Current(0)
}

// At returns the operating point at the terminal voltage v [V], as a load or controller holds it there.
func (c Curve) At(v float64) Point {
	i := c.Current(v)
	return Point{V: v, I: i, P: v * i}
}

// diode returns the diode voltage in units of A at the current i: the x of I0·e^x + x·A/Rsh = IL + I0 - i.
func (c Curve) diode(i float64) float64 {
	if i == 0 && c.IL == 0 {
		return 0
	}
	j := c.IL - i // the part for diode and shunt
	g := c.A / c.Rsh
	var x float64
	switch {
	case j > 2*c.I0:
		// Both terms are positive, so each alone bounds x from above.
		x = math.Log((j + c.I0) / c.I0)
		if g*x < 0.3*j {
			return mild(x, j+c.I0, g)
		}
		x = min(x, j/g)
	case j > 0:
		x = min(math.Log1p(j/c.I0), j/g)
	case g > 0:
		x = min(0, max((j+c.I0)/g, 2*mostNegative/c.A))
	case j+c.I0 > 0:
		return math.Log1p(j / c.I0)
	default:
		return 2 * mostNegative / c.A
	}
	// Newton on an increasing convex function: after the first step it comes down from above without overshooting.
	for range 100 {
		var e, f float64
		if x > 1 {
			e = c.I0 * math.Exp(x)
			f = e - c.I0 + g*x - j
		} else { // the difference to the saturation current must not be lost
			f = c.I0 * math.Expm1(x)
			e = f + c.I0
			f += g*x - j
		}
		step := f / (e + g)
		x -= step
		if math.Abs(step) <= 1e-8*(1+math.Abs(x)) { // the next step would be half its square
			break
		}
	}
	return x
}

// mild returns the x of I0·e^x + g·x = j from the start ln(j/I0), where the second term is a small part: Newton on x = ln((j - g·x)/I0), which is
// nearly straight there.
func mild(start, j, g float64) float64 {
	x := start
	for range 20 {
		left := 1 - g*x/j
		step := (start + math.Log(left) - x) / (1 + g/(j*left))
		x += step
		if math.Abs(step) <= 1e-6*x { // the next step would be about its square times g/j
			break
		}
	}
	return x
}

// omega returns the Wright omega function of a real z, the w above zero with w + ln w = z. Accuracy: 1e-14 of w. It is zero where it is
// below the smallest number.
//
// Source: [LCJ-2012] (the step of Fritsch, Shafer and Crowley), with starts of our own.
func omega(z float64) float64 {
	var w float64
	switch {
	case z < -36:
		return math.Exp(z)
	case z < -1:
		t := math.Exp(z)
		w = t * (1 - t*(1-1.5*t)/(1+t))
	case z < 3:
		d := z - 1
		w = 1 + d*(0.5+d*(1.0/16-d/192))
	default:
		l := math.Log(z)
		w = z - l + l/z
	}
	for range 2 {
		r := z - w - math.Log(w)
		s := 2 * (1 + w) * (1 + w + 2*r/3)
		w *= 1 + r/(1+w)*(s-r)/(s-2*r)
		if math.Abs(r) < 1e-3 { // the error left is of the order of r to the fourth power
			break
		}
	}
	return w
}
