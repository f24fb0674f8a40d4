package circuit

import (
	"fmt"
	"math"
	"slices"
)

// Solver holds a network ready to be solved again and again: names, order of elimination and working memory are made once, by New. Solve
// then allocates nothing. A Solver may not be used from two goroutines at once.
type Solver struct {
	net      Network
	topology topology
	pattern  pattern
	branches []branch
	first    []int32 // of each element, its branch; −1 for ideal sources and shorts
	plain    bool    // all that is not linear is loads of constant power without limits
	linear   bool    // all that is not linear is loads

	f    *factor
	v    []float64 // voltage of each merged node, in elimination order
	low  []float64 // what v lacks for its last digits
	x    []float64 // right side and step
	calm []float64 // pivots with all loads off
	rest []float64 // voltages with all loads off
	keep []float64 // scratch: a step
	last []float64 // scratch: voltages at the last scale that had a solution
	out  []float64 // current that leaves each node through branches
	tied []float64 // current of each tie, from A to B

	stale  bool // an ideal source has changed
	solved bool
	proof  Proof
}

// New makes a network ready to be solved. It returns an error that names the element and the limit for values out of range, a
// *LoopError for loops of ideal sources and shorts, and a *FloatingError for nodes without a conducting path to the reference.
func New(net Network) (*Solver, error) {
	s := &Solver{net: Network{Reference: net.Reference, Elements: slices.Clone(net.Elements)}}
	if err := s.topology.build(s.net); err != nil {
		return nil, err
	}
	if err := s.lay(); err != nil {
		return nil, err
	}
	n := s.topology.n
	s.f = newFactor(&s.pattern)
	for _, p := range []*[]float64{&s.v, &s.low, &s.x, &s.calm, &s.rest, &s.keep, &s.last} {
		*p = make([]float64, n)
	}
	s.out, s.tied = make([]float64, len(s.topology.names)), make([]float64, len(s.topology.ties))
	return s, nil
}

// Solve solves a network once.
func Solve(net Network) (Solution, error) {
	s, err := New(net)
	if err != nil {
		return Solution{}, err
	}
	if err := s.Solve(); err != nil {
		return Solution{}, err
	}
	return s.Solution(), nil
}

// lay makes the branches, orders the merged nodes and places the branches in the matrix.
func (s *Solver) lay() error {
	t := &s.topology
	s.first = make([]int32, len(s.net.Elements))
	for i := range s.net.Elements {
		e := &s.net.Elements[i]
		if e.Kind == EMF || e.Kind == Short {
			s.first[i] = -1
			continue
		}
		s.first[i] = int32(len(s.branches))
		ends := t.ends[i]
		s.branches = append(s.branches, s.branch(i, ends[0], ends[1]))
		if e.Kind == Converter {
			s.branches = append(s.branches, s.branch(i, ends[2], ends[3]))
		}
	}
	var edges [][2]int32
	for i := range s.branches {
		if b := &s.branches[i]; b.kind != fixed && b.a != b.b && b.a != ground && b.b != ground {
			edges = append(edges, [2]int32{b.a, b.b})
		}
	}
	place, p, err := order(t.n, edges)
	if err != nil {
		return err
	}
	s.pattern = p
	for i := range t.spots {
		if sp := &t.spots[i]; sp.super != ground {
			sp.super = place[sp.super]
		}
	}
	for i := range s.branches {
		b := &s.branches[i]
		if b.a != ground {
			b.a = place[b.a]
		}
		if b.b != ground {
			b.b = place[b.b]
		}
		if b.at = -1; b.kind != fixed && b.a != b.b && b.a != ground && b.b != ground {
			b.at = s.pattern.at(b.a, b.b)
		}
	}
	s.fill()
	return nil
}

// branch makes the branch of an element between two nodes; fill gives it its values.
func (s *Solver) branch(i int, a, b int32) branch {
	kinds := [...]branchKind{Resistor: ohmic, PowerLoad: intake, PowerSource: outlet, CurrentLoad: fixed, CurrentSource: fixed,
		Photovoltaic: diode, Converter: intake}
	br := branch{element: int32(i), kind: kinds[s.net.Elements[i].Kind], a: s.topology.spots[a].super, b: s.topology.spots[b].super}
	if s.net.Elements[i].Kind == Converter && s.first[i] != int32(len(s.branches)) {
		br.kind = outlet
	}
	return br
}

// fill copies the values of the elements into their branches, and works out which methods the network allows.
func (s *Solver) fill() {
	s.plain, s.linear = true, true
	for i := range s.branches {
		b := &s.branches[i]
		e := &s.net.Elements[b.element]
		ends := s.topology.ends[b.element]
		b.base, b.slope, b.e = 0, 1, e
		switch b.kind {
		case ohmic:
			b.main = 1 / e.Ohms
		case fixed:
			b.main = e.Amps
			if e.Kind == CurrentSource {
				b.main = -e.Amps
			}
		case intake:
			if b.main = e.Watts; e.Kind == Converter {
				b.main = 0 // found from its output
			}
			s.plain = s.plain && e.Intake == Intake{}
		case outlet:
			if b.main = e.Watts; e.Kind == Converter {
				ends[0], ends[1] = ends[2], ends[3]
			}
			if e.Watts == 0 && (e.Outlet.LimitAmps > 0 || e.Outlet.SetVolts > 0) {
				b.main = math.Inf(1)
			}
			s.plain, s.linear = false, false
		case diode:
			b.inner = math.NaN()
			s.plain, s.linear = false, false
		}
		b.off = s.topology.spots[ends[0]].offset - s.topology.spots[ends[1]].offset
	}
}

// Index returns the place of an element in the network.
func (s *Solver) Index(element string) (i int, ok bool) {
	for i := range s.net.Elements {
		if s.net.Elements[i].Name == element {
			return i, true
		}
	}
	return 0, false
}

// Set replaces an element by one of the same name, kind and nodes with other values. The next Solve uses it.
func (s *Solver) Set(i int, e Element) error {
	if i < 0 || i >= len(s.net.Elements) {
		return fmt.Errorf("element %d outside 0 to %d", i, len(s.net.Elements)-1)
	}
	old := &s.net.Elements[i]
	if e.Name != old.Name || e.Kind != old.Kind || e.A != old.A || e.B != old.B || e.OutA != old.OutA || e.OutB != old.OutB {
		return fmt.Errorf("element %q: name, kind or nodes differ: make a new solver", old.Name)
	}
	if (e.Outlet.SetVolts > 0) != (old.Outlet.SetVolts > 0) {
		return fmt.Errorf("element %q: an outlet's set voltage comes or goes: make a new solver", old.Name)
	}
	if err := e.check(); err != nil {
		return err
	}
	*old = e
	s.stale, s.solved = true, false
	return nil
}

// Element returns an element of the network as it stands.
func (s *Solver) Element(i int) Element { return s.net.Elements[i] }

// Network returns a copy of the network as it stands.
func (s *Solver) Network() Network {
	return Network{Reference: s.net.Reference, Elements: slices.Clone(s.net.Elements)}
}

// refresh brings offsets and branches up to date after Set.
func (s *Solver) refresh() {
	if s.stale {
		s.topology.offsets(s.net)
		s.fill()
		s.stale = false
	}
}
