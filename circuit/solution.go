package circuit

import (
	"fmt"
	"strings"
)

// Result is the state of one element, with the signs told at its Kind.
type Result struct {
	Name  string
	Kind  Kind
	Amps  float64 // [A]
	Volts float64 // of A above B [V]
	Watts float64 // [W]

	OutAmps, OutVolts, OutWatts float64 // output of a converter; zero for all else
}

// Solution is one operating point, with names.
type Solution struct {
	Nodes         []string  // in order of first mention, the reference included
	NodeVolts     []float64 // above the reference [V], one for each node
	Elements      []Result  // in the order of the network
	SourceWatts   float64   // delivered by EMFs and sources, charging counted negative [W]
	AbsorbedWatts float64   // absorbed by resistors, loads and converter losses [W]
	Proof         Proof
}

// Proof tells why a solution is to be trusted.
type Proof struct {
	// Imbalance is the largest sum of currents at any node, as a share of the largest current of any element, photocurrents of
	// modules included (Kirchhoff's first law).
	Imbalance float64
	// Stiffness is the smallest pivot of the factored Jacobian at the solution, as a share of what it is with all loads off. It is
	// above zero on the high-voltage branch and zero where the branch ends.
	Stiffness float64
	// Monotone tells that Newton's method fell to the solution from the no-load state; otherwise the loads were raised in steps.
	Monotone bool
	// Iterations counts factorisations.
	Iterations int
}

// Node returns the voltage of a node above the reference [V]; ok is false for a name that is not in the network.
func (s Solution) Node(name string) (volts float64, ok bool) {
	for i, n := range s.Nodes {
		if n == name {
			return s.NodeVolts[i], true
		}
	}
	return 0, false
}

// Element returns the state of an element; ok is false for a name that is not in the network.
func (s Solution) Element(name string) (r Result, ok bool) {
	for _, e := range s.Elements {
		if e.Name == name {
			return e, true
		}
	}
	return Result{}, false
}

// InfeasibleError says that a network has no operating point: its loads ask for more than its lines can carry.
type InfeasibleError struct {
	Scale  float64     // largest common factor on the power of all loads that still has an operating point, 0 to 1
	Volts  []NodeVolts // voltages at that factor: about half of what the loads have at rest
	Limits []LoadLimit // for each load, what it could have with the others off
}

// NodeVolts is the voltage of a node above the reference.
type NodeVolts struct {
	Node  string
	Volts float64 // [V]
}

// LoadLimit is the most that one constant-power load could have.
type LoadLimit struct {
	Load          string
	OthersOff     bool    // the other constant-power loads are off; otherwise they take what they ask for
	TheveninVolts float64 // at its terminals with the load off [V]
	TheveninOhms  float64 // of the network seen from its terminals [Ω]
	MaxWatts      float64 // [W], V²/(4R) where the rest of the network is linear
	Unlimited     bool    // its intake limits or holds it before the line does; MaxWatts is zero then
	Watts         float64 // what it asks for [W]
}

// Error names the critical factor and the loads that ask more than they could have alone.
func (e *InfeasibleError) Error() string {
	var over []string
	for _, l := range e.Limits {
		if !l.Unlimited && l.Watts > l.MaxWatts {
			over = append(over, fmt.Sprintf("%q asks %.4g W, its line gives at most %.4g W", l.Load, l.Watts, l.MaxWatts))
		}
	}
	text := fmt.Sprintf("no operating point: constant-power loads can be met only up to %.4g of what they ask", e.Scale)
	if len(over) > 0 {
		text += ": " + strings.Join(over, "; ")
	}
	return text
}

// PolarityError says that a constant-power element has no voltage, or the wrong way round, with all loads off. Where it is a load, nothing of what it asks
// can be met: the error is then an *InfeasibleError too, with a scale of zero and the voltages with all loads off.
type PolarityError struct {
	Element string
	Volts   float64 // of A above B [V]

	none *InfeasibleError // for a load
}

// Unwrap returns the *InfeasibleError that comes with a load.
func (e *PolarityError) Unwrap() error {
	if e.none == nil {
		return nil
	}
	return e.none
}

func (e *PolarityError) Error() string {
	return fmt.Sprintf("element %q: %.4g V at its terminals with all loads off: reversed or not fed", e.Element, e.Volts)
}

// FloatingError says that nodes have no conducting path to the reference, so that their voltage is undetermined.
type FloatingError struct{ Nodes []string }

func (e *FloatingError) Error() string {
	return fmt.Sprintf("floating: no conducting path to the reference from %s", strings.Join(e.Nodes, ", "))
}

// LoopError says that ideal sources and shorts form a loop: either they contradict each other (a shorted source), or the current around
// the loop is undetermined.
type LoopError struct {
	Elements []string // around the loop
	Volts    float64  // by which they disagree [V]
}

func (e *LoopError) Error() string {
	loop := strings.Join(e.Elements, ", ")
	if e.Volts != 0 {
		return fmt.Sprintf("loop of ideal sources %s disagrees by %.4g V: give one its resistance", loop, e.Volts)
	}
	return fmt.Sprintf("loop without resistance %s leaves its current undetermined: give one its resistance", loop)
}
