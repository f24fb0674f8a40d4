package circuit

import (
	"errors"
	"fmt"
	"math"
)

// ErrUnsettled says that a network's converters or limits did not come to rest: a fault of this package or a network that has no
// steady state, such as two converters that feed each other.
var ErrUnsettled = errors.New("network does not settle")

// Solve finds the operating point. The error is an *InfeasibleError when there is none, a *PolarityError when a constant-power element
// has no voltage to work on; of a load it is both. On error the solver holds no solution.
func (s *Solver) Solve() error {
	s.refresh()
	s.solved = false
	s.proof = Proof{}
	s.resetIntakes()
	for range 200 {
		if err := s.settle(); err != nil {
			return err
		}
		if s.passOn() {
			if err := s.reversed(); err != nil {
				return err
			}
			s.ties()
			s.solved = true
			return nil
		}
	}
	return fmt.Errorf("converters: %w", ErrUnsettled)
}

// resetIntakes puts all loads on the common scale.
func (s *Solver) resetIntakes() {
	for k := range s.branches {
		if b := &s.branches[k]; b.kind == intake {
			b.base, b.slope = 0, 1
			if b.e.Kind == Converter {
				b.main = 0
				s.branches[k+1].main = s.outputCap(b.element)
			}
		}
	}
}

// outputCap returns the largest output power of a converter [W] by its own rating.
func (s *Solver) outputCap(element int32) float64 {
	if w := s.net.Elements[element].Watts; w > 0 {
		return w
	}
	return math.Inf(1)
}

// passOn makes the input of each converter ask for what its output delivered, and caps the output by what the input could get. It
// returns true when nothing changed: the two sides agree.
func (s *Solver) passOn() bool {
	const agree = 1e-12
	rest := true
	for k := range s.branches {
		in := &s.branches[k]
		if in.kind != intake || s.net.Elements[in.element].Kind != Converter {
			continue
		}
		out := &s.branches[k+1]
		efficiency, rated := s.net.Elements[in.element].Efficiency, s.outputCap(in.element)
		delivered, drawn := math.Max(0, -out.i*out.v), in.i*in.v
		ask, limit := in.main, rated
		if drawn < ask*(1-1e-9) { // its intake is limited or holds back
			limit = efficiency * drawn
		}
		if !(out.main < rated && delivered >= out.main*(1-1e-9)) {
			ask = delivered / efficiency
		}
		if math.Abs(ask-in.main) > agree*(ask+in.main) {
			rest = false
		}
		if limit != out.main && !(math.Abs(limit-out.main) <= agree*limit) {
			rest = false
		}
		in.main, out.main = ask, limit
	}
	return rest
}

// settle finds the operating point with converters asking for what they ask now.
func (s *Solver) settle() error {
	if err := s.atRest(); err != nil {
		return err
	}
	copy(s.v, s.rest)
	s.proof.Monotone = s.plain
	if s.newton(1) == found && s.alive() {
		s.stiffness()
		return nil
	}
	s.proof.Monotone = false
	copy(s.v, s.rest)
	reached, nose := s.rise(0, 1)
	if !nose {
		s.stiffness()
		return nil
	}
	copy(s.last, s.v)
	if !s.plain && s.sink() {
		s.stiffness()
		return nil
	}
	copy(s.v, s.last)
	return s.infeasible(reached)
}

// atRest finds the voltages with all loads off, and refuses constant-power elements that then have none.
func (s *Solver) atRest() error {
	if !s.start() {
		return fmt.Errorf("with all loads off, conductances too far apart: %w", ErrUnsettled)
	}
	if !s.linear {
		if err := s.unfed(false); err != nil {
			return err // a reversed source has an operating point in mathematics, near zero volts, and in smoke
		}
		if s.newton(0) != found {
			return fmt.Errorf("with all loads off: %w", ErrUnsettled)
		}
	}
	for i, l := range s.low {
		s.rest[i] = s.v[i] + l
	}
	copy(s.calm, s.f.d)
	clear(s.low)
	copy(s.v, s.rest)
	return s.unfed(true)
}

// unfed returns a *PolarityError for a constant-power source, or with loads also for a load, that has no voltage at the voltages at hand.
func (s *Solver) unfed(loads bool) error {
	for k := range s.branches {
		b := &s.branches[k]
		if b.kind == intake && !loads {
			continue
		}
		limited := b.kind == intake && b.main > 0 && b.e.Intake.LimitAmps > 0 && b.e.Intake.HoldVolts == 0
		if v := s.across(b); (b.needsVolts() || limited) && !(v > 0) {
			wrong := &PolarityError{Element: b.e.Name, Volts: v}
			if b.kind == intake {
				wrong.none = &InfeasibleError{Volts: s.nodeVolts()}
			}
			return wrong
		}
	}
	return nil
}

// reversed returns a *PolarityError for a source that delivers into a voltage the wrong way round. A short, no voltage at all, is not that.
func (s *Solver) reversed() error {
	for k := range s.branches {
		if b := &s.branches[k]; b.kind == outlet && b.i < 0 && b.v < -leastSize {
			return &PolarityError{Element: b.e.Name, Volts: b.v}
		}
	}
	return nil
}

// start solves the network with loads off and sources and modules as straight lines: exact where there are none of these, a start for
// Newton's method otherwise. It returns false when the matrix cannot be factored.
func (s *Solver) start() bool {
	clear(s.v)
	clear(s.low)
	clear(s.x)
	s.f.clear()
	s.proof.Iterations++
	volts := s.scale()
	for k := range s.branches {
		b := &s.branches[k]
		b.v = b.off
		switch {
		case b.kind == diode:
			at := b.e.Diode.openVolts()
			b.g = b.e.Diode.LightAmps/math.Max(at, 1e-3) + 1/b.e.Diode.ShuntOhms
			b.i = b.g * (b.v - at)
		case b.kind == outlet && b.e.Outlet.SetVolts > 0:
			b.g = 1 / b.e.Outlet.SetOhms
			b.i = b.g * (b.v - b.e.Outlet.SetVolts)
		case b.kind == outlet:
			i, g := b.e.Outlet.current(b.main, volts)
			b.i, b.g = -i-g*(b.v-volts), -g
		default:
			b.set(0)
		}
		s.enter(b, true)
	}
	if !s.f.run() {
		return false
	}
	s.f.solve(s.x)
	copy(s.v, s.x)
	return true
}

// scale returns a voltage of the network's size [V]: the largest of its sources', or 12 where none has one.
func (s *Solver) scale() float64 {
	v := 0.0
	for i := range s.net.Elements {
		e := &s.net.Elements[i]
		v = math.Max(v, math.Max(math.Abs(e.Volts), e.Outlet.SetVolts))
		if e.Kind == Photovoltaic {
			v = math.Max(v, e.Diode.openVolts())
		}
	}
	if v == 0 {
		return 12
	}
	return v
}

// openVolts returns about the open-circuit voltage of a module [V], its shunt left out.
func (d *Diode) openVolts() float64 {
	return d.IdealityVolts * math.Log1p(d.LightAmps/d.SaturationAmps)
}

// alive tells that every load that takes current has voltage to take it at.
func (s *Solver) alive() bool {
	for k := range s.branches {
		if b := &s.branches[k]; b.kind == intake && b.i != 0 && !(b.v > 0) {
			return false
		}
	}
	return true
}

// stiffness leaves in the proof how much of the smallest pivot the loads have left.
func (s *Solver) stiffness() {
	s.proof.Stiffness = 1
	for i, d := range s.f.d {
		s.proof.Stiffness = math.Min(s.proof.Stiffness, d/s.calm[i])
	}
}
