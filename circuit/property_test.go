package circuit

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"campwright/conductor"
	"campwright/internal/near"
)

func TestRadial_ThickerOrShorterNeverDropsMore(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 11))
	gauges := conductor.Gauges(conductor.AWG)
	count := 0
	for range 60 {
		n := 2 + r.IntN(8)
		var net []Element
		size, length := make([]int, n+1), make([]float64, n+1)
		build := func() []Element {
			net = []Element{emf("bank", "n0", "0", 13)}
			for i := 1; i <= n; i++ {
				net = append(net, Cable(fmt.Sprintf("c%d", i), fmt.Sprintf("n%d", parent(i)), fmt.Sprintf("n%d", i), gauges[size[i]], length[i], 60),
					drain(fmt.Sprintf("l%d", i), fmt.Sprintf("n%d", i), "0", 2))
			}
			return net
		}
		for i := 1; i <= n; i++ {
			size[i], length[i] = r.IntN(len(gauges)-1), 0.5+5*r.Float64()
		}
		before := solve(t, build()...)
		k := 1 + r.IntN(n)
		if r.IntN(2) == 0 {
			size[k]++
		} else {
			length[k] *= 0.8
		}
		after := solve(t, build()...)
		for i := range before.Nodes {
			if after.NodeVolts[i] < before.NodeVolts[i]-1e-12 {
				t.Errorf("seed %d: more copper or less length lowers %s from %.12g to %.12g", *seed, before.Nodes[i], before.NodeVolts[i], after.NodeVolts[i])
			}
			count++
		}
	}
	if count < 200 {
		t.Errorf("only %d compared", count)
	}
}

// parent is the node above node i in a binary tree.
func parent(i int) int { return (i - 1) / 2 }

func TestMesh_AddedCopperNeverRaisesResistance(t *testing.T) {
	// Rayleigh's monotonicity law: so the prospective fault current of a bank never falls.
	r := rand.New(rand.NewPCG(*seed, 12))
	count := 0
	for range 60 {
		nodes := 4 + r.IntN(20)
		net := randomNetwork(r, nodes, 5, 0, false)
		var bank []Element
		for _, e := range net.Elements {
			if e.Kind == Resistor && !strings.HasPrefix(e.A, "e") {
				bank = append(bank, e)
			}
		}
		bank = append(bank, emf("bank", "e0", "0", 13), resistor("ri", "e0", "n1", 0.003), resistor("bleed", "n1", "0", 1e4))
		study := func(all []Element) *Study {
			s, err := New(Network{"0", all})
			if err != nil {
				t.Fatal(err)
			}
			st, err := s.Study()
			if err != nil {
				t.Fatal(err)
			}
			return st
		}
		before := study(bank)
		a, b := 1+r.IntN(nodes-1), 1+r.IntN(nodes-1)
		if a == b {
			continue
		}
		after := study(append(bank[:len(bank):len(bank)], resistor("added", fmt.Sprintf("n%d", a), fmt.Sprintf("n%d", b), 0.001+0.05*r.Float64())))
		was, is := before.ToReference(), after.ToReference()
		for i := range was {
			if was[i].Unlimited {
				continue
			}
			if is[i].TheveninOhms > was[i].TheveninOhms*(1+1e-12) || is[i].Amps < was[i].Amps*(1-1e-12) {
				t.Errorf("seed %d: added copper takes %s from %g Ω, %g A to %g Ω, %g A", *seed, was[i].Node, was[i].TheveninOhms, was[i].Amps, is[i].TheveninOhms, is[i].Amps)
			}
			count++
		}
		ab, err := before.Ohms("n1", fmt.Sprintf("n%d", nodes-1))
		if err != nil {
			t.Fatal(err)
		}
		ba, _ := before.Ohms(fmt.Sprintf("n%d", nodes-1), "n1")
		near.Rel(t, "either way round", ab, ba, 1e-12, "reciprocity")
	}
	if count < 200 {
		t.Errorf("only %d compared", count)
	}
}

func TestRelabelling_ChangesNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 13))
	count := 0
	for name, v := range references(t) {
		if !v.Feasible {
			continue
		}
		net := v.network(t)
		one, err := Solve(net)
		if err != nil {
			t.Fatal(err)
		}
		label := map[string]string{}
		for i, j := range r.Perm(len(one.Nodes)) {
			label[one.Nodes[i]] = fmt.Sprintf("x%d", j)
		}
		other := Network{Reference: label[net.Reference], Elements: make([]Element, len(net.Elements))}
		for i, j := range r.Perm(len(net.Elements)) {
			e := net.Elements[i]
			e.A, e.B = label[e.A], label[e.B]
			if e.Kind == Resistor || e.Kind == Short {
				e.A, e.B = e.B, e.A
			}
			other.Elements[j] = e
		}
		two, err := Solve(other)
		if err != nil {
			t.Fatal(err)
		}
		for i, n := range one.Nodes {
			got, ok := two.Node(label[n])
			if !ok {
				t.Fatalf("%s: lost node %s", name, n)
			}
			near.Abs(t, name+" "+n, got, one.NodeVolts[i], 1e-11, "names and order mean nothing")
			count++
		}
	}
	if count < 100 {
		t.Errorf("only %d compared", count)
	}
}

func TestSuperposition(t *testing.T) {
	r := rand.New(rand.NewPCG(*seed, 14))
	count := 0
	for range 40 {
		net := randomNetwork(r, 4+r.IntN(20), 6, 6, false)
		var fixedOnly []Element
		for _, e := range net.Elements {
			if e.Kind == PowerLoad {
				e = drain(e.Name, e.A, e.B, e.Watts/12)
			}
			fixedOnly = append(fixedOnly, e)
		}
		all := solve(t, fixedOnly...)
		sum := make([]float64, len(all.Nodes))
		for k, e := range fixedOnly {
			if e.Volts == 0 && e.Amps == 0 {
				continue
			}
			alone := append([]Element(nil), fixedOnly...)
			for i := range alone {
				if i != k {
					alone[i].Volts, alone[i].Amps = 0, 0
				}
			}
			for i, v := range solve(t, alone...).NodeVolts {
				sum[i] += v
			}
		}
		for i := range sum {
			near.Abs(t, "sum of the parts", sum[i], all.NodeVolts[i], 1e-11, "the network is linear")
			count++
		}
	}
	if count < 300 {
		t.Errorf("only %d compared", count)
	}
}

func TestSolver_SolvesAgain(t *testing.T) {
	s, err := New(Network{"0", []Element{emf("bank", "e", "0", 13), resistor("line", "e", "u", 0.05), load("unit", "u", "0", 300)}})
	if err != nil {
		t.Fatal(err)
	}
	if s.Proof() != (Proof{}) || s.NodeVolts(1) != 0 || s.Result(2).Amps != 0 || len(s.Solution().Nodes) != 0 {
		t.Error("results before Solve")
	}
	for _, c := range []struct{ volts, ohms, watts float64 }{{13, 0.05, 300}, {26, 0.05, 300}, {26, 0.2, 300}, {26, 0.2, 700}, {26, 0.2, 900}, {12.5, 0.01, 900}} {
		for i, e := range []Element{emf("bank", "e", "0", c.volts), resistor("line", "e", "u", c.ohms), load("unit", "u", "0", c.watts)} {
			if err := s.Set(i, e); err != nil {
				t.Fatal(err)
			}
		}
		err := s.Solve()
		want, ok := ConstantPowerVolts(c.volts, c.ohms, c.watts)
		var none *InfeasibleError
		if errors.As(err, &none) == ok {
			t.Errorf("%+v: %v, closed form %v", c, err, ok)
			continue
		}
		if ok {
			near.Abs(t, "unit", s.Result(2).Volts, want, 1e-10, "closed form")
			fresh := solve(t, emf("bank", "e", "0", c.volts), resistor("line", "e", "u", c.ohms), load("unit", "u", "0", c.watts))
			near.Abs(t, "fresh solver", s.NodeVolts(2), fresh.NodeVolts[2], 0, "the same arithmetic")
		} else if s.Result(2).Amps != 0 {
			t.Error("results of a network without operating point")
		}
	}
	if err := s.Set(1, resistor("line", "e", "x", 1)); err == nil {
		t.Error("other nodes taken")
	}
	if err := s.Set(1, resistor("line", "e", "u", math.NaN())); err == nil {
		t.Error("NaN taken")
	}
	if err := s.Set(7, Element{}); err == nil {
		t.Error("element 7 of 3 taken")
	}
}

func TestNearTheNose(t *testing.T) {
	// V²/(4R) = 845 W. Just inside there is an operating point at about half the voltage, just outside none.
	at := func(watts float64) (Solution, error) {
		return Solve(Network{"0", []Element{emf("bank", "e", "0", 13), resistor("line", "e", "u", 0.05), load("unit", "u", "0", watts)}})
	}
	for _, share := range []float64{1e-3, 1e-6, 1e-9} {
		s, err := at(845 * (1 - share))
		if err != nil {
			t.Fatalf("inside by %g: %v", share, err)
		}
		want, _ := ConstantPowerVolts(13, 0.05, 845*(1-share))
		near.Abs(t, "inside", s.NodeVolts[2], want, 1e-6, "the closed form; at the nose a rounding of power moves the voltage by its root")
		if want < 6.5 || !(s.Proof.Stiffness > 0) {
			t.Errorf("inside by %g: %g V, proof %+v", share, want, s.Proof)
		}
		var none *InfeasibleError
		if _, err := at(845 * (1 + share)); !errors.As(err, &none) {
			t.Errorf("outside by %g: %v", share, err)
		} else {
			near.Rel(t, "critical", none.Scale, 1/(1+share), 1e-9, "845 W over what is asked")
		}
	}
}

func TestLowBranch_IsNoSolution(t *testing.T) {
	// V² − 13·V + 0.05 × 600 = 0 has a second root, at which currents balance too. Started right on it, Newton's method must not accept it.
	s, err := New(Network{"0", []Element{emf("bank", "e", "0", 13), resistor("line", "e", "u", 0.05), load("unit", "u", "0", 600)}})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.atRest(); err != nil {
		t.Fatal(err)
	}
	low := (13 - math.Sqrt(13*13-4*0.05*600)) / 2
	s.v[0] = low
	if imbalance, largest := s.evaluate(1, false); imbalance > 1e-9*largest {
		t.Errorf("%g A left over at the low root", imbalance)
	}
	if r := s.newton(1); r != collapse {
		t.Errorf("the low root: outcome %d", r)
	}
}

func TestNose_SingleLoad(t *testing.T) {
	// At the nose a single load has half the voltage of rest.
	for _, watts := range []float64{100, 846, 1e4, 1e6} {
		s, err := New(Network{"0", []Element{emf("bank", "e", "0", 13), resistor("line", "e", "u", 0.05), load("unit", "u", "0", watts)}})
		if err != nil {
			t.Fatal(err)
		}
		c, err := s.Critical()
		if err != nil || c.Unlimited {
			t.Fatal(err)
		}
		near.Rel(t, "critical factor", c.Scale, 845/watts, 1e-9, "V²/(4R)")
		near.Abs(t, "volts at the nose", c.Volts[1].Volts, 6.5, 2e-5, "half of 13 V")
	}
	s, err := New(Network{"0", []Element{emf("bank", "e", "0", 13), load("unit", "e", "0", 100)}})
	if err != nil {
		t.Fatal(err)
	}
	if c, err := s.Critical(); err != nil || !c.Unlimited || c.Scale != 0 {
		t.Errorf("a load across an ideal source: %+v %v", c, err)
	}
	if l, err := s.LoadLimit(1); err != nil || !l.Unlimited || l.TheveninVolts != 13 {
		t.Errorf("a load across an ideal source: %+v %v", l, err)
	}
}

func TestHeadroom_TwoLoads(t *testing.T) {
	// Network 13 at three quarters of its loads: the limit of one load with the other on lies below its limit alone, and asking just that
	// much is feasible, a thousandth more is not.
	v, ok := references(t)["13_two_load_collapse base"]
	if !ok {
		t.Fatal("network 13 is gone")
	}
	net := v.network(t)
	for i := range net.Elements {
		net.Elements[i].Watts *= 0.7
	}
	s, err := New(net)
	if err != nil {
		t.Fatal(err)
	}
	i, _ := s.Index("load2")
	on, err := s.LoadLimit(i)
	if err != nil {
		t.Fatal(err)
	}
	off := 12.6 * 12.6 / 4 / (0.012 + 0.039956 + 0.019978)
	if on.MaxWatts >= off || on.Watts != net.Elements[i].Watts || on.OthersOff {
		t.Errorf("limit %+v, alone %g W", on, off)
	}
	for _, c := range []struct {
		factor float64
		ok     bool
	}{{0.999, true}, {1.001, false}} {
		net.Elements[i].Watts = on.MaxWatts * c.factor
		if _, err := Solve(net); (err == nil) != c.ok {
			t.Errorf("at %g of the limit: %v", c.factor, err)
		}
	}
	c, err := s.Critical()
	if err != nil {
		t.Fatal(err)
	}
	near.Rel(t, "headroom", c.Scale*0.7, v.Critical, 1e-8, "the same network as the reference")
}
