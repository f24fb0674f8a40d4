package convert

import (
	"fmt"
	"math"
	"testing"

	"campwright/internal/near"
)

// Identities of the curve: the peak is where and what was asked, input and output invert each other, fixed equals quadratic there.
func TestFitCurve_PeakAndInverse(t *testing.T) {
	tried := 0
	for _, rated := range []float64{20, 300, 2000, 12000} {
		for _, peak := range []float64{0.6, 0.85, 0.97, 1} {
			for _, c := range []Curve{FlatCurve(), TypicalCurve(), {PeakAt: 0.3, FixedShare: 0.5}, {PeakAt: 1, FixedShare: 0.1}} {
				l, err := FitCurve(rated, peak, c)
				if err != nil {
					t.Fatal(err)
				}
				near.Rel(t, "efficiency at the peak", l.Efficiency(c.PeakAt*rated), peak, 1e-12, "definition")
				for share := 0.001; share < 1.5; share *= 1.3 {
					tried++
					out := share * rated
					near.Rel(t, "output from input", l.Out(l.In(out)), out, 1e-11, "inverse, rounding")
					if e := l.Efficiency(out); e > peak*(1+1e-12) {
						t.Errorf("efficiency %.9g above peak %.9g at share %.3g", e, peak, share)
					}
				}
				if c.FixedShare > 0 && peak < 1 {
					at, eff := l.Peak()
					near.Rel(t, "place of the peak", at, c.PeakAt*rated, 1e-12, "definition")
					near.Rel(t, "height of the peak", eff, peak, 1e-12, "definition")
				}
			}
		}
	}
	if tried < 1000 {
		t.Fatalf("only %d points tried", tried)
	}
}

func TestFitCurve_Refuses(t *testing.T) {
	bad := []struct {
		rated, peak float64
		c           Curve
	}{
		{0, 0.9, TypicalCurve()}, {1e8, 0.9, TypicalCurve()}, {100, 0, TypicalCurve()}, {100, 1.0001, TypicalCurve()},
		{100, 0.9, Curve{0, 0.2}}, {100, 0.9, Curve{1.01, 0.2}}, {100, 0.9, Curve{0.5, -0.01}}, {100, 0.9, Curve{0.5, 0.51}},
		{math.NaN(), 0.9, TypicalCurve()}, {math.Inf(1), 0.9, TypicalCurve()}, {100, math.NaN(), TypicalCurve()},
	}
	for i, b := range bad {
		if l, err := FitCurve(b.rated, b.peak, b.c); err == nil || l != (Loss{}) {
			t.Errorf("case %d: %+v accepted as %+v", i, b, l)
		}
	}
	if _, err := FitCurve(100, 1, Curve{1, 0.5}); err != nil {
		t.Errorf("values at their limits refused: %v", err)
	}
}

func TestLoss_Edges(t *testing.T) {
	l := Loss{FixedW: 20, PerW: 0.055, PerWSqr: 3e-5}
	for _, in := range []float64{-5, 0, 20, math.NaN()} {
		if out := l.Out(in); out != 0 {
			t.Errorf("output %v from input %v, want 0", out, in)
		}
	}
	for _, huge := range []float64{1e30, 1e200, Unlimited, math.Inf(1)} {
		steep := Loss{FixedW: 1, PerWSqr: 0.5}
		for _, got := range []float64{steep.At(huge), steep.In(huge), steep.Out(huge), steep.Out(-huge)} {
			if math.IsNaN(got) || math.IsInf(got, 0) {
				t.Errorf("%v W gave %v", huge, got)
			}
		}
	}
	near.Abs(t, "loss below zero output", l.At(-10), 20, 0, "counts as zero")
	near.Abs(t, "efficiency of nothing", l.Efficiency(0), 0, 0, "defined so")
	if l.Out(20.000001) <= 0 {
		t.Error("nothing out just above the fixed loss")
	}
}

func ExampleFitCurve() {
	l, err := FitCurve(680, 0.97, TypicalCurve()) // a 50 A controller on a 13.6 V bank
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, w := range []float64{34, 340, 680} {
		fmt.Printf("%3.0f W out: %.1f W lost, %.1f %%\n", w, l.At(w), 100*l.Efficiency(w))
	}
	// Output:
	//  34 W out: 3.2 W lost, 91.4 %
	// 340 W out: 10.5 W lost, 97.0 %
	// 680 W out: 23.7 W lost, 96.6 %
}
