package pv

import (
	"math"
	"slices"
)

// Maxima returns the local maxima of the power above zero, by ascending voltage. The caller must not change them.
func (c *Combined) Maxima() []Point { return c.maxima }

// Best returns the point of greatest power, zero if there is none.
func (c *Combined) Best() Point {
	if len(c.maxima) == 0 {
		return Point{}
	}
	return c.maxima[c.best]
}

// Stuck returns the share of the greatest power that a tracker loses which stays at the local maximum k of Maxima, 0 to 1; 1 for a k that is
// not there.
func (c *Combined) Stuck(k int) float64 {
	if k < 0 || k >= len(c.maxima) {
		return 1
	}
	return 1 - c.maxima[k].P/c.maxima[c.best].P
}

// Voc returns the open-circuit voltage [V].
func (c *Combined) Voc() float64 { return c.voc }

// Isc returns the short-circuit current [A].
func (c *Combined) Isc() float64 { return c.isc }

// Current returns the current at the voltage v [A], v below zero taken as zero. Above the open-circuit voltage it is negative. Accuracy: 1e-10
// of the short-circuit current.
func (c *Combined) Current(v float64) float64 {
	return c.sum(max(v, 0)).i
}

// At returns the point at the voltage v [V], v below zero taken as zero: what a controller without tracking gets that ties the array to a
// battery of that voltage. Above the open-circuit voltage power is negative; a controller with a blocking element then passes none.
func (c *Combined) At(v float64) Point {
	v = max(v, 0)
	i := c.Current(v)
	return Point{V: v, I: i, P: v * i}
}

// Window returns the best point of a controller that can work the array between the voltages low and high [V]: the greatest power there. It
// returns the zero Point if low is above high or no voltage there gives power.
func (c *Combined) Window(low, high float64) Point {
	low, high = max(low, 0), min(high, c.voc)
	if !(low <= high) {
		return Point{}
	}
	best := Point{}
	for _, p := range [...]Point{c.At(low), c.At(high)} {
		if p.P > best.P {
			best = p
		}
	}
	for _, p := range c.maxima {
		if p.V >= low && p.V <= high && p.P > best.P {
			best = p
		}
	}
	return best
}

// Window returns the best point of a controller that can work the curve between the voltages low and high [V], as Combined.Window.
func (c Curve) Window(low, high float64) Point {
	low = max(low, 0)
	if !(low <= high) {
		return Point{}
	}
	p := c.MaxPower()
	if v := max(low, min(p.V, high)); v != p.V {
		p = c.At(v)
	}
	if p.P <= 0 {
		return Point{}
	}
	return p
}

// solve finds ends and maxima.
func (c *Combined) solve() {
	low, high := math.Inf(1), 0.0
	for k := range c.strands {
		v := c.strands[k].at(0).v
		low, high = min(low, v), max(high, v)
		for _, k := range c.strands[k].kinks {
			if k.v > 0 {
				c.kinks = append(c.kinks, k.v)
			}
		}
	}
	if high <= 0 { // all dark
		return
	}
	c.voc = high
	if low < high {
		c.voc = c.open(max(low, 0), high)
	}
	c.isc = c.sum(0).i
	slices.Sort(c.kinks)
	if k, _ := slices.BinarySearch(c.kinks, c.voc); k < len(c.kinks) {
		c.kinks = c.kinks[:k]
	}
	c.kinks = append(c.kinks, c.voc)
	if len(c.strands) == 1 && !c.broken {
		c.climb(&c.strands[0])
	} else {
		c.walk()
	}
	for k, p := range c.maxima {
		if p.P > c.maxima[c.best].P {
			c.best = k
		}
	}
}

// open returns the open-circuit voltage of several strings, which lies between the lowest and the highest of theirs [V].
func (c *Combined) open(low, high float64) float64 {
	v := high
	for range 40 { // from above on a falling concave curve Newton's step does not overshoot
		f := c.track(v)
		if f.i > 0 {
			low = v
		} else {
			high = v
		}
		step := -f.i / f.slope
		if math.Abs(step) < 1e-9*v && !c.broken { // the next step would be about its square
			return v + step
		}
		if y := v + step; y > low && y < high {
			v = y
		} else {
			v = (low + high) / 2
		}
	}
	return root(func(v float64) float64 { return c.sum(v).i }, low, high)
}

// climb finds the maxima of a single string, on whose current everything depends directly.
func (c *Combined) climb(s *strand) {
	// The interval begins at the current top and the voltage from; rising tells whether the power rises with voltage there.
	scale, top, from, rising := &s.always, c.isc/s.count, 0.0, true
	one := func(low, to float64) {
		if p, ok := s.climb(scale, top, low); ok {
			c.maxima = append(c.maxima, Point{V: p.V, I: p.I * s.count, P: p.P * s.count})
		} else {
			c.peak(from, to)
		}
	}
	for k := range s.kinks {
		n := &s.kinks[k]
		if n.v > 0 && n.i < top {
			if rising && n.v+n.i*n.above > 0 { // and falls at the other end
				one(n.i, n.v)
			}
			top, from, rising = n.i, n.v, n.v+n.i*n.below < 0
		}
		scale = &n.limit
	}
	if rising {
		one(0, c.voc)
	}
}

// walk finds the maxima of several strings, by voltage.
func (c *Combined) walk() {
	from := 0.0
	for _, to := range c.kinks {
		steps := 1
		if c.broken {
			steps = brokenSteps
		}
		for k := range steps {
			c.peak(from+(to-from)*float64(k)/float64(steps), from+(to-from)*float64(k+1)/float64(steps))
		}
		from = to
	}
}

// climb returns the maximum of the power of one string between two currents that have one between them, and whether it was found. It solves
// ln(-I·V'/V) = 0 on the scale of the limiting unit, where that is nearly straight.
func (s *strand) climb(scale *Curve, high, low float64) (p Point, ok bool) {
	if scale.A == 0 {
		return Point{}, false
	}
	from, to := scale.diode(high), scale.diode(low)
	x := math.Log1p(scale.IL/scale.I0) - 3.2 // near the maximum of a good module
	for range 30 {
		if !(x > from && x < to) {
			x = (from + to) / 2
		}
		e := scale.I0 * math.Exp(x)
		slope := -(e + scale.A/scale.Rsh) // of the current with x
		i := scale.IL + scale.I0 - e - scale.A*x/scale.Rsh
		t := s.at(i)
		ratio := -i * t.slope / t.v
		if !(t.v > 0 && ratio > 0) {
			return Point{}, false
		}
		if ratio < 1 {
			to = x
		} else {
			from = x
		}
		step := -math.Log(ratio) / ((1/i + t.bend/t.slope - t.slope/t.v) * slope)
		if math.Abs(step) < 1e-6 { // the next step would be about its square, and the power is flat here
			di := step * slope
			v := t.v + di*(t.slope+0.5*di*t.bend)
			return Point{V: v, I: i + di, P: v * (i + di)}, true
		}
		x += step
	}
	return Point{}, false
}

// brokenSteps is how finely an interval is searched where units break down.
const brokenSteps = 64

// peak appends the maximum of the power between two voltages, if there is one inside: where the slope I + V·dI/dV changes from above to
// below zero.
func (c *Combined) peak(from, to float64) {
	inside := 1e-9 * (to - from)
	if !(inside > 0) {
		return
	}
	from, to = from+inside, to-inside
	slope := func(v float64) float64 { f := c.track(v); return f.i + v*f.slope }
	if !(slope(from) > 0 && slope(to) < 0) {
		return
	}
	v, ok := c.newton(from, to)
	if !ok {
		v = root(slope, from, to)
	}
	if p := c.At(v); p.P > 0 {
		c.maxima = append(c.maxima, p)
	}
}

// newton returns the voltage of the maximum between two voltages that have one between them, and whether it was found. It solves
// ln(-V·I'/I) = 0, since the conductance of diodes grows exponentially with the voltage and its logarithm is nearly straight.
func (c *Combined) newton(from, to float64) (v float64, ok bool) {
	if c.broken {
		return 0, false
	}
	v = max((from+to)/2, to-4*c.strands[0].sumA)
	for range 40 {
		f := c.track(v)
		ratio := -v * f.slope / f.i
		if f.i <= 0 || ratio > 1 {
			to = v
		} else {
			from = v
		}
		y := (from + to) / 2
		if f.i > 0 {
			step := -math.Log(ratio) / (1/v + f.bend/f.slope - f.slope/f.i)
			if math.Abs(step) < 1e-6*v { // the next step would be about its square, and the power is flat here
				return v + step, true
			}
			if v+step > from && v+step < to {
				y = v + step
			}
		}
		v = y
	}
	return 0, false
}
