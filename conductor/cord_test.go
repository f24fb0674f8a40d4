package conductor

import (
	"testing"

	"campwright/internal/near"
)

// Flexible cords by NEC table 400.5(A)(1), from memory: a cord of 10 AWG goes with a post of 30 A, one of 6 AWG with a post of 50 A, 14 AWG with 15 A; in buildings
// the same sizes carry other currents.
func TestCord(t *testing.T) {
	for _, x := range []struct {
		awg        int
		three, two float64
	}{{14, 15, 18}, {12, 20, 25}, {10, 25, 30}, {8, 35, 40}, {6, 45, 55}} {
		g, err := OfAWG(x.awg)
		if err != nil {
			t.Fatal(err)
		}
		three, _, ok3 := Cord(g, 3)
		two, origin, ok2 := Cord(g, 2)
		if !ok2 || !ok3 || origin.Mark != Memory {
			t.Errorf("%d AWG: %v %v %v", x.awg, ok3, ok2, origin)
		}
		near.Printed(t, g.String()+", three", three, x.three, 0, "NEC table 400.5(A)(1), from memory")
		near.Printed(t, g.String()+", two", two, x.two, 0, "NEC table 400.5(A)(1), from memory")
	}
	metric, err := OfMetric(2.5) // between 14 AWG, 2.08 mm², and 12 AWG, 3.31 mm²
	if err != nil {
		t.Fatal(err)
	}
	amps, _, _ := Cord(metric, 2)
	near.Printed(t, "2.5 mm², as 14 AWG", amps, 18, 0, "the next smaller size")
	if thin, err := OfMetric(0.75); err == nil {
		if _, _, ok := Cord(thin, 2); ok {
			t.Error("a size below the table has a rating")
		}
	} else {
		t.Fatal(err)
	}
	last := 0.0
	for _, g := range Gauges(AWG) { // thicker never carries less, and three never more than two
		two, _, ok := Cord(g, 2)
		three, _, _ := Cord(g, 3)
		if !ok || two < last || three > two {
			t.Errorf("%s: %g and %g after %g", g, two, three, last)
		}
		last = two
	}
}
