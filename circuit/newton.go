package circuit

import "math"

// across returns the voltage of a branch, to the last digit: two nodes of 13 V that differ by a microvolt keep the digits of the
// difference, which low holds.
func (s *Solver) across(b *branch) float64 {
	var va, vb, tail float64
	if b.a != ground {
		va, tail = s.v[b.a], s.low[b.a]
	}
	if b.b != ground {
		vb, tail = s.v[b.b], tail-s.low[b.b]
	}
	d, lost := exactSum(va, -vb)
	d, more := exactSum(d, b.off)
	return d + (lost + more + tail)
}

// exactSum returns a + b as rounded, and what the rounding lost (Knuth's two-sum; exact, no source needed beyond its identity).
func exactSum(a, b float64) (sum, lost float64) {
	sum = a + b
	t := sum - a
	return sum, (a - (sum - t)) + (b - t)
}

// evaluate works out all branches at the voltages at hand and leaves in x what flows out of each merged node, with its sign turned:
// the right side of Newton's step. It returns the largest of these and the largest branch current. assemble also sets up the matrix.
func (s *Solver) evaluate(scale float64, assemble bool) (imbalance, largest float64) {
	clear(s.x)
	if assemble {
		s.f.clear()
	}
	for k := range s.branches {
		b := &s.branches[k]
		b.v = s.across(b)
		b.set(scale)
		largest = math.Max(largest, math.Abs(b.i))
		s.enter(b, assemble)
	}
	for _, x := range s.x {
		imbalance = math.Max(imbalance, math.Abs(x))
	}
	return imbalance, largest
}

// enter adds a branch's current to the right side, and its slope to the matrix.
func (s *Solver) enter(b *branch, assemble bool) {
	if b.a == b.b {
		return
	}
	if b.a != ground {
		s.x[b.a] -= b.i
	}
	if b.b != ground {
		s.x[b.b] += b.i
	}
	if !assemble || b.g == 0 {
		return
	}
	switch {
	case b.a == ground:
		s.f.sum[b.b] += b.g
	case b.b == ground:
		s.f.sum[b.a] += b.g
	default:
		s.f.l[b.at] -= b.g
	}
}

// outcome is how an attempt ended.
type outcome uint8

const (
	found    outcome = iota // at a point with a positive definite matrix
	collapse                // the matrix lost its definiteness, or a load its voltage, on the way
	astray                  // no progress
)

// Settings of Newton's method.
const (
	mostSteps   = 60
	mostHalves  = 60
	smallStep   = 1e-9 // share of the largest voltage; the next step would be the square of it
	leastRemain = 0.1  // share of its voltage that a constant-power element keeps in one damped step
	mostSinks   = 400
	goodSearch  = 0.5 // share of the push that may be left along a step
)

// newton solves from the voltages at hand with intakes at a scale. On found the last factor is that of the solution, and low holds its last digits.
//
// Whole steps in a plain network, where it falls monotonically if the start is not below the solution (see the package comment); with a
// search along each step otherwise.
func (s *Solver) newton(scale float64) outcome {
	clear(s.low)
	for range mostSteps {
		s.evaluate(scale, true)
		s.proof.Iterations++
		if !s.f.run() {
			return collapse
		}
		copy(s.keep, s.x)
		s.f.solve(s.x)
		step, size := 0.0, 1e-3
		for i, x := range s.x {
			step, size = math.Max(step, math.Abs(x)), math.Max(size, math.Abs(s.v[i]))
		}
		if !finite(step) {
			return astray
		}
		if step <= smallStep*size {
			s.polish(scale)
			return found
		}
		r := found
		if s.plain {
			r = s.fall()
		} else {
			r = s.search(scale)
		}
		if r != found {
			return r
		}
	}
	return astray
}

// polish takes the last step into low and refines it by the factor at hand.
func (s *Solver) polish(scale float64) {
	copy(s.low, s.x)
	for range 2 {
		s.evaluate(scale, false)
		s.f.solve(s.x)
		for i, x := range s.x {
			s.low[i] += x
		}
	}
	s.evaluate(scale, false)
}

// fall moves the voltages along the whole step in x. It returns collapse when a load loses its voltage.
func (s *Solver) fall() outcome {
	for i, x := range s.x {
		s.v[i] += x
	}
	for k := range s.branches {
		b := &s.branches[k]
		if !b.needsVolts() || b.a == b.b {
			continue
		}
		after := s.across(b)
		if !(after > 0) {
			return collapse
		}
		if after > b.v*(1+1e-12) {
			s.proof.Monotone = false
		}
	}
	return found
}

// search moves the voltages along the step in x to where the currents no longer push along it.
//
// The push, F·d, is the slope of the network's potential along the step d. It starts below zero and, where the potential is convex, only
// rises: past its zero the step is too long, and halving between the two sides finds a better one. On convex potentials this converges from
// anywhere, across the kinks of limited devices too, where the length of F need not fall.
func (s *Solver) search(scale float64) outcome {
	start := 0.0
	for i, x := range s.x {
		start += s.keep[i] * x // keep holds −F of before
	}
	copy(s.keep, s.x)
	t := s.room()
	low, high, at := 0.0, math.Inf(1), 0.0
	for range mostHalves {
		for i, x := range s.keep {
			s.v[i] += (t - at) * x
		}
		at = t
		imbalance, largest := s.evaluate(scale, false)
		push := 0.0
		for i, x := range s.x {
			push -= x * s.keep[i]
		}
		if push <= 0 && math.IsInf(high, 1) || math.Abs(push) <= goodSearch*start || imbalance <= 1e-14*largest {
			return found
		}
		if push > 0 {
			high = t
		} else {
			low = t
		}
		t = low + (high-low)/2
	}
	return astray
}

// room returns how much of the step in x may be taken, at most all of it, for constant-power elements to keep some of their voltage.
func (s *Solver) room() float64 {
	t := 1.0
	for k := range s.branches {
		b := &s.branches[k]
		if !b.needsVolts() || b.a == b.b {
			continue
		}
		dv := 0.0
		if b.a != ground {
			dv += s.x[b.a]
		}
		if b.b != ground {
			dv -= s.x[b.b]
		}
		if dv < 0 && b.v > 0 {
			t = math.Min(t, (1-leastRemain)*b.v/-dv)
		}
	}
	return t
}

// sink looks for the point to which the network comes when all loads are switched on at once: where limited loads fold back on the way
// down they can leave enough for the others, at a point that the slowly raised loads do not pass. It follows the voltages as equal
// capacitors at the merged nodes would let them sink from the no-load state, by implicit steps of growing length, and returns true when they come to
// rest at a solution with a positive definite matrix; low and factor are then as newton leaves them.
func (s *Solver) sink() bool {
	copy(s.v, s.rest)
	clear(s.low)
	s.evaluate(1, true)
	stiff := 0.0 // capacitance over length of the step [S]
	for k := range s.branches {
		stiff = math.Max(stiff, math.Abs(s.branches[k].g))
	}
	for range mostSinks {
		s.evaluate(1, true)
		s.proof.Iterations++
		for i := range s.f.sum {
			s.f.sum[i] += stiff
		}
		if !s.f.run() {
			stiff *= 8
			continue
		}
		copy(s.keep, s.v)
		s.f.solve(s.x)
		step, size := 0.0, 1e-3
		for i, x := range s.x {
			step, size = math.Max(step, math.Abs(x)), math.Max(size, math.Abs(s.v[i]))
			s.v[i] += x
		}
		switch {
		case !finite(step):
			return false
		case step > 0.05*size:
			copy(s.v, s.keep)
			stiff *= 4
			continue
		case s.sunk():
			return false
		case step < 1e-3*size:
			copy(s.keep, s.v)
			if s.newton(1) == found && s.alive() {
				return true
			}
			copy(s.v, s.keep)
			clear(s.low)
		}
		stiff /= 2
	}
	return false
}

// sunk tells that a load without limits has lost nearly all its voltage.
func (s *Solver) sunk() bool {
	for k := range s.branches {
		if b := &s.branches[k]; b.needsVolts() && b.kind == intake && s.across(b) < 0.02*s.scale() {
			return true
		}
	}
	return false
}
