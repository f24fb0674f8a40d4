package design_test

import (
	"testing"

	"campwright/design"
)

// BenchmarkWire proposes for the largest demo rig, which has no wiring of its own, and solves it in every state at nominal and at both ends of all
// guesses: 36 solutions, 80 faults. Budget: 20 ms. Results of "go test -bench Wire -run xxx ./design" on 2 shared cores, Go 1.26: 18 ms with the three
// networks one after another; 22 ms of processor time with all states side by side and the faults worked out once, 27 ms before that, measured while
// eight other jobs had the machine; 12 MB.
func BenchmarkWire(b *testing.B) {
	doc := open(b, "../examples/fifth-wheel.yaml")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := design.Wire(doc); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkPropose proposes alone: 7 ms.
func BenchmarkPropose(b *testing.B) {
	doc := open(b, "../examples/fifth-wheel.yaml")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := design.Propose(doc); err != nil {
			b.Fatal(err)
		}
	}
}
