package convert

import (
	"math"
	"testing"

	"campwright/internal/near"
)

// Estimated current of a held array against 1,500 points of 75 single-diode curves of the independent reference.
func TestHeldCurrent_ReferenceCurves(t *testing.T) {
	var doc struct {
		Cases []struct {
			ID     string
			Module string
			OpenV  float64   `json:"v_oc_v"`
			MPPW   float64   `json:"p_mp_w"`
			MPPV   float64   `json:"v_mp_v"`
			V      []float64 `json:"iv_v"`
			A      []float64 `json:"iv_a"`
		}
	}
	referenceJSON(t, &doc, "oracle", "singlediode.json")
	points, close := 0, 0
	for _, k := range doc.Cases {
		for i, v := range k.V {
			got := HeldCurrent(Held{MPPW: k.MPPW, MPPV: k.MPPV, OpenV: k.OpenV, AtV: v})
			off := (got - k.A[i]) * v / k.MPPW
			points++
			if math.Abs(off) < 0.03 {
				close++
			}
			near.Within(t, k.ID+" "+k.Module+": power off, share of the best", off, -0.0075, 0.13, "what the comment of HeldCurrent states")
		}
	}
	if points < 1500 {
		t.Fatalf("only %d points", points)
	}
	near.Within(t, "share of points within 3 %", float64(close)/float64(points), 0.95, 1, "what the comment of HeldCurrent states")
}

// Identities of the estimate: the best point itself, stationary power there, no current at open circuit.
func TestHeldCurrent_Identities(t *testing.T) {
	for _, open := range []float64{19, 22, 30, 37.5} {
		h := Held{MPPW: 200, MPPV: 18, OpenV: open, AtV: 18}
		near.Rel(t, "current at the best point", HeldCurrent(h), 200.0/18, 1e-12, "identity")
		power := func(v float64) float64 { h.AtV = v; return v * HeldCurrent(h) }
		if open < 36 {
			if power(17.9) > 200 || power(18.1) > 200 {
				t.Errorf("open %v: power beside the best point above it: %v, %v", open, power(17.9), power(18.1))
			}
			near.Abs(t, "slope of power", (power(18.001)-power(17.999))/0.002, 0, 0.01, "stationary, by differences")
		}
		h.AtV = open
		near.Abs(t, "current at open circuit", HeldCurrent(h), 0, 0, "identity")
	}
	for _, open := range []float64{18.9, 22, 27, 35} { // a second way: the equation of u by halving, not by Newton
		low, high := 1e-6, 60.0
		for range 200 {
			if u := (low + high) / 2; math.Exp(u)-1 < u*18/(open-18) {
				low = u
			} else {
				high = u
			}
		}
		c := (open - 18) / low
		for _, at := range []float64{10, 17, 18.5} {
			want := 10 - 10*c/18*(math.Exp((at-18)/c)-1)
			near.Rel(t, "root by halving", HeldCurrent(Held{MPPW: 180, MPPV: 18, OpenV: open, AtV: at}), want, 1e-9, "rounding")
		}
	}
	near.Abs(t, "close to open circuit", HeldCurrent(Held{MPPW: 200, MPPV: 18, OpenV: 22, AtV: 22 - 1e-9}), 0, 1e-6, "the curve ends at zero")
	near.Abs(t, "no exponential: the chord", HeldCurrent(Held{MPPW: 180, MPPV: 18, OpenV: 40, AtV: 29}), 5, 1e-12, "half way down from 10 A")
	near.Abs(t, "no exponential: the limit of the curves", HeldCurrent(Held{MPPW: 180, MPPV: 18, OpenV: 36, AtV: 27}), 5, 1e-12, "half way down from 10 A")
	for _, h := range []Held{{}, {MPPW: math.NaN(), MPPV: 18, OpenV: 22, AtV: 20}, {MPPW: 200, MPPV: 18, OpenV: 18, AtV: 15},
		{MPPW: 200, MPPV: 18, OpenV: math.Inf(1), AtV: 15}, {MPPW: 200, MPPV: 18, OpenV: 22, AtV: math.NaN()}} {
		if a := HeldCurrent(h); a != 0 {
			t.Errorf("%+v: %v A, want 0", h, a)
		}
	}
}
