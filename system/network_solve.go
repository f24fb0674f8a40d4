package system

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"campwright/circuit"
	"campwright/convert"
	"campwright/quantity"
)

const currentKind = quantity.Current

// Solved is a network in one state.
type Solved struct {
	State   State
	Problem string  // why there is no answer, empty when there is one
	Load    string  // the load that asks too much, where that is why
	asked   float64 // by it [W]
	most    float64 // that its line gives with the others off [W]

	Unserved []Unserved // what was left out or held back so that the rest has an answer; see Serve

	Scale  float64
	NodeV  []float64 // above the bank's minus
	EdgeA  []float64 // from A to B
	Runs   []RunAt   // one for each run
	Blocks []BlockAt // one for each string of blocks
	Parts  []PartAt  // what feeds and what takes
	Proof  circuit.Proof
	Notes  []string
}

// RunAt is one run in a state.
type RunAt struct {
	Amps      float64 // through the conductor that carries most, from its beginning to its end
	Back      float64 // through the minus conductor of a pair, towards the source
	FromV     float64 // of a pair between plus and minus, of one conductor above the bank's minus
	ToV       float64
	DropV     float64 // lost along it, both ways, not below zero
	DropShare float64 // of the nominal voltage of its circuit
	LossW     float64 // heat in cable, lugs and devices
}

// BlockAt is one string of blocks in a state.
type BlockAt struct {
	Name  string
	Amps  float64 // positive when charging
	Volts float64 // at its posts
}

// PartAt is a part in a state.
type PartAt struct {
	Name  string
	Volts float64 // at its terminals
	Amps  float64 // on its DC side, positive into the part
	Watts float64
}

// Leaks tie what is not joined to the bank, so that it has a voltage at all [Ω].
const leakOhm = 1e6

// scene is a network made ready for the solver.
type scene struct {
	n      *Network
	names  []string
	els    []circuit.Element
	edgeAt []int // element of each edge, −1 where it is left out
	parts  []int // elements that are parts
	blocks []int
	feeds  map[int]bool // groups that hang on the bank
	solarA float64      // that the controller in the dc-dc unit's case gives
	group  []int
}

// Solve solves the network in a state.
func (n *Network) Solve(s State) Solved {
	out := n.solve(s, nil)
	if s.Engine != convert.EngineOff && out.Problem == "" {
		if short := n.engineShort(s, &out); short > 0 {
			again := n.solve(s, &short)
			again.Notes = append(again.Notes, fmt.Sprintf("the alternators have %.0f A to spare; the starter battery gives the rest", n.Sys.Supply.Vehicle.SpareA(s.Engine)))
			return again
		}
	}
	return out
}

// engineShort returns by how much the vehicle gives more than its alternators have to spare [A].
func (n *Network) engineShort(s State, out *Solved) float64 {
	for _, p := range out.Parts {
		if p.Name == "alternator" {
			return math.Max(0, -p.Amps-n.Sys.Supply.Vehicle.SpareA(s.Engine))
		}
	}
	return 0
}

func (n *Network) solve(s State, short *float64) Solved {
	out := Solved{State: s}
	sc := n.scene(s)
	sc.bank(s)
	sc.takers(s)
	sc.sun(s, &out)
	sc.chargers(s)
	sc.engine(s, short)
	solver, err := circuit.New(circuit.Network{Reference: sc.names[n.Reference()], Elements: sc.els})
	if err == nil {
		err = solver.Solve()
	}
	if err != nil {
		out.problem(err)
		return out
	}
	out.Proof = solver.Proof()
	sc.read(solver, &out)
	n.notes(&out)
	return out
}

func (out *Solved) problem(err error) {
	out.Problem = err.Error()
	var none *circuit.InfeasibleError
	if dead := (*circuit.PolarityError)(nil); !errors.As(err, &dead) && errors.As(err, &none) {
		out.Scale = none.Scale
		out.Problem = fmt.Sprintf("the loads can have no more than %.0f %% of what they ask", math.Floor(100*none.Scale))
		worst := 0.0
		for _, l := range none.Limits {
			if !l.Unlimited && l.MaxWatts > 0 && l.Watts/l.MaxWatts > worst {
				out.Load, worst = l.Load, l.Watts/l.MaxWatts
				out.asked, out.most = l.Watts, l.MaxWatts
			}
		}
	}
}

// passive is the part of the solver's network that is the same in every state.
type passive struct {
	names  []string          // of nodes, for the solver
	edges  []circuit.Element // resistors
	edgeAt []int             // place of each edge, −1 for those of the AC side
	group  []int             // which nodes hang together
	leaks  []circuit.Element
}

// prepare makes the passive part.
func (n *Network) prepare() {
	p := &n.passive
	p.names, p.edgeAt = make([]string, len(n.Nodes)), make([]int, len(n.Edges))
	for i := range n.Nodes {
		p.names[i] = "n" + strconv.Itoa(i)
	}
	root := make([]int, len(n.Nodes))
	for i := range root {
		root[i] = i
	}
	for i, e := range n.Edges {
		p.edgeAt[i] = -1
		if e.OneWay {
			continue
		}
		if !n.contact(e) {
			join(root, e.A, e.B)
		}
		p.edgeAt[i] = len(p.edges)
		p.edges = append(p.edges, circuit.Element{Name: "e" + strconv.Itoa(i), Kind: circuit.Resistor, A: p.names[e.A], B: p.names[e.B], Ohms: e.Ohms})
	}
	for i := range root {
		root[i] = find(root, i)
	}
	p.group = root
	ref := n.Reference()
	tied := map[int]bool{root[ref]: true}
	for i := range n.Nodes {
		if n.Nodes[i].Rail != Mains && !tied[root[i]] {
			tied[root[i]] = true
			p.leaks = append(p.leaks, circuit.Element{Name: "leak " + strconv.Itoa(i), Kind: circuit.Resistor, A: p.names[i], B: p.names[ref], Ohms: leakOhm})
		}
	}
}

// contact tells whether an edge is the contact of the charge relay, which is closed while the engine runs.
func (n *Network) contact(e Edge) bool {
	return e.Device >= 0 && n.Devices[e.Device].Kind == "relay" && n.Devices[e.Device].Run < 0
}

// openOhm stands for an open contact [Ω].
const openOhm = 1e9

// scene makes the network of a state without its parts.
func (n *Network) scene(s State) *scene {
	p := &n.passive
	sc := &scene{n: n, names: p.names, edgeAt: p.edgeAt, feeds: map[int]bool{}, group: p.group}
	sc.els = append(make([]circuit.Element, 0, len(p.edges)+len(p.leaks)+4*n.Blocks+40), p.edges...)
	for i, e := range n.Edges {
		if n.contact(e) && s.Engine == convert.EngineOff {
			sc.els[p.edgeAt[i]].Ohms = openOhm
		}
	}
	sc.els = append(sc.els, p.leaks...)
	return sc
}

// add adds a part between two nodes.
func (sc *scene) add(e circuit.Element, plus, minus int) {
	e.A, e.B = sc.names[plus], sc.names[minus]
	sc.parts = append(sc.parts, len(sc.els))
	sc.els = append(sc.els, e)
}

// fed tells whether a pair of nodes hangs on the bank.
func (sc *scene) fed(plus, minus int) bool {
	return sc.feeds[sc.group[plus]] && sc.feeds[sc.group[minus]]
}

func (sc *scene) bank(s State) {
	n := sc.n
	volts, ohms := n.blockSource(s)
	for k := range n.Blocks {
		name := fmt.Sprintf("block %d", k+1)
		plus, minus := n.index[name+" +"], n.index[name+" -"]
		sc.blocks = append(sc.blocks, len(sc.els))
		sc.els = append(sc.els,
			circuit.Element{Name: name, Kind: circuit.EMF, A: name, B: sc.names[minus], Volts: volts},
			circuit.Element{Name: name + " inside", Kind: circuit.Resistor, A: name, B: sc.names[plus], Ohms: math.Max(ohms, 1e-6)})
		sc.feeds[sc.group[plus]], sc.feeds[sc.group[minus]] = true, true
	}
}

// read takes the solution apart.
func (sc *scene) read(solver *circuit.Solver, out *Solved) {
	n := sc.n
	sol := solver.Nodes()
	out.NodeV = make([]float64, len(n.Nodes))
	for i, name := range sol {
		if number, ok := strings.CutPrefix(name, "n"); ok {
			if k, err := strconv.Atoi(number); err == nil {
				out.NodeV[k] = solver.NodeVolts(i)
			}
		}
	}
	out.EdgeA = make([]float64, len(n.Edges))
	for i, e := range sc.edgeAt {
		if e >= 0 {
			out.EdgeA[i] = solver.Result(e).Amps
		}
	}
	for i := range n.Runs {
		out.Runs = append(out.Runs, n.runAt(&n.Runs[i], out))
	}
	for k, e := range sc.blocks {
		name := fmt.Sprintf("block %d", k+1)
		out.Blocks = append(out.Blocks, BlockAt{Name: name, Amps: -solver.Result(e).Amps, Volts: out.NodeV[n.index[name+" +"]] - out.NodeV[n.index[name+" -"]]})
	}
	for _, e := range sc.parts {
		r := solver.Result(e)
		p := PartAt{Name: r.Name, Volts: r.Volts, Amps: r.Amps, Watts: r.Watts}
		switch r.Kind {
		case circuit.PowerLoad, circuit.CurrentLoad:
		case circuit.Converter:
			out.Parts = append(out.Parts, PartAt{Name: r.Name + " in", Volts: r.Volts, Amps: r.Amps, Watts: r.Watts})
			p = PartAt{Name: r.Name + " out", Volts: r.OutVolts, Amps: -r.OutAmps, Watts: -r.OutWatts}
		default:
			p.Amps, p.Watts = -p.Amps, -p.Watts
		}
		out.Parts = append(out.Parts, p)
	}
}

// runAt reads one run out of a solution.
func (n *Network) runAt(r *Run, out *Solved) RunAt {
	var a RunAt
	v := func(node int) float64 {
		if node < 0 {
			return 0
		}
		return out.NodeV[node]
	}
	for core, c := range r.Core {
		if c.From < 0 {
			continue
		}
		for _, e := range c.Edges {
			a.LossW += out.EdgeA[e] * out.EdgeA[e] * n.Edges[e].Ohms
		}
		amps := out.EdgeA[c.Edges[0]]
		if core == 0 {
			a.Amps = amps
		} else if r.Pair() {
			a.Back = -amps
		} else {
			a.Amps = amps
		}
	}
	a.FromV, a.ToV = v(r.Core[0].From)-v(r.Core[1].From), v(r.Core[0].To)-v(r.Core[1].To)
	if r.Core[0].From < 0 {
		a.FromV, a.ToV = -a.FromV, -a.ToV
	}
	a.DropV = math.Abs(a.FromV - a.ToV)
	a.DropShare = a.DropV / r.Volts
	return a
}

// notes tells what a solved state means beyond its numbers.
func (n *Network) notes(out *Solved) {
	u := n.Sys.Supply.Unit
	for _, p := range out.Parts {
		if p.Name == "dc-dc in" && u != nil && u.Params().CutsOutV > 0 && p.Volts < u.Params().CutsOutV {
			out.Notes = append(out.Notes, fmt.Sprintf("the dc-dc unit sees %.2f V, below the %.2f V at which it cuts out: it will cycle", p.Volts, u.Params().CutsOutV))
		}
	}
}

// Part returns a part in the state; false when it takes no part in it.
func (s *Solved) Part(name string) (PartAt, bool) {
	for _, p := range s.Parts {
		if p.Name == name {
			return p, true
		}
	}
	return PartAt{}, false
}

// BankPostsV returns the mean voltage at the posts of the blocks [V].
func (s *Solved) BankPostsV() float64 {
	sum := 0.0
	for _, b := range s.Blocks {
		sum += b.Volts
	}
	return sum / math.Max(1, float64(len(s.Blocks)))
}

// AmpsThrough returns the largest current through a device in the state [A], and for string fuses that through each.
func (s *Solved) AmpsThrough(n *Network, device int) float64 {
	most := 0.0
	if s.Problem != "" {
		return 0
	}
	for _, e := range n.Devices[device].Edges {
		most = math.Max(most, math.Abs(s.EdgeA[e]))
	}
	return most / math.Max(1, n.Devices[device].Alike)
}

// NodeAmps returns the current that meets at a node in the state [A]: what flows in, which is what flows out.
func (s *Solved) NodeAmps(n *Network, node int) float64 {
	in := 0.0
	if s.Problem != "" {
		return 0
	}
	for i := range n.Edges {
		e := &n.Edges[i]
		switch a := s.EdgeA[i]; {
		case e.B == node && a > 0, e.A == node && a < 0:
			in += math.Abs(a)
		}
	}
	return in
}
