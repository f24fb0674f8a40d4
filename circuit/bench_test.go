package circuit

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"
)

// typical makes the network of a rig with about the given number of nodes: a bank, a bus, branches with loads of their own and a shared return, and
// a few cross links; every third load takes constant power.
func typical(nodes int) Network {
	r := rand.New(rand.NewPCG(7, 7))
	net := Network{"0", []Element{emf("bank", "e", "0", 13.2), resistor("ri", "e", "n1", 0.002)}}
	add := func(e Element) {
		e.Name = fmt.Sprintf("%s %d", e.Kind, len(net.Elements))
		net.Elements = append(net.Elements, e)
	}
	name := func(i int) string { return fmt.Sprintf("n%d", i) }
	for i := 2; i < nodes-1; i++ {
		add(resistor("", name(max(1, i/3)), name(i), 0.001+0.01*r.Float64()))
		switch i % 3 {
		case 0:
			add(load("", name(i), "0", 3*r.Float64()))
		case 1:
			add(drain("", name(i), "0", 0.3*r.Float64()))
		default:
			add(resistor("", name(i), "0", 30+30*r.Float64()))
		}
	}
	for i := 20; i < nodes-1; i += 20 {
		add(resistor("", name(i), name(i-7), 0.01))
	}
	return net
}

// The results below are of "go test -bench . -run xxx ./circuit" on 2 shared cores, Go 1.26.8. Budget: 200 µs for 100 nodes.

// BenchmarkSolve solves a network again after New: 1.7 µs for 10 nodes, 26 µs for 100, 0.28 ms for 1000; no allocation.
func BenchmarkSolve(b *testing.B) {
	for _, nodes := range []int{10, 100, 1000} {
		b.Run(fmt.Sprintf("nodes=%d", nodes), func(b *testing.B) {
			s, err := New(typical(nodes))
			if err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			for b.Loop() {
				if err := s.Solve(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkMesh solves random meshes of 100 nodes with twice as many chords as a rig would ever have: 34 µs, no allocation.
func BenchmarkMesh(b *testing.B) {
	s, err := New(randomNetwork(rand.New(rand.NewPCG(3, 3)), 100, 100, 0, false))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := s.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkNew names, orders and lays out a network: 0.09 ms.
func BenchmarkNew(b *testing.B) {
	net := typical(100)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := New(net); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkModules solves the six-module combiner of the reference: 15 µs, no allocation.
func BenchmarkModules(b *testing.B) {
	s, err := New(references(b)["08_pv_combiner_six controller_holds_voltage"].network(b))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := s.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkInfeasible finds the critical factor of a network without operating point: 35 µs.
func BenchmarkInfeasible(b *testing.B) {
	s, err := New(references(b)["13_two_load_collapse base"].network(b))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		var none *InfeasibleError
		if err := s.Solve(); !errors.As(err, &none) {
			b.Fatal(err)
		}
	}
}

// BenchmarkFaults prepares a study of 100 nodes and finds the fault at each: 67 µs.
func BenchmarkFaults(b *testing.B) {
	s, err := New(typical(100))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		study, err := s.Study()
		if err != nil {
			b.Fatal(err)
		}
		if len(study.ToReference()) != 99 {
			b.Fatal("faults missing")
		}
	}
}

func TestSolve_AllocatesNothing(t *testing.T) {
	for name, net := range map[string]Network{"loads": typical(100), "converter": {"0", charger(0.07, Intake{})}} {
		s, err := New(net)
		if err != nil {
			t.Fatal(err)
		}
		if n := testing.AllocsPerRun(20, func() {
			if err := s.Solve(); err != nil {
				t.Fatal(err)
			}
		}); n != 0 {
			t.Errorf("%s: %g allocations", name, n)
		}
	}
}
