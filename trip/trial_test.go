package trip

import (
	"context"
	"math"
	"slices"
	"testing"

	"campwright/rig"
	"campwright/system"
)

// The runs that a trial picks have the answer's own range, figure by figure, for every store; so no line of advice says of the rig as it is what the
// headline does not.
func TestTrial_StandsForAll(t *testing.T) {
	for _, members := range []int{20, 41, 60, 97, 200} {
		f, doc := stayForecast(t, members)
		kit, err := system.NewKit(&doc)
		if err != nil {
			t.Fatal(err)
		}
		runs, _, draws, err := f.play(context.Background(), &doc, kit, nil)
		if err != nil {
			t.Fatal(err)
		}
		tr := &trial{f: f, doc: &doc, runs: runs, draws: draws}
		seen := 0
		for _, store := range []string{"battery", "propane"} {
			all := f.storeDays(store, runs)
			picked := tr.standing(all)
			if n := len(picked); n > adviceMembers || n < min(members, adviceMembers/2) {
				t.Fatalf("%d of %d picked", n, members)
			}
			twice := slices.Clone(picked)
			slices.Sort(twice)
			if len(slices.Compact(twice)) != len(picked) {
				t.Errorf("%d members, %s: a run is picked twice: %v", members, store, twice)
			}
			again, err := tr.try(context.Background(), &doc, picked, change{})
			if err != nil {
				t.Fatal(err)
			}
			some := f.storeDays(store, again)
			for k, m := range picked {
				if some[k] != all[m] {
					t.Errorf("%d members, %s: run %d tried unchanged lasts %v, was %v", members, store, m, some[k], all[m])
				}
			}
			for _, share := range []float64{0.05, 0.5, 0.95} {
				if got, want := quantile(some, share), quantile(all, share); got != want && math.Abs(got-want) > 1e-9 {
					t.Errorf("%d members, %s: at %.0f %% the picked runs say %v, all say %v", members, store, 100*share, got, want)
				}
				seen++
			}
		}
		if seen != 6 {
			t.Fatalf("%d places compared", seen)
		}
	}
}

// stayForecast is the stay of the benchmarks in so many runs.
func stayForecast(t *testing.T, members int) (*Forecast, rig.Rig) {
	t.Helper()
	plan, doc := stayCase(t)
	f, err := NewForecast(plan, Options{Members: members, StepMin: 30})
	if err != nil {
		t.Fatal(err)
	}
	return f, doc
}
