package trip

import (
	"context"
	"math"
	"testing"

	"campwright/internal/near"
	"campwright/system"
)

// TestSwiftTwin holds the swift run of each member against the booked run in the same weather with the same draw of guesses: the daily lows
// must agree, with an engine, a generator and a hookup in the stay too.
func TestSwiftTwin(t *testing.T) {
	plan, doc := stayCase(t)
	f, err := NewForecast(plan, Options{Members: 12})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.Answer(context.Background(), &doc, nil); err != nil {
		t.Fatal(err)
	}
	kit, err := system.NewKit(&doc)
	if err != nil {
		t.Fatal(err)
	}
	guesses := guessesOf(&doc, f.plan.Sites)
	paths := make([]string, len(guesses))
	for i, g := range guesses {
		paths[i] = g.At.Path
	}
	draws := shares(paths, f.members, f.seed)
	worst, mean, n := near.Worst{What: "daily low"}, 0.0, 0
	lowest := 1.0
	for m := range f.members {
		sys, err := kit.Assemble(memberDraw(draws, m), 5)
		if err != nil {
			t.Fatal(err)
		}
		swiftly := outcome{lows: make([]float32, len(f.course.Days)), gas: make([]float32, len(f.course.Days))}
		newSwift(sys, f.course, newSchedule(sys, f.course), true).run(f.kept.of[m].potW, f.kept.of[m].alsoW, f.kept.of[m].airC, &swiftly)
		booked := f.book(t, sys, m, draws)
		for d := range booked.Days {
			worst.See(float64(swiftly.lows[d]), booked.Days[d].LowSoC, f.course.Days[d].Evening.Format("2 Jan"))
			mean += float64(swiftly.lows[d]) - booked.Days[d].LowSoC
			n++
			lowest = math.Min(lowest, booked.Days[d].LowSoC)
		}
	}
	if n != 12*30 {
		t.Fatalf("compared %d days", n)
	}
	if lowest > 0.5 {
		t.Errorf("the bank stayed above %.2f: the case is too easy to tell anything", lowest)
	}
	t.Logf("worst daily low off by %.4f (%s), mean %.5f, lowest %.3f", worst.Off, worst.Place, mean/float64(n), lowest)
	near.Abs(t, "worst daily low, "+worst.Place, worst.Off, 0, 0.03, "limits of current at one voltage, and no float stage")
	near.Abs(t, "mean daily low", mean/float64(n), 0, 0.005, "the differences must not lean to one side")
}

// book plays one member with every watt booked.
func (f *Forecast) book(t *testing.T, sys *system.System, m int, draws map[string][]float64) *Run {
	t.Helper()
	w := &worker{f: f}
	w.grow(sys)
	r := newRunner(sys, f.course, true)
	all := Weather{AirC: make([]float64, f.course.N), GHI: make([]float64, f.course.N)}
	for s := range f.places {
		if err := w.weather(s, m, draws); err != nil {
			t.Fatal(err)
		}
		w.offersAt(sys, s, m, draws)
		lead := f.course.Spans[s].Lead - f.course.From[s]
		for i := f.course.From[s]; i < f.course.From[s+1]; i++ {
			all.AirC[i], all.GHI[i] = w.air[s][i+lead], w.lights[s].GHI[i+lead]
		}
	}
	copy(r.offers, w.offers)
	for a := range r.offers {
		r.offers[a].openBy = sys.Arrays[a].OpenRatio
	}
	return r.run(all)
}
