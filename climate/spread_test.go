package climate

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"campwright/internal/near"
)

// The clearest day by [BENDT]'s formula, worked by hand: at 0.75 the last term is zero, 0.6313 + 0.20025; at 0.25 it is 11.9/256.
func TestClearestDay(t *testing.T) {
	near.Abs(t, "at 0.75", clearestDay(0.75), 0.83155, 1e-12, "by hand")
	near.Abs(t, "at 0.25", clearestDay(0.25), 0.6313+0.06675-11.9/256, 1e-12, "by hand")
}

// Spread of the exponential distribution against sums over its density.
func TestBendtSpread(t *testing.T) {
	for mean := 0.1; mean < 0.79; mean += 0.03 {
		place, sd := bendt(mean)
		// Find the density's exponent again from the mean, by sums.
		moments := func(g float64) (m, v float64) {
			const n = 20000
			w := 0.0
			for i := range n {
				x := (float64(i) + 0.5) / n
				p := math.Exp(g * (x - 1))
				w += p
				m += p * x
				v += p * x * x
			}
			m /= w
			return m, v/w - m*m
		}
		low, high := -60.0, 60.0
		for range 30 {
			if m, _ := moments((low + high) / 2); m < place {
				low = (low + high) / 2
			} else {
				high = (low + high) / 2
			}
		}
		_, v := moments((low + high) / 2)
		near.Rel(t, "standard deviation", sd, math.Sqrt(v), 1e-3, "sums over the density")
	}
	near.Abs(t, "variance of an even spread", exponentialVariance(0), 1.0/12, 1e-12, "uniform distribution")
	near.Rel(t, "variance across the series", exponentialVariance(0.00999), exponentialVariance(0.01001), 1e-5, "both forms meet")
	near.Abs(t, "mean across the series", exponentialMean(0.99e-4), exponentialMean(1.01e-4), 1e-6, "both forms meet")
}

// The table of daily clearness against the beta distribution of a general library, and its mean against the mean asked for.
func TestDaysAgainstBeta(t *testing.T) {
	d := newDays()
	checked := 0
	for _, mean := range []float64{0.10, 0.2, 0.3, 0.41, 0.5, 0.6, 0.7, 0.78} {
		place, sd := bendt(mean)
		n := place*(1-place)/(sd*sd) - 1
		beta := distuv.Beta{Alpha: place * n, Beta: (1 - place) * n}
		sum, weight := 0.0, 0.0
		for z := -4.0; z <= 4; z += 0.01 {
			p := math.Exp(-z * z / 2)
			sum += p * d.at(mean, z)
			weight += p
		}
		near.Rel(t, "mean clearness", sum/weight, mean, 0.002, "slices and straight lines of the table")
		for _, z := range []float64{-3, -2, -1, -0.33, 0, 0.5, 1, 2, 3} {
			want := leastDay + (clearestDay(mean)-leastDay)*beta.Quantile(0.5*math.Erfc(-z/math.Sqrt2))
			near.Abs(t, "day", d.at(mean, z), want, 0.002, "slices and straight lines of the table")
			checked++
		}
	}
	if checked != 72 {
		t.Fatalf("checked %d", checked)
	}
	near.Abs(t, "score beyond the table", d.at(0.5, 9), d.at(0.5, 4.5), 1e-3, "held")
	near.Abs(t, "mean beyond the table", d.at(0.9, 0), d.at(0.8, 0), 1e-3, "held")
}

func BenchmarkNewDays(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		newDays()
	}
}
