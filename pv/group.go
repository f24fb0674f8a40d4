package pv

import (
	"fmt"
	"math"
)

// Unit is a number of equal cells or substrings in series, in equal light.
type Unit struct {
	Curve   Curve   // of one of them
	Count   int     // how many, above zero
	Reverse Reverse // breakdown of one of them; the zero value has none
}

// Reverse is the breakdown of a cell under reverse voltage: the shunt current grows by 1 + Share·(1 - Vd/BreakdownV)^-Exponent. It matters for
// cells without a bypass diode. The zero value means no breakdown.
//
// Source: [BISHOP-1988].
type Reverse struct {
	Share      float64 // zero or more
	BreakdownV float64 // below zero [V]
	Exponent   float64 // above zero
}

// Group is what one bypass diode spans: units in series. With Bypass false there is no diode. The diode is ideal with a constant drop.
type Group struct {
	Units  []Unit
	Bypass bool
	DropV  float64 // voltage of the diode when it conducts [V], zero or more; usually 0.5
}

// check returns an error naming the first value out of range, or nil.
func (g Group) check() error {
	if len(g.Units) == 0 {
		return fmt.Errorf("no units")
	}
	if g.Bypass && !(g.DropV >= 0 && g.DropV <= 10) {
		return fmt.Errorf("drop of the bypass diode %g V, wanted 0 to 10", g.DropV)
	}
	for k, u := range g.Units {
		r := u.Reverse
		switch err := u.Curve.Check(); {
		case err != nil:
			return fmt.Errorf("unit %d: %w", k, err)
		case u.Count < 1:
			return fmt.Errorf("unit %d: count %d, wanted above zero", k, u.Count)
		case r != Reverse{} && !(r.Share >= 0 && r.Share <= 1e6 && r.BreakdownV < 0 && r.BreakdownV >= -1e6 && r.Exponent > 0 && r.Exponent <= 100):
			return fmt.Errorf("unit %d: reverse %+v, wanted share zero or more, breakdown below zero, exponent above zero to 100", k, r)
		}
	}
	return nil
}

// same tells whether two groups have the same curve.
func (g *Group) same(h *Group) bool {
	if len(g.Units) != len(h.Units) || g.Bypass != h.Bypass || g.DropV != h.DropV {
		return false
	}
	for k := range g.Units {
		if g.Units[k] != h.Units[k] {
			return false
		}
	}
	return true
}

// state is a voltage [V] with its first and second derivative by the current [V/A, V/A²].
type state struct{ v, slope, bend float64 }

// bare returns the state of the units together at the current i, without the diode.
func (g *Group) bare(i float64) state {
	var s state
	for k := range g.Units {
		u := &g.Units[k]
		us, n := u.at(i), float64(u.Count)
		s.v += n * us.v
		s.slope += n * us.slope
		s.bend += n * us.bend
	}
	return s
}

// at returns the state of the group at the current i; it does not change with the current while the diode conducts.
func (g *Group) at(i float64) state {
	s := g.bare(i)
	if g.Bypass && s.v < -g.DropV {
		return state{v: -g.DropV}
	}
	return s
}

// kink returns the current at which the diode begins to conduct [A].
func (g *Group) kink() float64 {
	if len(g.Units) == 1 && g.Units[0].Reverse == (Reverse{}) {
		return g.Units[0].Curve.Current(-g.DropV / float64(g.Units[0].Count))
	}
	// Each unit alone at its share of the voltage, the largest and the smallest current, bracket it.
	low, high := g.bracket(-g.DropV)
	return root(func(i float64) float64 { return g.bare(i).v + g.DropV }, low, high)
}

// voltsA returns the sum of the A of all units [V], by which a voltage is shared out among them for a first guess.
func (g *Group) voltsA() float64 {
	a := 0.0
	for _, u := range g.Units {
		a += float64(u.Count) * u.Curve.A
	}
	return a
}

// bracket returns two currents [A] between which the units carry the voltage v together: with any sharing of v, the unit that then carries the
// least cannot hold the others below it, nor the one that carries the most above.
func (g *Group) bracket(v float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	share := v / g.voltsA()
	for k := range g.Units {
		i := g.Units[k].current(share * g.Units[k].Curve.A)
		low, high = min(low, i), max(high, i)
	}
	return low, high
}

// current returns the current of one of the unit at the voltage v [A].
func (u *Unit) current(v float64) float64 {
	i := u.Curve.Current(v)
	if u.Reverse == (Reverse{}) {
		return i
	}
	// The breakdown adds to the current at the same diode voltage. Raise the current until its voltage is no more than v.
	for step := 1e-3 * (1 + math.Abs(i)); ; step *= 2 {
		if u.at(i+step).v <= v || step > 1e9 {
			return root(func(i float64) float64 { return u.at(i).v - v }, i-step, i+step)
		}
	}
}

// at returns the state of one of the unit at the current i. With breakdown the bend is not a number.
func (u *Unit) at(i float64) state {
	c := &u.Curve
	x := c.diode(i)
	gsh := 1 / c.Rsh
	if u.Reverse != (Reverse{}) {
		vd, g := u.broken(i, c.A*x)
		return state{vd - i*c.Rs, -1/max(g, leastSlope) - c.Rs, math.NaN()}
	}
	e := c.IL + c.I0 - i - c.A*x*gsh // the diode's own current and I0, from the equation
	if !(e > 1e-6*(math.Abs(i)+c.I0)) {
		e = c.I0 * math.Exp(x)
	}
	g := 1 / max(e/c.A+gsh, leastSlope)
	return state{max(c.A*x-i*c.Rs, mostNegative), -g - c.Rs, -e / (c.A * c.A) * g * g * g}
}

// leastSlope stands for a slope of zero, in siemens or in ohm: so small that nothing in a module is less, its cube far above the smallest number.
const leastSlope = 1e-30

// broken returns the diode voltage [V] and the conductance there [S] with breakdown, for a voltage that would be whole without.
func (u *Unit) broken(i, whole float64) (vd, g float64) {
	c, r := &u.Curve, &u.Reverse
	gsh := 1 / c.Rsh
	f := func(vd float64) float64 {
		return c.IL - c.I0*math.Expm1(vd/c.A) - gsh*vd*(1+r.Share*math.Pow(1-vd/r.BreakdownV, -r.Exponent)) - i
	}
	// Breakdown moves the voltage towards zero.
	if whole < 0 {
		vd = root(f, max(whole, r.BreakdownV*(1-1e-9)), 0)
	} else {
		vd = root(f, 0, whole)
	}
	left := 1 - vd/r.BreakdownV
	rise := r.Share * math.Pow(left, -r.Exponent)
	return vd, c.I0*math.Exp(vd/c.A)/c.A + gsh*(1+rise+vd*rise*r.Exponent/(left*r.BreakdownV))
}
