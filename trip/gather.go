package trip

import (
	"errors"
	"math"
	"slices"
	"strings"
	"sync"
	"time"

	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// assemble makes the answer out of what the members told. The typical run and the poor one are booked at once.
func (f *Forecast) assemble(doc *rig.Rig, kit *system.Kit, guesses []rig.Value, draws map[string][]float64, runs []memberRun, withPoor bool) (Answer, error) {
	sys, m, err := f.typical(kit, runs)
	if err != nil {
		return Answer{}, err
	}
	var poor *Poor
	var failed error
	var wait sync.WaitGroup
	if withPoor {
		wait.Go(func() {
			one, err := f.poorOf(kit, draws, runs)
			poor, failed = &one, err
		})
	}
	run, err := f.booked(sys, m, nil)
	wait.Wait()
	if err != nil || failed != nil {
		return Answer{}, errors.Join(err, failed)
	}
	plan := f.plan
	plan.Rig = *doc
	a := Answer{Rig: doc.Name, Basis: basisOf(plan, f.course)}
	a.Basis.Members, a.Basis.Seed = f.members, f.seed
	a.Basis.Weather = f.places[0].climate.Source
	a.fill(run)
	a.Stores = f.stores(run, runs)
	explain(a.Stores, run)
	f.bands(a.Days, runs)
	a.Nights = f.nights(run, runs)
	a.Power = f.power(doc, runs)
	target, _ := f.target(runs)
	a.Guesses = widest(guesses, draws, target)
	sunny := len(run.System.Arrays) > 0
	a.climateRemarks = f.placeRemarks(sunny)
	a.frozen = frozen(run)
	a.remark(emptying(run), starved(run), a.frozen, a.climateRemarks, leftOn(doc, run), noVehicle(doc), f.remarks(a, doc, guesses, sunny))
	a.Sentence = a.sentence()
	a.Poor = poor
	return a, nil
}

// ends returns, for every member, the days after which a store ended; +Inf for one that outlasts the stay.
func (f *Forecast) ends(runs []memberRun, step func(*memberRun) int) []float64 {
	out := make([]float64, len(runs))
	for m := range runs {
		out[m] = math.Inf(1)
		if i := step(&runs[m]); i >= 0 {
			out[m] = float64(i+1) * f.course.StepH / 24
		}
	}
	return out
}

// stores returns how long each store lasts over all members, the soonest end first.
func (f *Forecast) stores(run *Run, runs []memberRun) []StoreEnd {
	stay := float64(f.course.N) * f.course.StepH / 24
	list := storesOf(run)
	for k := range list {
		s := &list[k]
		var days []float64
		switch s.Store {
		case "battery":
			days = f.ends(runs, func(r *memberRun) int { return r.below })
		case "propane":
			days = f.gasDays(runs)
		case "generator fuel": // hangs on the hours of the itinerary, the same in every run
			lasts := s.Lasts.Value / 24
			days = eachOf(runs, func(*memberRun) float64 { return lasts })
		default:
			days = f.tankDays(runs, s.Store)
		}
		f.endOf(s, days, stay)
	}
	slices.SortStableFunc(list, func(x, y StoreEnd) int {
		switch a, b := x.order(), y.order(); {
		case a < b:
			return -1
		case a > b:
			return 1
		}
		return y.Chance.Count - x.Chance.Count
	})
	return list
}

// order is what stores are listed by: the day on which they usually end.
func (e StoreEnd) order() float64 {
	if e.AtLeast {
		return math.Inf(1)
	}
	return e.Lasts.Value
}

func eachOf(runs []memberRun, days func(*memberRun) float64) []float64 {
	out := make([]float64, len(runs))
	for m := range runs {
		out[m] = days(&runs[m])
	}
	return out
}

// tankDays returns how long a tank of each member lasts.
func (f *Forecast) tankDays(runs []memberRun, name string) []float64 {
	return eachOf(runs, func(r *memberRun) float64 {
		for _, t := range tanksOf(r.water) {
			if t.name == name {
				days, _ := t.lasts(f.course)
				return days
			}
		}
		return math.Inf(1)
	})
}

// gasDays returns how long the propane of each member lasts: to the step, or, past the stay, at the mean use of the stay.
func (f *Forecast) gasDays(runs []memberRun) []float64 {
	out := f.ends(runs, func(r *memberRun) int { return r.gasOut })
	nights := float64(len(f.course.Days))
	for m := range out {
		if !math.IsInf(out[m], 1) {
			continue
		}
		used := 0.0
		for _, kg := range runs[m].gas {
			used += float64(kg)
		}
		if used > 0 {
			out[m] = nights + runs[m].gasLeft/(used/nights)
		}
	}
	return out
}

// endOf writes the range of a store's end over the members: its median, and the ends of the middle 90 %.
func (f *Forecast) endOf(s *StoreEnd, days []float64, stay float64) {
	count := 0
	for _, d := range days {
		if d <= stay {
			count++
		}
	}
	s.Chance = counted(count, len(days))
	if soonest := slices.Min(days); soonest <= stay {
		s.Soonest = 24 * soonest
	}
	low, mid, high := quantile(days, 0.05), quantile(days, 0.5), quantile(days, 0.95)
	s.AtLeast = math.IsInf(mid, 1)
	s.Reached = mid <= stay
	s.Text = rangeText(low, high, stay)
	s.EndsOn = ""
	if !s.AtLeast {
		s.EndsOn = f.course.Start.Add(time.Duration(mid * 24 * float64(time.Hour))).Format("2006-01-02")
	}
	clamp := func(d float64) float64 { return 24 * math.Min(d, math.Max(stay, mid)) }
	if s.AtLeast {
		clamp = func(d float64) float64 { return 24 * math.Min(d, stay) }
	}
	if !math.IsInf(high, 1) {
		clamp = func(d float64) float64 { return 24 * d }
	}
	s.Lasts = figure.Figure{Name: s.Store + " lasts", Value: clamp(mid), Low: clamp(low), High: clamp(high), Kind: quantity.Duration, State: figure.About, Source: "trip"}
}

// rangeText writes a range of days as people say it.
func rangeText(low, high, stay float64) string {
	switch {
	case math.IsInf(low, 1):
		return "more than the stay"
	case math.IsInf(high, 1):
		return dayCount(low) + " to more than the stay"
	case dayCount(low) == dayCount(high):
		return dayCount(low)
	}
	from, to := dayCount(low), dayCount(high)
	if strings.HasSuffix(from, " days") && strings.HasSuffix(to, " days") {
		from = strings.TrimSuffix(from, " days")
	}
	return from + " to " + to
}

// bands writes the band of the daily low over all members into the days.
func (f *Forecast) bands(days []Day, runs []memberRun) {
	lows := make([]float64, len(runs))
	for d := range days {
		for m := range runs {
			lows[m] = float64(runs[m].lows[d])
		}
		days[d].BandLow, days[d].BandHigh = quantile(lows, 0.05), quantile(lows, 0.95)
	}
}

// target is what the guesses are ranked by: the days to the battery's floor where it is reached in enough members to tell, otherwise the
// lowest charge of the stay.
func (f *Forecast) target(runs []memberRun) (values []float64, words string) {
	stay := float64(f.course.N) * f.course.StepH / 24
	days := f.ends(runs, func(r *memberRun) int { return r.below })
	reached := 0
	for m := range days {
		if !math.IsInf(days[m], 1) {
			reached++
		}
		days[m] = math.Min(days[m], stay)
	}
	if reached >= len(runs)/5 {
		return days, "how long the battery lasts"
	}
	return eachOf(runs, func(r *memberRun) float64 { return r.minSoC }), "how low the battery goes"
}
