package trip

import (
	"context"
	"math"
	"slices"

	"campwright/system"
)

// typicals is how many weathers are tried for the typical run: spread evenly over the members in the order of their sun, without the outermost.
const typicals = 16

// typical returns the system with every guess at its nominal, and the member whose weather brings it about closest to the middle of all runs.
func (f *Forecast) typical(kit *system.Kit, runs []memberRun) (*system.System, int, error) {
	sys, err := kit.Assemble(system.Draw{}, f.course.StepMin)
	if err != nil {
		return nil, 0, err
	}
	m, err := f.middle(sys, runs)
	return sys, m, err
}

// booked plays a system in one member's weather with every watt booked; draws are what its guesses about the sky are drawn from, nil for nominal.
func (f *Forecast) booked(sys *system.System, m int, draws map[string][]float64) (*Run, error) {
	c := f.course
	w := Weather{GHI: make([]float64, c.N), DNI: make([]float64, c.N), DHI: make([]float64, c.N), AirC: make([]float64, c.N), WindMS: make([]float64, c.N)}
	work := &worker{f: f}
	work.grow(sys)
	skies := make([]openSky, len(f.places))
	for s := range f.places {
		if err := work.weather(s, m, draws); err != nil {
			return nil, err
		}
		skies[s] = openSky{beam: 1, sky: 1}
		if f.places[s].roofed {
			skies[s] = openSky{}
		}
		from, to, lead := c.From[s], c.From[s+1], c.Spans[s].Lead
		n := to - from
		copy(w.GHI[from:to], work.lights[s].GHI[lead:lead+n])
		copy(w.DNI[from:to], work.lights[s].DNI[lead:lead+n])
		copy(w.DHI[from:to], work.lights[s].DHI[lead:lead+n])
		copy(w.AirC[from:to], work.air[s][lead:lead+n])
		for i := from; i < to; i++ {
			w.WindMS[i] = f.places[s].climate.Wind
		}
	}
	r := newRunner(sys, c, !f.plan.Parked)
	lightOn(sys, c, w, f.kept.planes, skies, r.offers)
	return r.run(w), nil
}

// middle returns the member whose weather, with every guess at its nominal, breaks the floor when the median run does and keeps each night closest to
// the median of its lowest charge: the sum of both distances, as shares of the stay and of the bank, is about the least. Guesses that lean to one side lift or sink the nominal rig, so the weather of median sun alone would not do: its nights could all lie
// outside the band that holds most runs. Of weathers about equally close the one nearest to median sun is taken, so that a small
// change of the rig keeps its weather.
func (f *Forecast) middle(sys *system.System, runs []memberRun) (int, error) {
	tried, far, err := f.distances(sys, runs, false)
	if err != nil {
		return 0, err
	}
	return tried[steadiest(far)], nil
}

// distances returns the weathers to try, and how far each is from the middle of all runs: +Inf for those that were not tried because none of them could
// be taken any more, whatever its distance; all are tried where that is asked for.
func (f *Forecast) distances(sys *system.System, runs []memberRun, all bool) (tried []int, far []float64, err error) {
	medians := make([]float32, len(f.course.Days))
	night := make([]float32, len(runs))
	for d := range medians {
		for m := range runs {
			night[m] = runs[m].lows[d]
		}
		slices.Sort(night)
		medians[d] = night[len(night)/2]
	}
	breaks := make([]float64, len(runs))
	for m := range runs {
		breaks[m] = f.untilBelow(&runs[m].outcome)
	}
	slices.Sort(breaks)
	broken := breaks[len(breaks)/2]
	tried = fromTheMiddle(f.bySun())
	lights := make([]columns, len(tried))
	far = make([]float64, len(tried))
	plays := newSwift(sys, f.course, newSchedule(sys, f.course), !f.plan.Parked)
	try := func(w *worker, k int) error {
		light, ok := f.kept.plain[tried[k]]
		if !ok {
			var err error
			if light, err = w.light(sys, tried[k], nil); err != nil {
				return err
			}
		}
		out := outcome{lows: make([]float32, len(f.course.Days)), gas: make([]float32, len(f.course.Days))}
		plays.run(light.potW, light.alsoW, light.airC, &out)
		lights[k], far[k] = light, math.Abs(f.untilBelow(&out)-broken)
		for d, low := range out.lows {
			far[k] += math.Abs(float64(low-medians[d])) / float64(len(medians))
		}
		return nil
	}
	for k := range far {
		far[k] = math.Inf(1)
	}
	for from := 0; from < len(tried); from += atOnce {
		n := min(atOnce, len(tried)-from)
		if err := f.each(context.Background(), n, nil, func(w *worker, k int) error { return try(w, from+k) }); err != nil {
			return nil, nil, err
		}
		for k := from; k < from+n && f.kept.plain != nil; k++ {
			f.kept.plain[tried[k]] = lights[k]
		}
		if best := steadiest(far); !all && far[best]+perPlace*float64(best) <= perPlace*float64(from+n) {
			break
		}
	}
	return tried, far, nil
}

// perPlace is what a weather's distance from the middle of all runs is charged with for each place in the order in which weathers are tried, as shares
// of the stay and of the bank: what a reader of the chart cannot tell. By the distance alone a change that hardly moves the answer would often show
// another weather; this way it does so less often, and the run is as near to the middle as before to a few hundredths.
const perPlace = 0.02

// atOnce is how many weathers are tried before it is looked whether more are needed.
const atOnce = 4

// steadiest returns which of the weathers tried stands for all.
func steadiest(far []float64) int {
	best := 0
	for k := range far {
		if far[k]+perPlace*float64(k) < far[best]+perPlace*float64(best) {
			best = k
		}
	}
	return best
}

// untilBelow is the share of the stay until a run breaks the floor, 1 for one that never does.
func (f *Forecast) untilBelow(o *outcome) float64 {
	if o.below < 0 {
		return 1
	}
	return float64(o.below) / float64(f.course.N)
}

// fromTheMiddle picks members evenly out of a list, the one in its middle first and the outermost last.
func fromTheMiddle(list []int) []int {
	n := min(typicals, len(list))
	picked := make([]int, n)
	for k := range picked {
		picked[k] = list[(2*k+1)*len(list)/(2*n)]
	}
	out := make([]int, 0, n)
	for step := range n {
		k := n / 2
		if step%2 == 1 {
			k -= (step + 1) / 2
		} else {
			k += step / 2
		}
		out = append(out, picked[k])
	}
	return out
}

// bySun returns the members in the order of their sun over the stay, as clearness summed over days, the dullest first.
func (f *Forecast) bySun() []int {
	if f.sunny != nil {
		return f.sunny
	}
	type total struct {
		member int
		sum    float64
	}
	all := make([]total, f.members)
	work := &worker{f: f}
	for m := range all {
		all[m].member = m
		for s := range f.places {
			span := &f.course.Spans[s]
			work.days = slices.Grow(work.days[:0], len(span.Civil))[:len(span.Civil)]
			f.places[s].days.Days(m, dayNumber(span.Civil[0].Date), work.days)
			for d := range work.days {
				all[m].sum += work.days[d].Clearness * f.places[s].skies[d].Above()
			}
		}
	}
	slices.SortFunc(all, func(a, b total) int {
		switch {
		case a.sum < b.sum:
			return -1
		case a.sum > b.sum:
			return 1
		}
		return a.member - b.member
	})
	order := make([]int, len(all))
	for i := range all {
		order[i] = all[i].member
	}
	f.sunny = order
	return order
}
