package climate

import (
	"math"
	"testing"

	"campwright/internal/near"
)

// The first numbers of SplitMix64 from the seed 1234567, from memory of the published test vector of that generator; each is the mixing
// step of the seed and so many increments.
func TestMix_STEELE(t *testing.T) {
	want := []uint64{6457827717110365317, 3203168211198807973, 9817491932198370423, 4593380528125082431, 16408922859458223821}
	state := uint64(1234567)
	for i, w := range want {
		state += golden
		if got := mix(state); got != w {
			t.Errorf("number %d: got %d, want %d", i, got, w)
		}
	}
}

// Quantiles of the standard normal distribution as tables print them.
func TestQuantile(t *testing.T) {
	for _, c := range []struct{ p, z float64 }{{0.5, 0}, {0.9, 1.281552}, {0.95, 1.644854}, {0.975, 1.959964}, {0.995, 2.575829}, {0.0013498980316, -3}} {
		near.Printed(t, "quantile", quantile(c.p), c.z, 6, "tables of the normal distribution")
	}
	for _, h := range []uint64{0, 1, math.MaxUint64} {
		if z := normal(h); math.IsInf(z, 0) || math.IsNaN(z) || math.Abs(z) > 9 {
			t.Errorf("normal(%d) is %v", h, z)
		}
	}
}

// Keys that differ in one place give unrelated numbers: members, dates, cells, purposes and seeds.
func TestKeysAreIndependent(t *testing.T) {
	const n = 20000
	limit := 4 / math.Sqrt(n)
	base := []uint64{1, 2, 3, 4}
	for place := range base {
		sum, sum2, cross, bits := 0.0, 0.0, 0.0, 0
		var last float64
		for i := range n {
			k := append([]uint64(nil), base...)
			k[place] += uint64(i)
			h := key(k...)
			z := normal(h)
			sum += z
			sum2 += z * z
			cross += z * last
			last = z
			bits += int(h >> 63)
		}
		near.Abs(t, "mean", sum/n, 0, limit, "four standard errors")
		near.Abs(t, "variance", sum2/n, 1, limit*math.Sqrt2, "four standard errors")
		near.Abs(t, "correlation of neighbours", cross/n, 0, limit, "four standard errors")
		near.Abs(t, "top bit", float64(bits)/n, 0.5, limit/2, "four standard errors")
	}
	if key(1, 2) == key(2, 1) || key(1) == key(1, 0) {
		t.Error("order or length of the words does not matter to the key")
	}
}

// A chain has variance one and falls off by its correlation from day to day: sums of the weights, exactly.
func TestChain(t *testing.T) {
	for _, phi := range []float64{clearnessPersistence, temperaturePersistence} {
		c := newChain(phi)
		if len(c.weights) > most {
			t.Fatalf("chain of %d, room for %d", len(c.weights), most)
		}
		for lag := range 4 {
			sum := 0.0
			for i := lag; i < len(c.weights); i++ {
				sum += c.weights[i] * c.weights[i-lag]
			}
			near.Abs(t, "correlation", sum, math.Pow(phi, float64(lag)), 1e-4, "the cut of the chain")
		}
		independent := make([]float64, len(c.weights))
		independent[len(independent)-2] = 1
		near.Abs(t, "yesterday's weight", c.at(independent, len(independent)-1), c.weights[1], 0, "identity")
	}
}
