package load_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"campwright/internal/near"
	"campwright/load"
)

func schedule(t testing.TB, p load.ScheduleParams) load.Schedule {
	t.Helper()
	s, err := load.NewSchedule(p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func plain(t testing.TB, p load.PlainParams) load.Plain {
	t.Helper()
	if p.Count == 0 {
		p.Count = 1
	}
	if p.PowerFactor == 0 {
		p.PowerFactor = 1
	}
	a, err := load.NewPlain(p)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// wholeDay sums a column in Wh; the last step may be short.
func wholeDay(dst []float64, stepMin int) float64 {
	wh := 0.0
	for i, w := range dst {
		wh += w * math.Min(float64(stepMin), 1440-float64(i*stepMin)) / 60
	}
	return wh
}

// The energy of a day is the same for every step from 1 to 60 minutes, and is what counting minute by minute gives.
func TestColumn_AnyStepSameDay(t *testing.T) {
	const seed = 11
	rng := rand.New(rand.NewPCG(seed, seed))
	compared := 0
	for trial := range 60 {
		var p load.ScheduleParams
		p.When = []load.When{load.Always, load.Never, load.Night, load.Light, load.Hours, load.Hours, load.Hours}[trial%7]
		scheduled := [1440]bool{}
		sun := load.Sun{Rise: float64(rng.IntN(1440)), Set: float64(rng.IntN(1440))}
		mark := func(from, to int) {
			for m := from; m != to; m = (m + 1) % 1440 {
				scheduled[m] = true
			}
		}
		switch p.When {
		case load.Always:
			scheduled[0] = true
			mark(1, 0)
		case load.Light:
			mark(int(sun.Rise), int(sun.Set))
		case load.Night:
			mark(int(sun.Set), int(sun.Rise))
		case load.Hours:
			for range 1 + rng.IntN(4) {
				from, to := rng.IntN(1440), rng.IntN(1440)
				if from == to {
					continue
				}
				p.Spans = append(p.Spans, load.Span{From: float64(from), To: float64(to)})
				mark(from, to)
			}
			if len(p.Spans) == 0 {
				continue
			}
		}
		minutes := 0.0
		for _, on := range scheduled {
			if on {
				minutes++
			}
		}
		if trial%3 == 0 {
			p.PerDayMin = float64(rng.IntN(300))
		}
		a := plain(t, load.PlainParams{RunningW: 120, Duty: 0.3, StandbyW: 2, Count: 3, Schedule: schedule(t, p)})
		running := minutes
		if p.PerDayMin > 0 {
			running = math.Min(minutes, p.PerDayMin)
		}
		want := 3 * (24*2 + running/60*0.3*(120-2))
		near.Rel(t, "day", a.DailyWh(sun), want, 1e-12, "counted minute by minute")
		for stepMin := 1; stepMin <= 60; stepMin++ {
			dst := make([]float64, load.Steps(stepMin))
			if err := a.Column(dst, stepMin, sun); err != nil {
				t.Fatal(err)
			}
			near.Rel(t, "sum of steps", wholeDay(dst, stepMin), want, 1e-12, "exact shares")
			if stepMin == 1 {
				for m, w := range dst {
					if on := w > 6.001; on != (scheduled[m] && running > 0) {
						t.Fatalf("seed %d trial %d minute %d: %g W, scheduled %v", seed, trial, m, w, scheduled[m])
					}
				}
			}
			compared++
		}
	}
	if compared < 3000 {
		t.Fatalf("compared only %d columns", compared)
	}
}

func TestSchedule_SunAndEdges(t *testing.T) {
	day := schedule(t, load.ScheduleParams{When: load.Light})
	night := schedule(t, load.ScheduleParams{When: load.Night})
	for _, sun := range []load.Sun{{Rise: 360, Set: 1080}, {Rise: 300, Set: 20}, {Rise: 1430, Set: 700}, {Up: true}, {Down: true}, {Rise: -30, Set: 1470}} {
		near.Abs(t, "day and night", day.Minutes(sun)+night.Minutes(sun), 1440, 1e-9, "identity")
	}
	near.Abs(t, "sun that does not set", day.Minutes(load.Sun{Up: true}), 1440, 0, "always light")
	near.Abs(t, "sun that does not rise", day.Minutes(load.Sun{Down: true}), 0, 0, "always dark")
	past := schedule(t, load.ScheduleParams{When: load.Hours, Spans: []load.Span{{From: 1320, To: 420}}})
	near.Abs(t, "22:00 to 07:00", past.Minutes(load.Sun{}), 540, 0, "nine hours")
	dst := make([]float64, 24)
	if err := past.AddShares(dst, 60, load.Sun{}, 1); err != nil {
		t.Fatal(err)
	}
	if dst[21] != 0 || dst[22] != 1 || dst[0] != 1 || dst[6] != 1 || dst[7] != 0 {
		t.Errorf("past midnight: %v", dst)
	}
	half := schedule(t, load.ScheduleParams{When: load.Hours, Spans: []load.Span{{From: 90, To: 105}}})
	dst = make([]float64, 24)
	if err := half.AddShares(dst, 60, load.Sun{}, 1); err != nil {
		t.Fatal(err)
	}
	near.Abs(t, "a quarter of the second hour", dst[1], 0.25, 1e-15, "15 of 60 minutes")
	if err := half.AddShares(make([]float64, 23), 60, load.Sun{}, 1); err == nil {
		t.Error("a day of 23 hours was accepted")
	}
	for _, step := range []int{0, -5, 61} {
		if err := half.AddShares(make([]float64, 24), step, load.Sun{}, 1); err == nil {
			t.Errorf("a step of %d minutes was accepted", step)
		}
	}
	refused := 0
	for _, p := range []load.ScheduleParams{{}, {When: 9}, {When: load.Hours}, {When: load.Always, Spans: []load.Span{{From: 1, To: 2}}}, {When: load.Always, PerDayMin: 1441},
		{When: load.Always, PerDayMin: math.NaN()}, {When: load.Hours, Spans: []load.Span{{From: -1, To: 5}}}, {When: load.Hours, Spans: []load.Span{{From: 0, To: math.Inf(1)}}}} {
		if _, err := load.NewSchedule(p); err == nil {
			t.Errorf("accepted %+v", p)
		} else {
			refused++
		}
	}
	if refused != 8 {
		t.Errorf("%d refused", refused)
	}
	if _, err := load.NewPlain(load.PlainParams{RunningW: 5, Duty: 1, Count: 1, PowerFactor: 1}); err == nil {
		t.Error("an appliance without a schedule was accepted")
	}
}
