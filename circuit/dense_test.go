package circuit

import (
	"errors"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"campwright/internal/near"
)

// This file holds the solver against slow twins built on a general dense LU (gonum): a full modified nodal system with a row for each ideal
// source, and, for constant-power loads, the plain fixed-point iteration from the no-load state, which needs no Newton and no pivots.

var seed = flag.Uint64("seed", 1, "seed of the random networks")

// dense is the modified nodal system of a network of resistors, ideal sources, shorts and fixed currents; constant-power loads are left to the
// caller as currents.
type dense struct {
	index map[string]int
	lu    mat.LU
	rhs   []float64
	loads []Element
}

func newDense(net Network) *dense {
	d := &dense{index: map[string]int{net.Reference: -1}}
	ideal := 0
	for _, e := range net.Elements {
		for _, n := range []string{e.A, e.B} {
			if _, ok := d.index[n]; !ok {
				d.index[n] = len(d.index) - 1
			}
		}
		if e.Kind == EMF || e.Kind == Short {
			ideal++
		}
	}
	n := len(d.index) - 1
	m := mat.NewDense(n+ideal, n+ideal, nil)
	d.rhs = make([]float64, n+ideal)
	add := func(i, j int, v float64) {
		if i >= 0 && j >= 0 {
			m.Set(i, j, m.At(i, j)+v)
		}
	}
	next := n
	for _, e := range net.Elements {
		a, b := d.index[e.A], d.index[e.B]
		switch e.Kind {
		case Resistor:
			g := 1 / e.Ohms
			add(a, a, g)
			add(b, b, g)
			add(a, b, -g)
			add(b, a, -g)
		case EMF, Short:
			add(a, next, 1)
			add(b, next, -1)
			add(next, a, 1)
			add(next, b, -1)
			d.rhs[next] = e.Volts
			next++
		case CurrentLoad:
			d.draw(d.rhs, e, e.Amps)
		case PowerLoad:
			d.loads = append(d.loads, e)
		}
	}
	d.lu.Factorize(m)
	return d
}

func (d *dense) draw(rhs []float64, e Element, amps float64) {
	if a := d.index[e.A]; a >= 0 {
		rhs[a] -= amps
	}
	if b := d.index[e.B]; b >= 0 {
		rhs[b] += amps
	}
}

// solve returns node voltages with the loads drawing the given currents.
func (d *dense) solve(loadAmps []float64) []float64 {
	rhs := append([]float64(nil), d.rhs...)
	for i, e := range d.loads {
		d.draw(rhs, e, loadAmps[i])
	}
	x := mat.NewVecDense(len(rhs), nil)
	if err := d.lu.SolveVecTo(x, false, mat.NewVecDense(len(rhs), rhs)); err != nil {
		var c mat.Condition
		if !errors.As(err, &c) {
			panic(err)
		}
	}
	return x.RawVector().Data
}

func (d *dense) across(x []float64, e Element) float64 {
	v := 0.0
	if a := d.index[e.A]; a >= 0 {
		v += x[a]
	}
	if b := d.index[e.B]; b >= 0 {
		v -= x[b]
	}
	return v
}

// iterate runs the fixed-point iteration V ← V(P/V) from the no-load state with the loads scaled. ok is false when a load loses its
// voltage: for loads whose port resistances are not negative, a proof that there is no operating point.
func (d *dense) iterate(scale float64, rounds int) (x []float64, ok bool) {
	amps := make([]float64, len(d.loads))
	x = d.solve(amps)
	for range rounds {
		moved := 0.0
		for i, e := range d.loads {
			v := d.across(x, e)
			if !(v > 0) {
				return nil, false
			}
			next := scale * e.Watts / v
			moved = math.Max(moved, math.Abs(next-amps[i])/next)
			amps[i] = next
		}
		x = d.solve(amps)
		if moved < 1e-13 {
			return x, true
		}
	}
	return x, true
}

// randomNetwork makes a connected network: a tree of resistors with some chords, batteries behind resistance, loads. stiff spreads the
// resistances over many decades.
func randomNetwork(r *rand.Rand, nodes, chords, loads int, stiff bool) Network {
	ohms := func() float64 {
		if stiff {
			return math.Pow(10, -7+12*r.Float64())
		}
		return 0.001 + 0.05*r.Float64()
	}
	name := func(i int) string {
		if i == 0 {
			return "0"
		}
		return fmt.Sprintf("n%d", i)
	}
	net := Network{Reference: "0"}
	add := func(e Element) {
		e.Name = fmt.Sprintf("%s%d", e.Kind, len(net.Elements))
		net.Elements = append(net.Elements, e)
	}
	for i := 2; i < nodes; i++ {
		add(resistor("", name(i), name(1+r.IntN(i-1)), ohms()))
	}
	for range chords {
		a, b := 1+r.IntN(nodes-1), 1+r.IntN(nodes-1)
		if a != b {
			add(resistor("", name(a), name(b), ohms()))
		}
	}
	for i := range 1 + r.IntN(3) {
		e := fmt.Sprintf("e%d", i)
		add(emf("", e, "0", 12+2*r.Float64()))
		add(resistor("", e, name(1+r.IntN(nodes-1)), 0.002+0.01*r.Float64()))
	}
	heavy := math.Pow(10, 1.4*r.Float64())
	for range loads {
		switch at := name(1 + r.IntN(nodes-1)); r.IntN(4) {
		case 0:
			add(drain("", at, "0", 3*r.Float64()))
		case 1:
			add(resistor("", at, "0", 1+5*r.Float64()))
		default:
			add(load("", at, "0", heavy*40*r.Float64()))
		}
	}
	if r.IntN(2) == 0 {
		add(Element{Kind: Short, A: name(1), B: "tap"})
		add(load("", "tap", "0", 10*r.Float64()))
	}
	return net
}

func TestRandom_LinearAgainstDenseLU(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 1))
	w := near.Worst{What: "node voltage"}
	for k := range 300 {
		net := randomNetwork(r, 3+r.IntN(40), r.IntN(30), 10, false)
		for i, e := range net.Elements {
			if e.Kind == PowerLoad {
				net.Elements[i] = drain(e.Name, e.A, e.B, e.Watts/12)
			}
		}
		s, err := Solve(net)
		if err != nil {
			t.Fatalf("seed %d, network %d: %v", *seed, k, err)
		}
		d := newDense(net)
		x := d.solve(nil)
		for i, n := range s.Nodes {
			if at := d.index[n]; at >= 0 {
				w.See(s.NodeVolts[i], x[at], fmt.Sprintf("network %d node %s", k, n))
			}
		}
		if !(s.Proof.Imbalance <= 1e-9) {
			t.Errorf("seed %d, network %d: imbalance %g", *seed, k, s.Proof.Imbalance)
		}
	}
	if w.Count < 3000 || !(w.Off <= 1e-9) {
		t.Errorf("seed %d: %d compared, worst %g at %s", *seed, w.Count, w.Off, w.Place)
	}
	t.Logf("%d node voltages, worst %.2g V", w.Count, w.Off)
}

func TestRandom_LoadsAgainstFixedPoint(t *testing.T) {
	// Loads to a common return have port resistances that are not negative, so the iteration from the no-load state falls to the high-voltage
	// point or proves that there is none.
	r := rand.New(rand.NewPCG(*seed, 2))
	w := near.Worst{What: "node voltage"}
	feasible, infeasible, critical := 0, 0, near.Worst{What: "critical factor"}
	for k := range 300 {
		net := randomNetwork(r, 3+r.IntN(30), r.IntN(10), 1+r.IntN(12), false)
		d := newDense(net)
		if len(d.loads) == 0 {
			continue
		}
		s, err := New(net)
		if err != nil {
			t.Fatalf("seed %d, network %d: %v", *seed, k, err)
		}
		err = s.Solve()
		var none *InfeasibleError
		switch {
		case errors.As(err, &none):
			infeasible++
			if !(none.Scale > 0 && none.Scale < 1) {
				t.Errorf("seed %d, network %d: critical factor %g", *seed, k, none.Scale)
			}
			for _, f := range []struct {
				scale float64
				ok    bool
			}{{none.Scale * (1 - 1e-5), true}, {none.Scale * (1 + 1e-5), false}} {
				if _, ok := d.iterate(f.scale, 20000); ok != f.ok {
					t.Errorf("seed %d, network %d: at %.6g of the loads, critical %.6g: twin says operating point %v", *seed, k, f.scale, none.Scale, ok)
				}
			}
		case err != nil:
			t.Fatalf("seed %d, network %d: %v", *seed, k, err)
		default:
			feasible++
			proof := s.Proof()
			if !proof.Monotone || !(proof.Imbalance <= 1e-9) || !(proof.Stiffness > 0) {
				t.Errorf("seed %d, network %d: proof %+v", *seed, k, proof)
			}
			sol := s.Solution()
			x, ok := d.iterate(1, 20000)
			if !ok {
				t.Fatalf("seed %d, network %d: twin finds none", *seed, k)
			}
			for i, n := range sol.Nodes {
				if at := d.index[n]; at >= 0 {
					w.See(sol.NodeVolts[i], x[at], fmt.Sprintf("network %d node %s", k, n))
				}
			}
			near.Rel(t, "energy closes", sol.AbsorbedWatts, sol.SourceWatts, 1e-9, "what sources give is what elements absorb")
			if k%10 == 0 {
				c, err := s.Critical()
				if err != nil || c.Unlimited {
					t.Fatalf("seed %d, network %d: %v", *seed, k, err)
				}
				low, ok1 := d.iterate(c.Scale*(1-1e-5), 20000)
				_, ok2 := d.iterate(c.Scale*(1+1e-5), 20000)
				if !ok1 || ok2 || low == nil {
					t.Errorf("seed %d, network %d: critical %.6g, twin %v below, %v above", *seed, k, c.Scale, ok1, ok2)
				}
				critical.Count++
			}
		}
	}
	if feasible < 80 || infeasible < 10 || critical.Count < 5 || !(w.Off <= 1e-8) {
		t.Errorf("seed %d: %d feasible, %d infeasible, %d critical, worst %g at %s", *seed, feasible, infeasible, critical.Count, w.Off, w.Place)
	}
	t.Logf("%d feasible, %d not, worst %.2g V over %d", feasible, infeasible, w.Off, w.Count)
}

func TestRandom_KirchhoffOverManyDecades(t *testing.T) {
	// Resistances from 0.1 µΩ to 100 kΩ side by side: the currents must still balance at every node to 1e-9 of the largest.
	r := rand.New(rand.NewPCG(*seed, 3))
	worst, solved := 0.0, 0
	for k := range 300 {
		net := randomNetwork(r, 3+r.IntN(60), r.IntN(30), 3, true)
		s, err := Solve(net)
		var none *InfeasibleError
		var unfed *PolarityError
		if errors.As(err, &none) || errors.As(err, &unfed) {
			continue // a fixed current through 100 kΩ leaves the loads beyond it no voltage
		}
		if err != nil {
			t.Fatalf("seed %d, network %d: %v", *seed, k, err)
		}
		solved++
		worst = math.Max(worst, s.Proof.Imbalance)
		// Kirchhoff's law again, from the results alone.
		sum, largest := map[string]float64{}, 0.0
		for i, e := range s.Elements {
			amps := e.Amps
			if e.Kind == EMF {
				amps = -amps
			}
			sum[net.Elements[i].A] += amps
			sum[net.Elements[i].B] -= amps
			largest = math.Max(largest, math.Abs(amps))
		}
		for n, v := range sum {
			if math.Abs(v) > 1e-9*largest {
				t.Errorf("seed %d, network %d: %g A left over at %s of %g", *seed, k, v, n, largest)
			}
		}
	}
	if solved < 100 || worst > 1e-9 {
		t.Errorf("seed %d: %d solved, worst imbalance %g", *seed, solved, worst)
	}
	t.Logf("%d solved, worst imbalance %.2g of the largest current", solved, worst)
}

func TestRandom_ChassisReturns(t *testing.T) {
	// Loads between supply and a chassis of resistors of its own: port resistances may have either sign, so the fixed point proves
	// nothing, but a solution found by steps of a hundredth from no load must be the same.
	r := rand.New(rand.NewPCG(*seed, 4))
	compared, none := 0, 0
	for k := range 100 {
		net := Network{Reference: "0", Elements: []Element{emf("bank", "e", "0", 13), resistor("ri", "e", "p0", 0.004)}}
		m := 2 + r.IntN(6)
		for i := 1; i <= m; i++ {
			p, c := fmt.Sprintf("p%d", i), fmt.Sprintf("c%d", i)
			net.Elements = append(net.Elements,
				resistor("s"+p, p, fmt.Sprintf("p%d", r.IntN(i)), 0.005+0.05*r.Float64()),
				resistor("t"+p, p, fmt.Sprintf("p%d", r.IntN(i)), 0.005+0.05*r.Float64()),
				load("l"+p, p, c, 500*r.Float64()))
			back := "0"
			if i > 1 {
				back = fmt.Sprintf("c%d", 1+r.IntN(i-1))
			}
			net.Elements = append(net.Elements, resistor("r"+c, c, back, 0.002+0.03*r.Float64()), resistor("q"+c, c, "0", 0.02+0.1*r.Float64()))
		}
		s, err := New(net)
		if err != nil {
			t.Fatal(err)
		}
		err = s.Solve()
		stepped, serr := New(net)
		if serr != nil {
			t.Fatal(serr)
		}
		if serr = stepped.atRest(); serr != nil {
			t.Fatal(serr)
		}
		reached := 0
		for ; reached < 100 && stepped.newton(float64(reached+1)/100) == found; reached++ {
			stepped.fold()
		}
		var infeasible *InfeasibleError
		if errors.As(err, &infeasible) {
			none++
			if math.Abs(infeasible.Scale-float64(reached)/100) > 0.0101 {
				t.Errorf("seed %d, network %d: critical %.4f, steps reach %d %%", *seed, k, infeasible.Scale, reached)
			}
			continue
		}
		if err != nil || reached != 100 {
			t.Fatalf("seed %d, network %d: %v, steps reach %d %%", *seed, k, err, reached)
		}
		for i := range s.Nodes() {
			near.Abs(t, "stepped", stepped.nodeAt(i), s.NodeVolts(i), 1e-9, "the same branch")
		}
		compared++
	}
	if compared < 40 || none < 3 {
		t.Errorf("seed %d: %d compared, %d without operating point", *seed, compared, none)
	}
}
