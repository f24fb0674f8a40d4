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

// norm returns the square of the length of the right side.
func (s *Solver) norm() float64 {
	sum := 0.0
	for _, x := range s.x {
		sum += x * x
	}
	return sum
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
)

// newton solves from the voltages at hand with intakes at a scale. On found the last factor is that of the solution, and low holds its last digits.
//
// Undamped in a plain network, where it falls monotonically if the start is not below the solution (see the package comment); damped by
// the length of the residual otherwise.
func (s *Solver) newton(scale float64) outcome {
	clear(s.low)
	for range mostSteps {
		s.evaluate(scale, true)
		s.proof.Iterations++
		if !s.f.run() {
			return collapse
		}
		before := s.norm()
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
		if r := s.advance(scale, before); r != found {
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

// advance moves the voltages along the step in x.
func (s *Solver) advance(scale, before float64) outcome {
	if s.plain {
		for i, x := range s.x {
			s.v[i] += x
		}
		for k := range s.branches {
			if b := &s.branches[k]; b.needsVolts() && b.a != b.b {
				after := s.across(b)
				if !(after > 0) {
					return collapse
				}
				if after > b.v*(1+1e-12) {
					s.proof.Monotone = false
				}
			}
		}
		return found
	}
	copy(s.keep, s.x)
	t := s.room()
	for half := range mostHalves {
		for i, x := range s.keep {
			s.v[i] += t * x
		}
		imbalance, largest := s.evaluate(scale, false)
		if s.norm() < before*(1-1e-4*t) || imbalance <= 1e-14*largest {
			return found
		}
		if half == mostHalves-1 {
			break
		}
		for i, x := range s.keep {
			s.v[i] -= t * x
		}
		t /= 2
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
