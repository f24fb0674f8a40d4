package trip

import (
	"context"
	"fmt"
	"slices"

	"campwright/quantity"
)

// weak tries, at the stops that have a hookup, those that a rig may meet, from the weakest up to its inlet.
func (t *trial) weak(ctx context.Context) ([]Weak, error) {
	list := []Weak{}
	hooked := make([]bool, len(t.f.course.Sites))
	last := -1 // the last day with a hookup
	for d := range t.f.course.Days {
		if site := t.f.course.Days[d].Site; t.f.fed(site) {
			hooked[site], last = true, d
		}
	}
	if t.doc.Shore == nil || last < 0 {
		return list, nil
	}
	members := t.standing(t.f.storeDays("battery", t.runs))
	for _, s := range servicesUpTo(t.doc.Shore.Inlet) {
		runs, err := t.try(ctx, t.doc, members, change{sites: func(site *Site) {
			if site.Hookup != "" && site.Hookup != "none" {
				site.Hookup = s.Name
			}
		}})
		if err != nil {
			return nil, err
		}
		lows, dark, nights := make([]float64, len(runs)), 0, 0
		for m := range runs {
			lows[m] = float64(runs[m].lows[last])
			for d, low := range runs[m].lows {
				if hooked[t.f.course.Days[d].Site] {
					nights++
					if float64(low) < runs[m].floor {
						dark++
					}
				}
			}
		}
		sum := t.tally(runs)
		w := Weak{Service: s.Name, LimitA: s.Amps * s.Continuous, Watts: s.ContinuousVA(), Holds: dark == 0, EndSoC: quantile(lows, 0.5)}
		w.Words = fmt.Sprintf("Where there is a hookup: on %s set the limit to %.0f A or less (%s lasting); the battery's lowest on the last night there is usually %.0f %%.", s.Name, w.LimitA, watts(w.Watts), 100*w.EndSoC)
		if w.ShedWh = sum.shedWh * float64(len(t.f.course.Days)) / float64(max(1, nights/len(runs))); w.ShedWh >= 1 {
			w.Words += fmt.Sprintf(" It cannot carry all: about %.0f Wh a day has to be left off or moved to another hour.", w.ShedWh)
		}
		list = append(list, w)
	}
	return slices.Clip(list), nil
}

// watts writes a power for people; it reads the same in every system of units.
func watts(w float64) string { return quantity.Format(of(w, quantity.Power), quantity.Metric) }
