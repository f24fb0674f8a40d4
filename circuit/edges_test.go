package circuit

import (
	"errors"
	"math"
	"testing"

	"campwright/internal/near"
)

// TestReference_Edges solves the networks in testdata/edges, made by tools/oracle/edges.py: unlike, dead and turned batteries, joints without resistance, a bar
// of many branches, meshes, a part cut off, modules shorted, open, shaded, dark and driven backwards, loads just under and beyond what their lines carry. Their
// numbers come from a nodal Newton method in another language, with dense elimination and a current unknown for each source, and from the simulator ngspice
// where that finds the same point. Tolerances are those of the reference.
func TestReference_Edges(t *testing.T) {
	solved, none := 0, 0
	for name, v := range variants(t, "edges", 23) {
		s, err := Solve(v.network(t))
		if !v.Feasible {
			none++
			var e *InfeasibleError
			if !errors.As(err, &e) {
				t.Errorf("%s: %v, want an InfeasibleError", name, err)
				continue
			}
			near.Abs(t, name+" critical factor", e.Scale, v.Critical, 1e-6, "the rise ends at steps of 1e-12; 1e-3 is suggested")
			for _, n := range e.Volts {
				near.Abs(t, name+" "+n.Node+" at the nose", n.Volts, v.CriticalVolts[n.Node], 1e-3, "soft: moves with the root of the distance")
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		solved++
		if len(v.NodeVolts) < 1 || len(v.Results) != len(v.Elements) {
			t.Errorf("%s: %d node voltages, %d results for %d elements", name, len(v.NodeVolts), len(v.Results), len(v.Elements))
		}
		for node, want := range v.NodeVolts {
			got, ok := s.Node(node)
			if !ok {
				t.Errorf("%s: no node %s", name, node)
			}
			near.Abs(t, name+" "+node, got, want, 1e-5, "suggested tolerance of the reference")
		}
		for element, want := range v.Results {
			got, _ := s.Element(element)
			near.Abs(t, name+" "+element+" A", got.Amps, want.Amps, math.Max(1e-3, 1e-5*math.Abs(want.Amps)), "suggested tolerance of the reference")
			near.Abs(t, name+" "+element+" W", got.Watts, want.Watts, math.Max(1e-3*15, 2e-5*math.Abs(want.Watts)), "current's tolerance at 15 V")
		}
		near.Abs(t, name+" source power", s.SourceWatts, v.Source, math.Max(1e-3*15, 2e-5*math.Abs(v.Source)), "current's tolerance at 15 V")
		near.Abs(t, name+" energy closes", s.AbsorbedWatts, s.SourceWatts, 1e-9*(1+math.Abs(s.SourceWatts)), "what sources give is what elements absorb")
	}
	if solved != 17 || none != 6 {
		t.Errorf("%d solved, %d without an operating point", solved, none)
	}
}
