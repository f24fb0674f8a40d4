package circuit

import (
	"fmt"
	"math"
	"slices"
)

// Study is a network prepared for faults: one factorisation, from which the prospective current at any node follows by one substitution. It
// stands by itself; later changes of the solver do not touch it.
type Study struct {
	s *Solver
}

// Fault is the prospective current of a bolted short between two nodes.
type Fault struct {
	Node, To      string
	Amps          float64 // from Node through the short to To [A]; zero when Unlimited
	TheveninVolts float64 // of Node above To before the fault [V]
	TheveninOhms  float64 // between them, sources at rest [Ω]
	Unlimited     bool    // only ideal sources lie between: give them their resistance
}

// Study prepares the network for faults. Electronics are taken as a fault finds them: constant-power loads and the inputs of converters
// feed nothing back and are left out; sources of constant power and outputs of converters count at their current limit, or at the
// current they deliver in normal work where none is stated; modules count at their photocurrent with their resistances. Currents are
// those of the linear network, which is exact for resistors and batteries, and for modules above the truth only where nothing holds
// their voltage.
//
// It returns the errors of Solve, since normal work is needed for sources without a stated limit.
func (s *Solver) Study() (*Study, error) {
	needs := false
	for i := range s.net.Elements {
		e := &s.net.Elements[i]
		needs = needs || (e.Kind == PowerSource || e.Kind == Converter) && e.Outlet.LimitAmps == 0
	}
	if needs && !s.solved {
		if err := s.Solve(); err != nil {
			return nil, err
		}
	}
	c := s.clone()
	for k := range c.branches {
		b, e := &c.branches[k], &c.net.Elements[c.branches[k].element]
		switch b.kind {
		case intake:
			b.kind = skipped
		case outlet:
			amps := e.Outlet.LimitAmps
			if amps == 0 {
				amps = -s.branches[k].i
			}
			b.kind, b.main = fixed, -math.Max(0, amps)
		case diode:
			// The photocurrent beside its shunt, behind the series resistance: as a current beside one resistance.
			b.kind = skipped
			if r := e.Diode.SeriesOhms + e.Diode.ShuntOhms; r > 0 {
				b.main = 1 / r
			}
		}
	}
	if !c.linearise() {
		return nil, fmt.Errorf("fault study: a node hangs on electronics alone: %w", ErrUnsettled)
	}
	return &Study{c}, nil
}

// clone copies the solver with memory of its own.
func (s *Solver) clone() *Solver {
	s.refresh()
	c := *s
	c.net.Elements = slices.Clone(s.net.Elements)
	c.topology.spots = slices.Clone(s.topology.spots)
	c.branches = slices.Clone(s.branches)
	for k := range c.branches {
		c.branches[k].e = &c.net.Elements[c.branches[k].element]
	}
	c.f = newFactor(&c.pattern)
	for _, p := range []*[]float64{&c.v, &c.low, &c.x, &c.calm, &c.rest, &c.keep, &c.last, &c.out, &c.tied} {
		*p = slices.Clone(*p)
	}
	return &c
}

// linearise solves the linear network of a study from zero.
func (s *Solver) linearise() bool {
	clear(s.v)
	clear(s.low)
	s.currents(true)
	if !s.f.run() {
		return false
	}
	s.f.solve(s.x)
	copy(s.v, s.x)
	s.currents(false)
	s.f.solve(s.x)
	copy(s.low, s.x)
	return true
}

// currents works out the branches of a study at the voltages at hand and the right side. assemble also sets up the matrix.
func (s *Solver) currents(assemble bool) {
	clear(s.x)
	if assemble {
		s.f.clear()
	}
	for k := range s.branches {
		b := &s.branches[k]
		b.v = s.across(b)
		b.set(0)
		if e := b.e; e.Kind == Photovoltaic && b.kind == skipped {
			b.g = b.main
			b.i = b.main*b.v - e.Diode.LightAmps*e.Diode.ShuntOhms*b.main
		}
		s.enter(b, assemble)
	}
}

// column leaves in x the voltages that one ampere drawn from node a and returned at node b takes away.
func (st *Study) column(a, b spot) {
	s := st.s
	clear(s.x)
	if a.super != b.super {
		if a.super != ground {
			s.x[a.super]++
		}
		if b.super != ground {
			s.x[b.super]--
		}
		s.f.solve(s.x)
	}
}

// node finds a node of the study.
func (st *Study) node(name string) (int, error) {
	i, ok := st.s.topology.index[name]
	if !ok {
		return 0, fmt.Errorf("fault study: no node %q", name)
	}
	return i, nil
}

// between works out the fault between two nodes and leaves its column in x.
func (st *Study) between(i, j int) Fault {
	s := st.s
	f := Fault{Node: s.topology.names[i], To: s.topology.names[j], TheveninVolts: s.nodeAt(i) - s.nodeAt(j)}
	a, b := s.topology.spots[i], s.topology.spots[j]
	st.column(a, b)
	if a.super != ground {
		f.TheveninOhms += s.x[a.super]
	}
	if b.super != ground {
		f.TheveninOhms -= s.x[b.super]
	}
	switch {
	case a.super == b.super:
		f.TheveninOhms, f.Unlimited = 0, f.TheveninVolts != 0
	default:
		f.Amps = f.TheveninVolts / f.TheveninOhms
	}
	return f
}

// Between returns the fault between two nodes, such as a bus and the return at a distant load.
func (st *Study) Between(node, to string) (Fault, error) {
	i, err := st.node(node)
	if err != nil {
		return Fault{}, err
	}
	j, err := st.node(to)
	if err != nil {
		return Fault{}, err
	}
	return st.between(i, j), nil
}

// ToReference returns the fault from every node to the reference, in order of first mention.
func (st *Study) ToReference() []Fault {
	all := make([]Fault, 0, len(st.s.topology.names)-1)
	for i := 1; i < len(st.s.topology.names); i++ {
		all = append(all, st.between(i, 0))
	}
	return all
}

// Ohms returns the resistance between two nodes with all sources at rest [Ω].
func (st *Study) Ohms(node, to string) (float64, error) {
	f, err := st.Between(node, to)
	return f.TheveninOhms, err
}

// Through returns the state of every element while the fault between two nodes lasts: what each fuse on the way has to interrupt, and
// from which side. Loads that the study leaves out show no current. It returns an error for an unlimited fault.
func (st *Study) Through(node, to string) ([]Result, error) {
	f, err := st.Between(node, to)
	if err != nil {
		return nil, err
	}
	if f.Unlimited {
		return nil, fmt.Errorf("fault from %q to %q: only ideal sources between: unlimited", node, to)
	}
	s := st.s
	before, low := slices.Clone(s.v), slices.Clone(s.low)
	for i, x := range s.x {
		s.v[i] -= f.Amps * x
	}
	s.currents(false)
	a, b := s.topology.index[node], s.topology.index[to]
	s.ties(inject{a, f.Amps}, inject{b, -f.Amps})
	s.solved = true
	all := make([]Result, len(s.net.Elements))
	for i := range all {
		all[i] = s.Result(i)
	}
	s.solved = false
	copy(s.v, before)
	copy(s.low, low)
	return all, nil
}
