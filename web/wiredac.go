package web

import (
	"math"

	"campwright/design"
)

// wiredFeeds tells the AC side by leg. The neutral of a feed stands below its legs.
func wiredFeeds(rows []design.ACRow) []WiredFeed {
	list := []WiredFeed{}
	for i := range rows {
		r := &rows[i]
		if n := len(list); n == 0 || list[n-1].Name != r.Feed {
			list = append(list, WiredFeed{Name: r.Feed, Words: r.Words, Legs: []WiredLeg{}, Untold: listed(r.Untold), Left: listed(r.Left)})
		}
		f := &list[len(list)-1]
		f.Legs = append(f.Legs, wiredLeg(r))
		if last := i+1 == len(rows) || rows[i+1].Feed != r.Feed; last {
			f.Legs = append(f.Legs, WiredLeg{Name: "neutral", All: around(r.NeutralA, r.NeutralLo, r.NeutralHi)})
		}
	}
	return list
}

func wiredLeg(r *design.ACRow) WiredLeg {
	l := WiredLeg{
		Name: r.Leg, Hours: around(r.HoursA, r.HoursLow, r.HoursHigh), All: around(r.OnA, r.OnLow, r.OnHigh), Breaker: amps(r.BreakerA), Cord: amps(r.CordA),
		Words: r.Stands, Over: r.Stands == "over for hours" || r.Stands == "over with everything on",
	}
	if r.MadeUpA > 0 {
		l.MadeUp = fixed(r.MadeUpA, 1, "A")
	}
	limit := r.BreakerA
	if r.CordA > 0 {
		limit = math.Min(limit, r.CordA)
	}
	l.Bar = share(r.OnA, limit)
	return l
}

// around is a current with the ends that guesses give it, where they move it.
func around(a, low, high float64) string {
	if high-low < 0.05 {
		return fixed(a, 1, "A")
	}
	return fixed(a, 1, "A") + " (" + joined(fixed(low, 1, "A"), fixed(high, 1, "A")) + ")"
}
