package trip

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"campwright/internal/near"
	"campwright/quantity"
	"campwright/rig"
)

// TestGuessesByChance asks which of sixty guesses widen an answer that none of them has a part in, many times over: a list may hold one in
// about a twentieth of answers, by definition of the limit. A guess that makes a third of the spread must still be named, first.
func TestGuessesByChance(t *testing.T) {
	const answers, count = 200, 60
	r := rand.New(rand.NewPCG(11, 7))
	var guesses []rig.Value
	var paths []string
	for i := range count {
		v := rig.Value{Quantity: quantity.Quantity{Base: 0.5, Kind: quantity.Share}, High: 1}
		v.At.Path = fmt.Sprint("appliances/", i, "/duty")
		guesses, paths = append(guesses, v), append(paths, v.At.Path)
	}
	for _, members := range []int{40, 60, 200} {
		named, first := 0, 0
		for seed := range uint64(answers) {
			draws := shares(paths, members, seed+1)
			noise, real := make([]float64, members), make([]float64, members)
			for m := range noise {
				noise[m] = r.NormFloat64()
				real[m] = noise[m] + 2.45*(draws[paths[17]][m]-0.5) // a variance of 0.5 beside 1
			}
			if len(widest(guesses, draws, noise)) > 0 {
				named++
			}
			if list := widest(guesses, draws, real); len(list) > 0 && list[0].Path == paths[17] {
				first++
			}
		}
		share := float64(named) / answers
		t.Logf("%d members: a guess that does nothing is named in %.1f %% of answers, one of a third of the spread in %.0f %%", members, 100*share, 100*float64(first)/answers)
		near.Within(t, "answers that name a guess by chance", share, 0, 0.12, "a twentieth, by definition; 200 answers, and few members are a little off chi-squared")
		if members == 200 && first < answers*95/100 {
			t.Errorf("a guess of a third of the spread is named first in %d of %d answers", first, answers)
		}
	}
}
