package trip

import (
	"context"
	"testing"

	"campwright/figure"
	"campwright/internal/near"
)

// TestWorkingsComputeAgain re-evaluates every working of an answer from its own printed terms, and holds those of the tanks, which no weather
// touches, against the answer.
func TestWorkingsComputeAgain(t *testing.T) {
	plan, doc := stayCase(t)
	doc.Stores.Fresh = doc.Stores.Propane.Each
	doc.Stores.Fresh.Quantity.Base = 150
	f, err := NewForecast(plan, Options{Members: 20})
	if err != nil {
		t.Fatal(err)
	}
	a, err := f.Answer(context.Background(), &doc, nil)
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, s := range a.Stores {
		if s.Lasts.Working == nil {
			if !s.AtLeast {
				t.Logf("%s has no working: only weather ends it", s.Store)
			}
			continue
		}
		got, err := figure.Evaluate(s.Lasts.Working.Formula, s.Lasts.Working.Terms)
		if err != nil {
			t.Errorf("%s: %v", s.Store, err)
			continue
		}
		seen++
		if s.Store == "fresh water" {
			near.Within(t, "hours of water by the working", got, s.Lasts.Low, s.Lasts.High, "the range of the answer holds its own nominal")
		}
	}
	if seen < 2 {
		t.Fatalf("only %d workings were computed again", seen)
	}
}
