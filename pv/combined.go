package pv

import (
	"fmt"
	"math"
	"slices"
)

// Combined is the curve of strings in parallel, each a series of groups with their bypass diodes, in any light. Its curve is the exact sum of
// theirs: voltages at equal current in a string, currents at equal voltage across strings. There are no blocking diodes, so a weak string
// may take current from the others.
//
// Where no unit has a Reverse, every local maximum of the power is found: between the voltages at which a diode begins to conduct the current
// is a concave falling function of voltage, so the power has at most one maximum there, and at such a voltage it has none, for the slope of
// the power rises across it. With a Reverse that proof fails, and each such interval is searched in 64 steps.
//
// The zero value is a curve without current or power. Set may be called again on the same Combined to reuse its memory; the other methods
// change nothing.
//
// Source: Ours, from Kirchhoff's two rules.
type Combined struct {
	strands []strand
	maxima  []Point
	kinks   []float64 // voltages above zero at which a diode begins to conduct, ascending, then voc [V]
	best    int
	voc     float64
	isc     float64
	broken  bool // some unit has a Reverse
}

// Combine returns the combined curve of strings in parallel, each a list of groups in series, or an error naming the first value out of range.
func Combine(strings [][]Group) (*Combined, error) {
	c := new(Combined)
	if err := c.Set(strings); err != nil {
		return nil, err
	}
	return c, nil
}

// Set makes c the combined curve of strings in parallel, as Combine. On an error c is as the zero value. The groups must not be changed
// while c is used.
func (c *Combined) Set(strings [][]Group) error {
	strands := c.strands[:0]
	*c = Combined{maxima: c.maxima[:0], kinks: c.kinks[:0]}
	if len(strings) == 0 {
		return fmt.Errorf("array: no strings")
	}
	for k, groups := range strings {
		if len(groups) == 0 {
			return fmt.Errorf("array: string %d: no groups", k)
		}
		if len(strands) == cap(strands) {
			strands = slices.Grow(strands, 1)
		}
		s := &strands[:len(strands)+1][len(strands)] // its slices are used again
		*s = strand{elements: s.elements[:0], kinks: s.kinks[:0], count: 1, near: math.NaN()}
		for j, g := range groups {
			if err := g.check(); err != nil {
				return fmt.Errorf("array: string %d: group %d: %w", k, j, err)
			}
			s.add(g)
		}
		if m := slices.IndexFunc(strands, func(t strand) bool { return s.same(&t) }); m >= 0 {
			strands[m].count++
			continue
		}
		s.prepare()
		c.broken = c.broken || s.broken
		strands = strands[:len(strands)+1]
	}
	c.strands = strands
	c.solve()
	return nil
}

// sum returns the flow of all strings at the voltage v, zero or more.
func (c *Combined) sum(v float64) flow {
	var f flow
	for k := range c.strands {
		f.add(c.strands[k].count, c.strands[k].current(v, math.NaN()))
	}
	return f
}

// track is sum while solving, where one voltage follows another nearby.
func (c *Combined) track(v float64) flow {
	var f flow
	for k := range c.strands {
		s := &c.strands[k]
		g := s.current(v, s.near)
		s.near = g.i
		f.add(s.count, g)
	}
	return f
}

// add adds n times the flow g.
func (f *flow) add(n float64, g flow) {
	f.i += n * g.i
	f.slope += n * g.slope
	f.bend += n * g.bend
}
