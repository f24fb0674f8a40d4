package trip

import (
	"context"
	"fmt"
	"math"
	"slices"

	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// ways tries what would move the end of a store that ends inside the stay.
func (t *trial) ways(ctx context.Context, now []StoreEnd, e *StoreEnd) ([]Way, error) {
	w := &wayfinder{trial: t, ctx: ctx, now: now, end: e, members: t.standing(t.f.storeDays(e.Store, t.runs))}
	switch e.Store {
	case "fresh water", "grey tank", "black tank":
		w.lessWater()
		w.haul()
	case "propane":
		w.moreCylinders()
		w.otherSource()
		w.coolerRoom()
		w.haul()
	case "battery":
		w.tilt()
		w.moreModules()
		w.moreBlocks()
	case "generator fuel":
		w.moreFuel()
	}
	return w.list, w.err
}

// wayfinder tries ways to move the end of one store.
type wayfinder struct {
	*trial
	ctx     context.Context
	now     []StoreEnd // as it is
	end     *StoreEnd  // of the store
	members []int
	list    []Way
	err     error
	before  *tallied
}

// attempt plays a change and takes it on as a way, unless it moves the end by less than can be told. saves is of the store, a day; NaN for what the runs tell.
func (w *wayfinder) attempt(words text, doc *rig.Rig, by change, edits []rig.Edit, saves figure.Figure) {
	if w.err != nil {
		return
	}
	runs, err := w.try(w.ctx, doc, w.members, by)
	if err != nil {
		w.err = err
		return
	}
	if w.before == nil {
		base, err := w.try(w.ctx, w.doc, w.members, change{})
		if err != nil {
			w.err = err
			return
		}
		sum := w.tally(base)
		w.before = &sum
	}
	course := w.f.course
	if by.sites != nil {
		course = w.changed(by)
	}
	f := *w.f
	f.course = course
	after := StoreEnd{Store: w.end.Store}
	f.endOf(&after, f.storeDays(w.end.Store, runs), f.stay())
	if !after.AtLeast && after.Lasts.Value <= w.end.Lasts.Value+1 && after.Chance.Count >= w.chanceOf(w.end.Store) {
		return
	}
	next := w.next(&f, runs)
	if next.Store != "" && next.order() < w.now[0].order()-1 {
		return // it would end the stay sooner
	}
	sum := w.tally(runs)
	way := Way{Store: w.end.Store, Words: words.metric, wordsIn: words, Edits: edits, Saves: saves, Lasts: after.Lasts, Text: after.Text, Next: w.nextWords(next)}
	if w.end.Store == "propane" && saves.Kind == quantity.None {
		way.Saves = figure.Exact("propane saved a day", math.Max(0, w.before.gasKg-sum.gasKg), quantity.Mass)
	}
	if more := sum.loadWh - w.before.loadWh; more >= 1 {
		way.costsIn = append(way.costsIn, say("%s of the battery", of(math.Round(more), quantity.Energy)))
	}
	if more := sum.gasKg - w.before.gasKg; more >= 0.005 {
		way.costsIn = append(way.costsIn, say("%s of propane", of(more, quantity.Mass)))
	}
	way.Costs = plainly(way.costsIn)
	w.list = append(w.list, way)
}

// changed returns the course with its sites changed.
func (w *wayfinder) changed(by change) *Course {
	c := *w.f.course
	c.Sites = slices.Clone(c.Sites)
	for i := range c.Sites {
		by.sites(&c.Sites[i])
	}
	return &c
}

// chanceOf returns in how many of the picked runs a store ends inside the stay as it is.
func (w *wayfinder) chanceOf(store string) int {
	picked := make([]memberRun, len(w.members))
	for k, m := range w.members {
		picked[k] = w.runs[m]
	}
	return w.trial.end(store, picked).Chance.Count
}

// next returns the store that would end the stay then, in runs of a changed rig; none when all last. A store that the change leaves alone ends as the
// answer says.
func (w *wayfinder) next(f *Forecast, runs []memberRun) StoreEnd {
	var first StoreEnd
	for _, s := range w.now {
		e := s
		if s.Store != "generator fuel" {
			days, before := f.storeDays(s.Store, runs), w.f.storeDays(s.Store, w.runs)
			for k, m := range w.members {
				if before[m] != days[k] {
					e = StoreEnd{Store: s.Store}
					f.endOf(&e, days, f.stay())
					break
				}
			}
		}
		if e.matters() && (first.Store == "" || e.order() < first.order()) {
			first = e
		}
	}
	return first
}

// nextWords says which store would end the stay then, and after how long.
func (w *wayfinder) nextWords(next StoreEnd) string {
	would := "would"
	if next.Store == w.now[0].Store {
		would = "would still"
	}
	switch {
	case next.Store == "":
		return "then everything lasts the stay"
	case next.AtLeast:
		return fmt.Sprintf("then %s %s be the first that may end the stay, in %s", named(next.Store), would, next.Chance.Text)
	case dayCount(next.Lasts.Low/24) == dayCount(next.Lasts.High/24):
		return fmt.Sprintf("then %s %s end the stay first, after %s", named(next.Store), would, next.Text)
	}
	return fmt.Sprintf("then %s %s end the stay first, usually after %s", named(next.Store), would, dayCount(next.Lasts.Value/24))
}
