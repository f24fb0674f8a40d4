package pv

import "math"

// root returns an x between low and high where f is zero, to rounding. f must have different signs at the two ends, else the end with the
// smaller value is returned.
//
// Source: [CHANDRUPATLA-1997], inverse quadratic interpolation where it is safe, halving where not.
func root(f func(float64) float64, low, high float64) float64 {
	b, a := low, high
	fb, fa := f(b), f(a)
	if fa*fb > 0 {
		if math.Abs(fa) < math.Abs(fb) {
			return a
		}
		return b
	}
	t := 0.5
	for range 200 {
		x := a + t*(b-a)
		fx := f(x)
		c, fc := a, fa
		if (fx > 0) == (fa > 0) {
			a, fa = x, fx
		} else {
			c, fc, b, fb = b, fb, a, fa
			a, fa = x, fx
		}
		best, fbest := a, fa
		if math.Abs(fb) < math.Abs(fa) {
			best, fbest = b, fb
		}
		tol := 4 * eps * math.Abs(best)
		tl := tol / math.Abs(b-a)
		if fbest == 0 || tl > 0.5 || math.Abs(b-a) <= math.SmallestNonzeroFloat64 {
			return best
		}
		xi, phi := (a-b)/(c-b), (fa-fb)/(fc-fb)
		t = 0.5
		if phi*phi < xi && (1-phi)*(1-phi) < 1-xi {
			t = fa/(fb-fa)*fc/(fb-fc) + (c-a)/(b-a)*fa/(fc-fa)*fb/(fc-fb)
		}
		t = max(tl, min(1-tl, t))
	}
	return a
}

// eps is the distance from 1 to the next float64.
const eps = 0x1p-52
