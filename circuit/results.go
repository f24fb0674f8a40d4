package circuit

import "math"

// leastAmps is a current that counts as none [A].
const leastAmps = 1e-12

// inject is a current that leaves a node outside all elements, through a fault [A].
type inject struct {
	node int
	amps float64
}

// ties sums the currents of ideal sources and shorts from the leaves of their trees inward, and the imbalance at every node.
func (s *Solver) ties(faults ...inject) {
	t := &s.topology
	clear(s.out)
	for _, f := range faults {
		s.out[f.node] += f.amps
	}
	largest := 0.0
	for k := range s.branches {
		b := &s.branches[k]
		ends := t.ends[b.element]
		from, to := ends[0], ends[1]
		if b.kind == outlet && b.e.Kind == Converter {
			from, to = ends[2], ends[3]
		}
		s.out[from] += b.i
		s.out[to] -= b.i
		largest = math.Max(largest, math.Max(math.Abs(b.i), b.e.Diode.LightAmps))
	}
	for i, c := range t.ties {
		inward := s.out[c.child] // what must come in through the tie, from the parent
		s.tied[i] = inward
		if c.fromA {
			s.tied[i] = -inward
		}
		s.out[c.parent] += inward
		s.out[c.child] = 0
		largest = math.Max(largest, math.Abs(inward))
	}
	worst := 0.0
	for _, o := range s.out {
		worst = math.Max(worst, math.Abs(o))
	}
	s.proof.Imbalance = worst / (largest + leastAmps)
}

// Proof returns why the solution is to be trusted; zero when there is none.
func (s *Solver) Proof() Proof {
	if !s.solved {
		return Proof{}
	}
	return s.proof
}

// Nodes returns the names of the nodes in order of first mention, the reference first.
func (s *Solver) Nodes() []string { return append([]string(nil), s.topology.names...) }

// NodeVolts returns the voltage of node i of Nodes above the reference [V]; zero when there is no solution or no such node.
func (s *Solver) NodeVolts(i int) float64 {
	if !s.solved || i < 0 || i >= len(s.topology.spots) {
		return 0
	}
	return s.nodeAt(i)
}

func (s *Solver) nodeAt(i int) float64 {
	sp := s.topology.spots[i]
	if sp.super == ground {
		return sp.offset
	}
	return s.v[sp.super] + (s.low[sp.super] + sp.offset)
}

// nodeVolts returns the voltages of all nodes but the reference.
func (s *Solver) nodeVolts() []NodeVolts {
	all := make([]NodeVolts, 0, len(s.topology.names)-1)
	for i := 1; i < len(s.topology.names); i++ {
		all = append(all, NodeVolts{s.topology.names[i], s.nodeAt(i)})
	}
	return all
}

// Result returns the state of element i; only name and kind when there is no solution, zero when there is no such element.
func (s *Solver) Result(i int) Result {
	if i < 0 || i >= len(s.net.Elements) {
		return Result{}
	}
	e := &s.net.Elements[i]
	r := Result{Name: e.Name, Kind: e.Kind}
	if !s.solved {
		return r
	}
	k := s.first[i]
	if k < 0 {
		r.Volts = e.Volts
		r.Amps = s.tieAmps(int32(i))
		if e.Kind == EMF {
			r.Amps = -r.Amps + 0 // no negative zero
		}
		r.Watts = r.Volts * r.Amps
		return r
	}
	b := &s.branches[k]
	r.Volts, r.Amps = b.v, b.i
	if e.Kind == PowerSource || e.Kind == CurrentSource || e.Kind == Photovoltaic {
		r.Amps = -b.i
	}
	r.Amps += 0 // no negative zero
	r.Watts = r.Volts * r.Amps
	if e.Kind == Converter {
		o := &s.branches[k+1]
		r.OutVolts, r.OutAmps, r.OutWatts = o.v, -o.i+0, -o.i*o.v+0
	}
	return r
}

// tieAmps returns the current of an ideal source or short from A to B [A].
func (s *Solver) tieAmps(element int32) float64 {
	for i, c := range s.topology.ties {
		if c.element == element {
			return s.tied[i]
		}
	}
	return 0
}

// Solution returns the operating point with names; empty when there is none.
func (s *Solver) Solution() Solution {
	if !s.solved {
		return Solution{}
	}
	out := Solution{Nodes: s.Nodes(), Proof: s.proof}
	for i := range out.Nodes {
		out.NodeVolts = append(out.NodeVolts, s.nodeAt(i))
	}
	for i := range s.net.Elements {
		r := s.Result(i)
		out.Elements = append(out.Elements, r)
		switch r.Kind {
		case EMF, PowerSource, CurrentSource, Photovoltaic:
			out.SourceWatts += r.Watts
		case Converter:
			out.AbsorbedWatts += r.Watts - r.OutWatts
		default:
			out.AbsorbedWatts += r.Watts
		}
	}
	return out
}
