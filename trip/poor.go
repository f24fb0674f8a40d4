package trip

import (
	"context"
	"fmt"
	"slices"

	"campwright/rig"
	"campwright/system"
)

// poorShare is the share of runs that fare worse than the poor one.
const poorShare = 0.1

// Poor is one run that really was among the members, and a bad one: nine in ten fared better.
type Poor struct {
	Words string  `json:"words"`
	Low   float64 `json:"low"`  // lowest charge of the stay, a share of capacity
	Days  float64 `json:"days"` // until the battery was below its floor; the length of the stay when it never was
	Trace Trace   `json:"trace"`
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
	m := f.poor(runs)
	sys, err := kit.Assemble(memberDraw(draws, m), f.course.StepMin)
	if err != nil {
		return Poor{}, err
	}
	run, err := f.booked(sys, m, draws)
	if err != nil {
		return Poor{}, err
	}
	out := Poor{Low: 1, Days: f.untilBelow(&runs[m].outcome) * float64(f.course.N) * f.course.StepH / 24, Trace: traceOf(run)}
	for d := range run.Days {
		out.Low = min(out.Low, run.Days[d].LowSoC)
	}
	worse := int(poorShare * float64(len(runs)))
	out.Words = fmt.Sprintf("Run %d of %d: %d fared worse. It has its own weather and its own draw of the guesses.", m+1, len(runs), worse)
	return out, nil
}

// poor returns the member that the share of poorShare fared worse than.
func (f *Forecast) poor(runs []memberRun) int {
	order := make([]int, len(runs))
	for m := range order {
		order[m] = m
	}
	slices.SortStableFunc(order, func(a, b int) int {
		x, y := f.untilBelow(&runs[a].outcome), f.untilBelow(&runs[b].outcome)
		if x == y {
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

// Poor is the poor run for a completed document.
func (t *Teller) Poor(ctx context.Context, doc *rig.Rig) (Poor, error) {
	t.lock.Lock()
	defer t.lock.Unlock()
	f, err := t.forecast(doc)
	if err != nil {
		return Poor{}, err
	}
	return f.Poor(ctx, doc)
}
