package circuit

import (
	"errors"
	"fmt"
	"math"
)

// Critical is how far all loads together can rise.
type Critical struct {
	Scale     float64     // largest common factor on the power of all loads with an operating point
	Volts     []NodeVolts // voltages there; soft, since they move with the root of the distance to it
	Unlimited bool        // the loads' own limits come first, or there are no loads: no factor is too large; the rest is zero then
}

// Critical returns the largest common factor on the power of all constant-power loads, inputs of converters included, that still has an
// operating point: above 1 the headroom of a network that has one, below 1 what a network without could be given. It needs no Solve
// before it and leaves none. Loads that fold back can open a further range of factors beyond a gap; the first range, from zero loads up, is
// the one told. A converter's input is taken at the power it has in normal work.
//
// Accuracy: 1e-9 of the factor, 1e-4 V.
func (s *Solver) Critical() (Critical, error) {
	err := s.Solve()
	s.solved = false
	if e := (*InfeasibleError)(nil); errors.As(err, &e) {
		return Critical{Scale: e.Scale, Volts: e.Volts}, nil
	}
	if err != nil {
		return Critical{}, err
	}
	s.fold()
	reached, nose := s.rise(1, mostScale)
	if !nose {
		return Critical{Unlimited: true}, nil
	}
	return Critical{Scale: reached, Volts: s.nodeVolts()}, nil
}

// mostScale is the factor past which loads count as unlimited.
const mostScale = 1e7

// fold takes the last digits back into the voltages.
func (s *Solver) fold() {
	for i, l := range s.low {
		s.v[i] += l
	}
	clear(s.low)
}

// rise follows the solution from the voltages at hand, which solve the network at the factor from, as the loads rise to the factor
// to. Where the solution ends on the way (the nose), it returns that factor and true, with the voltages there in v; otherwise it returns to and
// false, solved there.
//
// Near the nose voltages go with the root of the distance to it, so that 1/(dV/ds)² falls on a straight line to zero there: two points on
// it tell where it is. Where it ends at a kink instead, such as a source at its limit, the steps close in on it.
func (s *Solver) rise(from, to float64) (reached float64, nose bool) {
	at, step := from, math.Min(to-from, math.Max(0.5, from))
	copy(s.last, s.v)
	var older, newer nosePoint
	for range 400 {
		next := math.Min(at+step, to)
		if next-at <= 1e-13*next {
			break
		}
		copy(s.v, s.last)
		if s.newton(next) != found || !s.alive() {
			step = (next - at) / 4 // too far in one step, or past the end: a shorter one tells
			continue
		}
		at = next
		s.fold()
		copy(s.last, s.v)
		if at == to {
			s.newton(to) // the factor and last digits of this very point
			return to, false
		}
		older, newer = newer, nosePoint{at, s.curve(at)}
		step *= 2
		if far, ok := meet(older, newer); ok {
			if far-at <= 1e-8*far {
				s.toNose(far, newer.scale)
				return far, true
			}
			step = 0.9 * (far - at)
		}
	}
	copy(s.v, s.last)
	return at, true
}

// nosePoint is a factor and the square of the inverse of the fastest relative fall of a load's voltage there.
type nosePoint struct{ scale, q float64 }

// meet returns where the line through two points comes to zero; ok is false while it does not fall.
func meet(a, b nosePoint) (scale float64, ok bool) {
	if !(a.q > b.q && b.scale > a.scale && b.q > 0) || math.IsInf(a.q, 0) {
		return 0, false
	}
	return b.scale + b.q*(b.scale-a.scale)/(a.q-b.q), true
}

// curve returns 1/r² where r is the fastest relative fall of a load's voltage with the factor, at the solution at hand. It leaves the
// fall of all merged nodes in x.
func (s *Solver) curve(scale float64) float64 {
	clear(s.x)
	for k := range s.branches {
		b := &s.branches[k]
		share := b.base + b.slope*scale
		if b.kind != intake || b.slope == 0 || share == 0 || b.a == b.b || b.i == b.e.Intake.LimitAmps {
			continue
		}
		rise := b.i * b.slope / share
		if b.a != ground {
			s.x[b.a] -= rise
		}
		if b.b != ground {
			s.x[b.b] += rise
		}
	}
	s.f.solve(s.x)
	fastest := 0.0
	for k := range s.branches {
		b := &s.branches[k]
		if b.kind != intake || b.i == 0 {
			continue
		}
		dv := 0.0
		if b.a != ground {
			dv += s.x[b.a]
		}
		if b.b != ground {
			dv -= s.x[b.b]
		}
		fastest = math.Max(fastest, math.Abs(dv)/b.v)
	}
	return 1 / (fastest * fastest)
}

// toNose carries the voltages of the last point, whose rates of fall are in x, on to the nose: a voltage that goes with the root of the
// distance falls by twice its rate times the distance.
func (s *Solver) toNose(nose, at float64) {
	for i, rate := range s.x {
		s.v[i] = s.last[i] + 2*rate*(nose-at)
	}
}

// infeasible describes a network without operating point: v holds the voltages at the critical factor.
func (s *Solver) infeasible(scale float64) error {
	e := &InfeasibleError{Scale: scale, Volts: s.nodeVolts()}
	for k := range s.branches {
		if b := &s.branches[k]; b.kind == intake && b.main > 0 {
			e.Limits = append(e.Limits, s.alone(k))
		}
	}
	s.resetScales()
	return e
}

// resetScales puts all loads back on the common scale.
func (s *Solver) resetScales() {
	for k := range s.branches {
		s.branches[k].base, s.branches[k].slope = 0, 1
	}
}

// alone returns the most that a load could have with the others off.
func (s *Solver) alone(k int) LoadLimit {
	for i := range s.branches {
		s.branches[i].base, s.branches[i].slope = 0, 0
	}
	s.branches[k].slope = 1
	copy(s.v, s.rest)
	clear(s.low)
	l := s.limit(k)
	l.OthersOff = true
	return l
}

// LoadLimit returns the most that a constant-power load or the input of a converter could have with all others taking what they ask
// for. It needs no Solve before it and leaves none.
//
//	element   place in the network, of a PowerLoad or Converter
//
// It returns an *InfeasibleError when the others have no operating point even without it.
func (s *Solver) LoadLimit(element int) (LoadLimit, error) {
	if element < 0 || element >= len(s.net.Elements) {
		return LoadLimit{}, fmt.Errorf("element %d outside 0 to %d", element, len(s.net.Elements)-1)
	}
	e := s.net.Elements[element]
	if e.Kind != PowerLoad && e.Kind != Converter {
		return LoadLimit{}, fmt.Errorf("element %q: %s is not a constant-power load", e.Name, e.Kind)
	}
	k := int(s.first[element])
	watts := e.Watts
	if err := s.Solve(); err != nil && e.Kind == Converter {
		return LoadLimit{}, err
	} else if e.Kind == Converter {
		watts = s.branches[k].main
	}
	s.solved = false
	if watts == 0 {
		watts = 1 // any power shows where the line ends
	}
	b := &s.branches[k]
	asked := b.main
	b.main = 0
	err := s.settle()
	b.main = watts
	if err != nil {
		b.main = asked
		return LoadLimit{}, err
	}
	for i := range s.branches {
		s.branches[i].base, s.branches[i].slope = 1, 0
	}
	b.base, b.slope = 0, 1
	s.fold()
	l := s.limit(k)
	l.Watts = asked
	b.main = asked
	s.resetScales()
	return l, nil
}

// limit works out the most that load k could have from the voltages at hand, which solve the network without it.
func (s *Solver) limit(k int) LoadLimit {
	b := &s.branches[k]
	l := LoadLimit{Load: b.e.Name, Watts: b.main}
	s.evaluate(0, true)
	if !s.f.run() {
		return l
	}
	clear(s.x)
	if b.a != b.b {
		if b.a != ground {
			s.x[b.a]++
		}
		if b.b != ground {
			s.x[b.b]--
		}
	}
	s.f.solve(s.x)
	l.TheveninVolts = s.across(b)
	if b.a != ground {
		l.TheveninOhms += s.x[b.a]
	}
	if b.b != ground {
		l.TheveninOhms -= s.x[b.b]
	}
	if l.TheveninOhms <= 0 {
		l.TheveninOhms, l.Unlimited = 0, true
		return l
	}
	reached, nose := s.rise(0, mostScale)
	if !nose {
		l.Unlimited = true
		return l
	}
	l.MaxWatts = reached * b.main
	return l
}
