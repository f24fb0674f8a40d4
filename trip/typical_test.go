package trip_test

import (
	"math"
	"testing"
)

// TestTypical: the typical run is one of the runs, not a better one. The band holds nine nights in ten of all runs by its meaning, so that of the nights
// of a run in their middle no fewer should lie in it; and it breaks the floor within the span in which nine runs in ten do.
func TestTypical(t *testing.T) {
	const twins = 0.005 // the band is of the fast twin, the typical run of the booked one
	inside, nights, broke := 0, 0, 0
	for _, file := range []string{"s1-desert-winter.yaml", "s3-northern-october.yaml"} {
		s := openScene(t, file)
		a := s.ask()
		in := 0
		for _, d := range a.Days {
			nights++
			if d.LowSoC >= d.BandLow-twins && d.LowSoC <= d.BandHigh+twins {
				in++
			}
		}
		inside += in
		if 10*in < 7*len(a.Days) {
			t.Errorf("%s: %d of %d nights of the typical run lie in the band", file, in, len(a.Days))
		}
		for _, e := range a.Stores {
			if e.Store != "battery" {
				continue
			}
			first := math.Inf(1)
			for i, d := range a.Days {
				if d.LowSoC < a.Nights.Floor {
					first = float64(i)
					break
				}
			}
			if span := lasts(t, a, "battery"); !math.IsInf(first, 1) {
				broke++
				if first < span.low-1 || first > span.high {
					t.Errorf("%s: the typical run breaks the floor on day %.0f, nine runs in ten between %.1f and %.1f", file, first, span.low, span.high)
				}
			}
		}
	}
	if nights < 20 || 10*inside < 9*nights || broke == 0 {
		t.Errorf("%d of %d nights in the band, %d rigs that break the floor", inside, nights, broke)
	}
}
