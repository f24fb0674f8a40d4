package pv

import (
	"math"
	"slices"
)

// strand is a string, or several equal ones in parallel.
type strand struct {
	elements []element
	count    float64
	kinks    []kink // by falling current and so by rising voltage
	always   Curve  // see kink.limit, for currents above the first kink
	sumA     float64
	broken   bool    // some unit has a Reverse
	near     float64 // current of the last state met while solving, a start for the next one
}

// element is a group, or several equal ones in series.
type element struct {
	Group
	count float64
}

// kink is the state in which a diode begins to conduct, seen from lower currents.
type kink struct {
	i, v         float64
	above, below float64 // slope of the voltage on the two sides, with the diode conducting and without [V/A]
	// The unit that limits the current just below i: of those whose diode does not conduct the one with the least photocurrent. Its diode
	// voltage is the scale on which the curve of the string is nearly straight. Any other would give the same answers.
	limit Curve
}

// add joins a group to the string.
func (s *strand) add(g Group) {
	for _, u := range g.Units {
		s.broken = s.broken || u.Reverse != Reverse{}
	}
	for k := range s.elements {
		if s.elements[k].same(&g) {
			s.elements[k].count++
			return
		}
	}
	s.elements = append(s.elements, element{Group: g, count: 1})
}

// same tells whether two strings have the same curve, where it can be seen without solving.
func (s *strand) same(t *strand) bool {
	if len(s.elements) != len(t.elements) {
		return false
	}
	for k := range s.elements {
		if s.elements[k].count != t.elements[k].count || !s.elements[k].Group.same(&t.elements[k].Group) {
			return false
		}
	}
	return true
}

// prepare fills in the kinks.
func (s *strand) prepare() {
	s.sumA = 0
	s.always = Curve{IL: math.Inf(1)}
	for k := range s.elements {
		e := &s.elements[k]
		s.sumA += e.count * e.voltsA()
		weak := e.Units[0].Curve
		for _, u := range e.Units {
			if u.Curve.IL < weak.IL {
				weak = u.Curve
			}
		}
		if e.Bypass {
			s.kinks = append(s.kinks, kink{i: e.kink(), limit: weak})
		} else if weak.IL < s.always.IL {
			s.always = weak
		}
	}
	slices.SortFunc(s.kinks, func(a, b kink) int {
		switch {
		case a.i > b.i:
			return -1
		case a.i < b.i:
			return 1
		}
		return 0
	})
	for k := range s.kinks {
		n := &s.kinks[k]
		n.v, n.above, n.below = s.around(n.i)
		if s.always.IL < n.limit.IL {
			n.limit = s.always
		}
	}
}

// at returns the state of the string at the current i of one of it.
func (s *strand) at(i float64) state {
	var sum state
	for k := range s.elements {
		e := &s.elements[k]
		es := e.at(i)
		sum.v += e.count * es.v
		sum.slope += e.count * es.slope
		sum.bend += e.count * es.bend
	}
	return sum
}

// around returns the voltage of the string at the current i of a kink [V], and its slope on the two sides of it, above and below that
// current [V/A].
func (s *strand) around(i float64) (v, above, below float64) {
	for k := range s.elements {
		e := &s.elements[k]
		es := e.bare(i)
		switch off := es.v + e.DropV; {
		case !e.Bypass || off > kinkV:
			above += e.count * es.slope
			below += e.count * es.slope
		case off >= -kinkV:
			es.v = -e.DropV
			below += e.count * es.slope
		default:
			es.v = -e.DropV
		}
		v += e.count * es.v
	}
	return v, above, below
}

// kinkV is how near to its diode's drop a group stands at its kink [V]: rounding magnified by a steep curve.
const kinkV = 1e-6

// flow is a current [A] with its first and second derivative by the voltage [A/V, A/V²].
type flow struct{ i, slope, bend float64 }

// current returns the flow of one of the string at the voltage v, zero or more. The current near is a first guess; not a number is none.
func (s *strand) current(v, near float64) flow {
	if len(s.elements) == 1 && len(s.elements[0].Units) == 1 && !s.broken { // all alike: solved in closed form
		u := &s.elements[0].Units[0]
		i := u.Curve.Current(v / (s.elements[0].count * float64(u.Count)))
		return s.at(i).flow(i)
	}
	if f, ok := s.newton(v, near); ok {
		return f
	}
	i := s.search(v)
	return s.at(i).flow(i)
}

// flow turns a state at the current i round.
func (t state) flow(i float64) flow {
	g := 1 / min(t.slope, -leastSlope)
	return flow{i, g, -t.bend * g * g * g}
}

// newton returns the flow at the voltage v, and whether it was found. On the scale of the diode voltage of the limiting unit the voltage
// of the string rises nearly straight, and by at least that unit's own.
func (s *strand) newton(v, near float64) (flow, bool) {
	if s.broken {
		return flow{}, false
	}
	c, low, high := &s.always, math.Inf(-1), math.Inf(1)
	for k := range s.kinks {
		n := &s.kinks[k]
		if n.v > v {
			high = n.i // still a current
			break
		}
		c, low = &n.limit, n.i
	}
	if c.A == 0 {
		return flow{}, false
	}
	// From currents to the scale, which runs the other way.
	if !math.IsInf(low, 0) {
		low = c.diode(low)
	}
	if !math.IsInf(high, 0) {
		high = c.diode(high)
	}
	x := v / s.sumA
	if near == near {
		x = c.diode(near)
	}
	for range 40 {
		if !(x > low) {
			x = low + 1e-3
		}
		if !(x < high) {
			x = high - 1e-3
		}
		e := c.I0 * math.Exp(x)
		i := c.IL + c.I0 - e - c.A*x/c.Rsh
		t := s.at(i)
		off := t.v - v
		rise := t.slope * -(e + c.A/c.Rsh) // of the voltage with x
		if off > 0 {
			high = x
		} else {
			low = x
		}
		step := -off / rise
		if math.Abs(step) <= 1e-5 && math.Abs(off) <= 1e-4*s.sumA { // the next step would be about its square
			di := -e*step*(1+step/2) - c.A*step/c.Rsh
			t.slope += di * t.bend
			return t.flow(i + di), true
		}
		if math.Abs(step) <= 1e-12 { // no slope to trust: a current that a dark unit without diode cannot pass
			return flow{}, false
		}
		y := x + step
		if !(y > low && y < high) { // not a number included
			if y = (low + high) / 2; !finite(y) {
				return flow{}, false
			}
		}
		x = y
	}
	return flow{}, false
}

// search is the slow twin of newton, which needs nothing of the shape of the curve but that it falls.
func (s *strand) search(v float64) float64 {
	low, high := s.bracket(v)
	if !(high-low > 4*eps*(math.Abs(low)+math.Abs(high))) {
		return low
	}
	return root(func(i float64) float64 { return s.at(i).v - v }, low, high)
}

// bracket returns two currents between which one of the string carries the voltage v, zero or more [A], as Group.bracket.
func (s *strand) bracket(v float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	share := v / s.sumA
	for k := range s.elements {
		for j := range s.elements[k].Units {
			u := &s.elements[k].Units[j]
			i := u.current(share * u.Curve.A)
			low, high = min(low, i), max(high, i)
		}
	}
	return low, high
}
