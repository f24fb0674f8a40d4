package trip

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"campwright/rig"
	"campwright/system"
)

// poorShare is the share of runs that fare worse than the poor one.
const poorShare = 0.1

// fewestForPoor is how many runs there must be for one in ten of them to mean something.
const fewestForPoor = 10

// Poor is one run that really was among the members, and a bad one: nine in ten fared better.
type Poor struct {
	Sentence string  `json:"sentence"`       // how the battery fares in it
	Words    string  `json:"words"`          // which run it is
	Low      float64 `json:"low"`            // lowest charge of the stay, a share of capacity
	LowOn    string  `json:"lowOn"`          // the night of it
	Days     float64 `json:"days"`           // until the battery was below its reserve; the length of the stay when it never was
	EndsOn   string  `json:"endsOn"`         // the day of it; empty when it never was
	Trace    Trace   `json:"trace,omitzero"` // the same steps as those of the typical run
}

// Poor plays again, with every watt booked, the member that nine in ten fared better than: by the day the battery went below its floor, and
// among those that never did by their lowest charge. It has that member's weather and its guesses.
func (f *Forecast) Poor(ctx context.Context, doc *rig.Rig) (Poor, error) {
	kit, err := system.NewKit(doc)
	if err != nil {
		return Poor{}, err
	}
	runs, _, draws, err := f.play(ctx, doc, kit, nil)
	if err != nil {
		return Poor{}, err
	}
	return f.poorOf(kit, draws, runs)
}

// poorOf makes the poor run out of what the members told.
func (f *Forecast) poorOf(kit *system.Kit, draws map[string][]float64, runs []memberRun) (Poor, error) {
	m := f.poor(runs)
	sys, err := kit.Assemble(memberDraw(draws, m), f.course.StepMin)
	if err != nil {
		return Poor{}, err
	}
	run, err := f.booked(sys, m, draws)
	if err != nil {
		return Poor{}, err
	}
	out := Poor{Low: math.Inf(1), Days: f.untilBelow(&runs[m].outcome) * f.stay(), Trace: traceOf(run)}
	for d := range run.Days {
		if low := run.Days[d].LowSoC; low < out.Low {
			out.Low, out.LowOn = low, f.course.Days[d].Evening.Format(time.DateOnly)
		}
	}
	worse := int(poorShare * float64(len(runs)))
	out.Words = fmt.Sprintf("Run %d of %d: %d fared worse. It has its own weather and its own draw of the guesses.", m+1, len(runs), worse)
	reserve := fmt.Sprintf("its reserve of %.0f %%", 100*runs[m].floor)
	switch below := runs[m].below; {
	case below == 0:
		out.Days = 0
		out.Sentence = "In a poor run, worse than nine in ten, the battery is below " + reserve + " from the start."
	case below > 0:
		out.EndsOn = f.course.Start.Add(time.Duration(out.Days * 24 * float64(time.Hour))).Format(time.DateOnly)
		out.Sentence = fmt.Sprintf("In a poor run, worse than nine in ten, the battery goes below %s after %s, on %s.", reserve, dayCount(out.Days), spell(out.EndsOn))
	default:
		out.Sentence = fmt.Sprintf("In a poor run, worse than nine in ten, the battery lasts the stay too: its lowest is %.0f %%, the night of %s.", 100*out.Low, spell(out.LowOn))
	}
	return out, nil
}

// poor returns the member that the share of poorShare fared worse than. Of members that break the floor in the same step the worse is the one
// whose nights are lower: how far an empty bank sinks says little.
func (f *Forecast) poor(runs []memberRun) int {
	order := make([]int, len(runs))
	for m := range order {
		order[m] = m
	}
	slices.SortStableFunc(order, func(a, b int) int {
		x, y := f.untilBelow(&runs[a].outcome), f.untilBelow(&runs[b].outcome)
		switch {
		case x == y && runs[a].below >= 0:
			x, y = meanLow(&runs[a]), meanLow(&runs[b])
		case x == y:
			x, y = runs[a].minSoC, runs[b].minSoC
		}
		switch {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	return order[int(poorShare*float64(len(runs)))]
}

// meanLow is the mean of a run's lowest charges of each night.
func meanLow(r *memberRun) float64 {
	sum := 0.0
	for _, low := range r.lows {
		sum += float64(low)
	}
	return sum / math.Max(1, float64(len(r.lows)))
}

// Poor is the poor run for a completed document.
func (t *Teller) Poor(ctx context.Context, doc *rig.Rig) (Poor, error) {
	t.lock.Lock()
	defer t.lock.Unlock()
	then := AsOf(*doc)
	f, err := t.forecast(&then)
	if err != nil {
		return Poor{}, err
	}
	return f.Poor(ctx, &then)
}
