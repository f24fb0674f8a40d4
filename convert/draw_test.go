package convert

import (
	"flag"
	"math/rand/v2"
	"testing"
)

var seed = flag.Uint64("seed", 1, "seed of the drawn cases; a failure prints the one in use")

// draw makes the values of one drawn case.
type draw struct{ *rand.Rand }

// draws runs a property over n cases, each from its own stream, and names seed and case when it fails.
func draws(t *testing.T, n int, property func(d draw)) {
	t.Helper()
	for i := range n {
		at := i
		func() {
			defer func() {
				if t.Failed() {
					t.Logf("seed %d, case %d", *seed, at)
				}
			}()
			property(draw{rand.New(rand.NewPCG(*seed, uint64(i)))})
		}()
		if t.Failed() {
			t.FailNow()
		}
	}
}

// between returns a number from low to high; one time in ten, an end.
func (d draw) between(low, high float64) float64 {
	switch d.IntN(20) {
	case 0:
		return low
	case 1:
		return high
	}
	return low + (high-low)*d.Float64()
}

// yes returns true half of the time.
func (d draw) yes() bool { return d.IntN(2) == 0 }

// pick returns one of the values.
func pick[T any](d draw, values ...T) T { return values[d.IntN(len(values))] }
