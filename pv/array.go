package pv

import "fmt"

// ArrayParams say how equal modules are joined.
type ArrayParams struct {
	Module     Module
	InSeries   int     // modules in each string, above zero
	Strings    int     // strings in parallel, above zero
	Substrings int     // bypass diodes of a module, zero for none: then a module is one group without a diode
	DropV      float64 // of a conducting bypass diode [V], zero to 10; usually 0.5
}

// Array is equal modules in series and parallel on one pair of terminals, valid once made by NewArray. Wires are not in it: see WithRun.
type Array struct{ p ArrayParams }

// NewArray returns the array, or an error naming the first value out of range.
func NewArray(p ArrayParams) (Array, error) {
	switch {
	case p.Module.p.A == 0:
		return Array{}, fmt.Errorf("array: no module")
	case p.InSeries < 1:
		return Array{}, fmt.Errorf("array: %d modules in series, wanted above zero", p.InSeries)
	case p.Strings < 1:
		return Array{}, fmt.Errorf("array: %d strings, wanted above zero", p.Strings)
	case p.Substrings < 0:
		return Array{}, fmt.Errorf("array: %d substrings, wanted zero or more", p.Substrings)
	case !(p.DropV >= 0 && p.DropV <= 10):
		return Array{}, fmt.Errorf("array: drop of the bypass diode %g V, wanted 0 to 10", p.DropV)
	}
	return Array{p: p}, nil
}

// Params returns how the array was made.
func (a Array) Params() ArrayParams { return a.p }

// At returns the curve of the array in equal light; arguments as Module.At.
func (a Array) At(effective, cellC float64) Curve {
	return a.p.Module.At(effective, cellC).Scale(float64(a.p.InSeries), float64(a.p.Strings))
}

// PowerColumn is Module.PowerColumn for the whole array in equal light [W].
func (a Array) PowerColumn(dst, effective, cellC []float64) error {
	if err := a.p.Module.PowerColumn(dst, effective, cellC); err != nil {
		return err
	}
	n := float64(a.p.InSeries * a.p.Strings)
	for k := range dst {
		dst[k] *= n
	}
	return nil
}

// WithRun returns the curve as seen at the far end of a line: ohm is the resistance of the way there and back [Ω], zero or more. Exact, since
// it is in series with Rs.
func (c Curve) WithRun(ohm float64) Curve {
	c.Rs += max(ohm, 0)
	return c
}

// Shade is a scratch space that turns patterns of light on an Array into its curve without allocating anew each time. The zero value is ready.
// It belongs to one goroutine.
type Shade struct {
	Combined
	groups  []Group
	units   []Unit
	strings [][]Group
}

// Set makes s the curve of the array under a pattern of light, all cells at cellC [°C], clamped as in Module.At.
//
//	light  effective irradiance of each substring [W/m²], by string, module and substring, in the numbers that the array has; where the
//	       modules have no bypass diodes, one value a module
//
// It returns an error if the shape does not fit or a value is not finite.
func (s *Shade) Set(a Array, light [][][]float64, cellC float64) error {
	p := a.p
	parts := max(1, p.Substrings)
	if len(light) != p.Strings {
		return fmt.Errorf("shade: %d strings, the array has %d", len(light), p.Strings)
	}
	if !finite(cellC) {
		return fmt.Errorf("shade: cell temperature %g °C, wanted finite", cellC)
	}
	per := p.InSeries * parts
	s.units, s.groups, s.strings = s.units[:0], s.groups[:0], s.strings[:0]
	s.units = append(s.units, make([]Unit, max(0, p.Strings*per-cap(s.units)))...)[:0]
	s.groups = append(s.groups, make([]Group, max(0, p.Strings*per-cap(s.groups)))...)[:0]
	seen, curve := -1.0, Curve{}
	for k, modules := range light {
		if len(modules) != p.InSeries {
			return fmt.Errorf("shade: string %d: %d modules, the array has %d", k, len(modules), p.InSeries)
		}
		for j, substrings := range modules {
			if len(substrings) != parts {
				return fmt.Errorf("shade: string %d: module %d: %d substrings, the array has %d", k, j, len(substrings), parts)
			}
			for n, g := range substrings {
				if !finite(g) {
					return fmt.Errorf("shade: string %d: module %d: substring %d: irradiance %g W/m², wanted finite", k, j, n, g)
				}
				if g = max(g, 0); g != seen {
					seen, curve = g, p.Module.At(g, cellC).Scale(1/float64(parts), 1)
				}
				s.units = append(s.units, Unit{Curve: curve, Count: 1})
				s.groups = append(s.groups, Group{Units: s.units[len(s.units)-1:], Bypass: p.Substrings > 0, DropV: p.DropV})
			}
		}
		s.strings = append(s.strings, s.groups[len(s.groups)-per:])
	}
	return s.Combined.Set(s.strings)
}
