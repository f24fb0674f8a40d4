package trip

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"campwright/figure"
	"campwright/internal/near"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"

	"gonum.org/v1/gonum/stat/distuv"
)

// TestCounted_ClopperPearson holds the bounds against their definition, by the tail of the binomial itself: at the upper bound no more than
// the count is seen in 5 % of cases, at the lower one no fewer. The rule of three is the closed form for none seen.
func TestCounted_ClopperPearson(t *testing.T) {
	for _, c := range []struct{ count, of int }{{0, 200}, {1, 200}, {10, 100}, {100, 200}, {199, 200}, {200, 200}} {
		got := counted(c.count, c.of)
		if c.count < c.of {
			tail := distuv.Binomial{N: float64(c.of), P: got.High}.CDF(float64(c.count))
			near.Abs(t, fmt.Sprintf("%d of %d, upper", c.count, c.of), tail, 0.05, 1e-6, "definition of the bound")
		}
		if c.count > 0 {
			tail := 1 - distuv.Binomial{N: float64(c.of), P: got.Low}.CDF(float64(c.count-1))
			near.Abs(t, fmt.Sprintf("%d of %d, lower", c.count, c.of), tail, 0.05, 1e-6, "definition of the bound")
		}
	}
	near.Abs(t, "none of 200", counted(0, 200).High, 1-math.Pow(0.05, 1.0/200), 1e-9, "closed form")
	if got := counted(0, 200).Text; got != "0 of 200 runs: under 1.5 %, 95 % sure" {
		t.Errorf("said as %q", got)
	}
}

// TestSharesCoverEvenly checks that each guess has one draw in every stratum, that a guess does not move when another joins, and that two
// guesses do not hang together.
func TestSharesCoverEvenly(t *testing.T) {
	const n = 200
	draws := shares([]string{"a", "b"}, n, 7)
	for path, col := range draws {
		seen := make([]bool, n)
		for _, u := range col {
			if k := int(u * n); k < 0 || k >= n || seen[k] {
				t.Fatalf("%s: stratum %d drawn twice or outside", path, k)
			} else {
				seen[k] = true
			}
		}
	}
	again := shares([]string{"a", "b", "c"}, n, 7)
	for i := range draws["a"] {
		if draws["a"][i] != again["a"][i] {
			t.Fatal("a guess moved when another joined")
		}
	}
	sum := 0.0
	for i := range n {
		sum += (draws["a"][i] - 0.5) * (draws["b"][i] - 0.5)
	}
	near.Abs(t, "correlation of two guesses", 12*sum/n, 0, 3/math.Sqrt(n), "three standard deviations of independent draws")
}

// TestWidestFindsIt feeds a sum with known variance shares: 4 x + 2 y + 1 z of even draws has shares 16/21, 4/21, 1/21.
func TestWidestFindsIt(t *testing.T) {
	const n = 2000
	paths := []string{"appliances/x/power/rate", "appliances/y/power/rate", "appliances/z/power/rate", "appliances/none/power/rate"}
	draws := shares(paths, n, 3)
	target := make([]float64, n)
	noise := rand.New(rand.NewPCG(1, 1))
	for i := range target {
		target[i] = 4*draws[paths[0]][i] + 2*draws[paths[1]][i] + draws[paths[2]][i] + 0*noise.Float64()
	}
	var guesses []rig.Value
	for _, p := range paths {
		v := rig.Value{Quantity: quantity.Quantity{Base: 1, Kind: quantity.Power}, State: figure.About, Low: 0, High: 2}
		v.At.Path = p
		guesses = append(guesses, v)
	}
	list := widest(guesses, draws, target)
	if len(list) != 3 {
		t.Fatalf("found %d guesses that matter, wanted 3: %+v", len(list), list)
	}
	for i, want := range []float64{16.0 / 21, 4.0 / 21, 1.0 / 21} {
		if list[i].Path != paths[i] {
			t.Errorf("place %d is %s", i+1, list[i].Path)
		}
		near.Abs(t, "share of "+list[i].Path, list[i].Share, want, 0.03, "2,000 draws in 10 groups")
	}
	if list[0].Reading == "" {
		t.Error("no reading is named for the widest guess")
	}
}

// TestQuantileOfGuess holds the triangle and the even spread against their distribution functions.
func TestQuantileOfGuess(t *testing.T) {
	v := rig.Value{Quantity: quantity.Quantity{Base: 3}, State: figure.About, Low: 1, High: 9}
	near.Abs(t, "at its peak", system.Quantile(v, (3.0-1)/(9-1)), 3, 1e-12, "the share below the peak of a triangle")
	near.Abs(t, "ends", system.Quantile(v, 0)+system.Quantile(v, 1), 10, 1e-12, "the ends")
	for _, u := range []float64{0.1, 0.5, 0.9} {
		x := system.Quantile(v, u)
		f := (x - 1) * (x - 1) / (8 * 2)
		if x > 3 {
			f = 1 - (9-x)*(9-x)/(8*6)
		}
		near.Abs(t, fmt.Sprintf("share below the value at %g", u), f, u, 1e-12, "distribution function of the triangle")
	}
	v.State = figure.Unknown
	near.Abs(t, "an unknown is spread evenly", system.Quantile(v, 0.25), 3, 1e-12, "even spread")
	v.State = figure.Measured
	if system.IsGuess(v) {
		t.Error("a measured value was taken for a guess")
	}
}

// TestPercent: a chance that is not nothing is never told as 0.0 %, nor one that is not certain as 100 %.
func TestPercent(t *testing.T) {
	for share, want := range map[float64]string{
		0: "0 %", 1: "100 %", 0.5: "50 %", 0.031: "3.1 %", 0.0004: "0.04 %", 0.00049: "0.05 %", 0.0005: "0.1 %", 0.000003: "0.0003 %", 0.994: "99.4 %", 0.9996: "over 99.9 %",
	} {
		if got := percent(share); got != want {
			t.Errorf("%v: %q, wanted %q", share, got, want)
		}
	}
}
