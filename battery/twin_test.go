package battery

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The common step written out in Step against careful, which does every case.
func TestStep_CommonCaseEqualsCareful(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 20))
	common := 0
	for _, c := range []Chemistry{LFP, Flooded, AGM, Gel} {
		m, err := New(Typical(c, 12, 100))
		if err != nil {
			t.Fatal(err)
		}
		for range 20000 {
			s := State{SoC: rng.Float64()}
			p, tC, dtH := (rng.Float64()-0.6)*600, rng.Float64()*70-20, 0.01+rng.Float64()*0.2
			course := &m.b.charge
			if p < 0 {
				course = &m.b.discharge
			}
			a, fa := m.Step(s, p, tC, dtH)
			b, fb := m.b.careful(course, s, p, tC, dtH)
			if fb.Limit == None && math.Abs(b.SoC-s.SoC) < 0.004 {
				common++
			}
			if fa.Limit != fb.Limit || math.Abs(a.SoC-b.SoC) > 1e-13 {
				t.Fatalf("%v %+v %g W %g C %g h: %v (%v), careful %v (%v)", c, s, p, tC, dtH, a.SoC, fa.Limit, b.SoC, fb.Limit)
			}
			for i, pair := range [][2]float64{{fa.PowerW, fb.PowerW}, {fa.CurrentA, fb.CurrentA}, {fa.TerminalV, fb.TerminalV},
				{fa.ResistiveLossW, fb.ResistiveLossW}, {fa.PolarisationLossW, fb.PolarisationLossW}, {fa.CoulombicLossW, fb.CoulombicLossW},
				{fa.StoredW, fb.StoredW}, {fa.SelfDischargeW, fb.SelfDischargeW}} {
				if math.Abs(pair[0]-pair[1]) > 1e-10*(1+math.Abs(pair[1])) {
					t.Fatalf("%v %+v %g W %g C %g h: field %d is %v, careful %v", c, s, p, tC, dtH, i, pair[0], pair[1])
				}
			}
		}
	}
	if common < 5000 {
		t.Fatalf("only %d steps were likely to be the common case", common)
	}
}

// The common hold at a voltage against holdCarefully, which does every case.
func TestByVoltage_CommonCaseEqualsCareful(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 21))
	common := 0
	for _, c := range []Chemistry{LFP, Flooded, AGM, Gel} {
		m, err := New(Typical(c, 12, 100))
		if err != nil {
			t.Fatal(err)
		}
		for range 20000 {
			s := State{SoC: rng.Float64()}
			hold, tC, dtH := 10+rng.Float64()*5, rng.Float64()*70-20, 0.01+rng.Float64()*0.5
			if rng.IntN(2) == 0 {
				hold = m.Voc(s.SoC) + (rng.Float64()-0.5)*0.6 // near rest, where a step stays inside one leg
			}
			course := &m.b.charge
			if hold < m.Voc(s.SoC) {
				course = &m.b.discharge
			}
			if ah, easy := course.easyHold(s.SoC, hold, tC, dtH); easy && ah > 0 {
				common++
			}
			w, a := m.ByVoltage(s, hold, tC, dtH)
			s.CeilingV, s.FloorV = hold, hold
			slowW, slowA := m.b.holdCarefully(course, s, tC, dtH)
			if math.Abs(w-slowW) > 1e-9*(1+math.Abs(slowW)) || math.Abs(a-slowA) > 1e-9*(1+math.Abs(slowA)) {
				t.Fatalf("%v %+v %g V %g C %g h: %g W %g A, careful %g W %g A", c, s, hold, tC, dtH, w, a, slowW, slowA)
			}
		}
	}
	if common < 5000 {
		t.Fatalf("only %d holds were the common case", common)
	}
}
