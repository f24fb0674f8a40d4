package trip

import (
	"cmp"
	"context"
	"math"
	"slices"

	"campwright/rig"
	"campwright/system"
)

// adviceMembers is how many runs a thing that could be done is tried in.
const adviceMembers = 40

// placesRepeat is the number of runs after which the places of a median and of the ends of a middle 90 % lie in the same way between two runs.
const placesRepeat = 20

// trial tries out changes of a rig in some of the runs that its answer rests on: in the same weathers, with the same draws of what is guessed. What
// comes of a change can so be held against the answer itself.
type trial struct {
	f     *Forecast
	doc   *rig.Rig
	sys   *system.System // with every guess at its nominal
	runs  []memberRun    // of the answer
	draws map[string][]float64
}

// standing picks runs that stand for all of an answer's: with the runs in the order in which a store ends, a picked run stands at each place from which
// the median and the ends of the middle 90 % are read, and the others evenly between. The picked runs' range is so the answer's own, figure by figure.
func (t *trial) standing(days []float64) []int {
	order := make([]int, len(t.runs))
	for m := range order {
		order[m] = m
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if by := cmp.Compare(days[a], days[b]); by != 0 {
			return by
		}
		return cmp.Compare(t.runs[a].minSoC, t.runs[b].minSoC)
	})
	n := len(order)
	if n <= adviceMembers {
		return order
	}
	n = adviceMembers - (adviceMembers-n%placesRepeat)%placesRepeat // as many as read their places like all do
	picked := make([]int, n)
	from, at := 0, 0 // the last place that is held: number among the picked, place in the order
	hold := func(k, place int) {
		for i := from + 1; i < k; i++ {
			picked[i] = order[at+(i-from)*(place-at)/(k-from)]
		}
		picked[k] = order[place]
		from, at = k, place
	}
	hold(0, 0)
	for _, share := range [...]float64{0.05, 0.5, 0.95} {
		k, place := int(share*float64(n-1)), int(share*float64(len(order)-1))
		hold(k, place)
		hold(k+1, place+1)
	}
	if from < n-1 {
		hold(n-1, len(order)-1)
	}
	return picked
}

// change is what a trial changes besides the document.
type change struct {
	sites func(*Site)     // of every site
	comes func(*schedule) // of what comes in
	first bool            // only the first night matters: nothing else is played
	since int             // minute of the evening from which outcome.late is taken
}

// try plays picked runs of a changed document. The stay is as it was but for the changes.
func (t *trial) try(ctx context.Context, doc *rig.Rig, members []int, by change) ([]memberRun, error) {
	f := *t.f
	kit, err := system.NewKit(doc)
	if err != nil {
		return nil, err
	}
	nominal, err := kit.Assemble(system.Draw{}, f.course.StepMin)
	if err != nil {
		return nil, err
	}
	course := *f.course
	course.Sites = slices.Clone(course.Sites)
	for i := range course.Sites {
		if by.sites != nil {
			by.sites(&course.Sites[i])
		}
	}
	if by.first {
		course.Days = course.Days[:1]
	}
	f.course = &course
	if key := lightKey(doc); key != f.kept.key {
		lies, err := newPlanes(nominal, &course)
		if err != nil {
			return nil, err
		}
		f.kept = kept{key: key, planes: lies}
	}
	comes := newSchedule(nominal, &course)
	if by.comes != nil {
		by.comes(comes)
		comes.mark(&course)
	}
	runs := make([]memberRun, len(members))
	err = f.each(ctx, len(members), nil, func(w *worker, k int) error {
		m := members[k]
		sys, err := kit.Assemble(memberDraw(t.draws, m), course.StepMin)
		if err != nil {
			return err
		}
		light := columns{}
		if len(f.kept.of) > m {
			light = f.kept.of[m]
		}
		if light.airC == nil {
			if light, err = w.light(sys, m, t.draws); err != nil {
				return err
			}
		}
		out := outcome{lows: make([]float32, len(course.Days)), gas: make([]float32, len(course.Days))}
		s := newSwift(sys, &course, comes, !f.plan.Parked)
		s.since = by.since
		s.run(light.potW, light.alsoW, light.airC, &out)
		runs[k] = memberRun{outcome: out, water: sys.Water, gasStart: sys.Propane.StartKg, floor: sys.Floor}
		return nil
	})
	return runs, err
}

// tallied is what a trial compares.
type tallied struct {
	dark   float64 // share of nights below the floor
	loadWh float64 // a day without AC coming in, asked of the bus by loads
	shedWh float64 // a day, AC that what comes in could not carry
	gasKg  float64 // a day
}

// tally sums runs up.
func (t *trial) tally(runs []memberRun) tallied {
	var sum tallied
	for m := range runs {
		nights := float64(len(runs[m].lows) * len(runs))
		sum.loadWh += 24 * runs[m].loadWh / math.Max(runs[m].offGridH, 1e-9) / float64(len(runs))
		sum.shedWh += runs[m].shedWh / nights
		for d, low := range runs[m].lows {
			if float64(low) < runs[m].floor {
				sum.dark += 1 / nights
			}
			sum.gasKg += float64(runs[m].gas[d]) / nights
		}
	}
	return sum
}

// end returns how long a store lasts in picked runs, in the words of the answer.
func (t *trial) end(store string, runs []memberRun) StoreEnd {
	e := StoreEnd{Store: store}
	t.f.endOf(&e, t.f.storeDays(store, runs), t.f.stay())
	return e
}

// stay is the length of the stay [d].
func (f *Forecast) stay() float64 { return float64(f.course.N) * f.course.StepH / 24 }

// storeDays returns, for every run, the days after which a store ends; +Inf for one that outlasts the stay by more than can be told.
func (f *Forecast) storeDays(store string, runs []memberRun) []float64 {
	switch store {
	case "battery":
		return f.ends(runs, func(r *memberRun) int { return r.below })
	case "propane":
		return f.gasDays(runs)
	}
	return f.tankDays(runs, store)
}
