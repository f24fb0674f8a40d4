package trip

import (
	"math"

	"campwright/system"
)

// tank is a store that empties or fills at the same rate every day.
type tank struct {
	name          string
	holds, perDay float64 // [L], [L/d]
	verb          string
}

func tanksOf(w system.Water) []tank {
	return []tank{
		{"fresh water", w.FreshL, w.FreshPerDay, "drawn"},
		{"grey tank", w.GreyL, w.GreyPerDay, "filled"},
		{"black tank", w.BlackL, w.BlackPerDay, "filled"},
	}
}

// lasts returns the days after which a tank is empty, or full, and whether that lies inside the stay. It is filled, or emptied, where a
// stop or a haul says so; past the stay it goes on at the same rate.
func (t tank) lasts(c *Course) (days float64, inside bool) {
	left, gone := t.holds, 0.0
	for i := range c.Sites {
		if i > 0 && c.Sites[i].fills(fillName(t.name)) {
			left = t.holds
		}
		for k, nights := range c.Sites[i].legs(fillName(t.name)) {
			if k > 0 {
				left = t.holds
			}
			if need := nights * t.perDay; need > left {
				return gone + left/t.perDay, true
			}
			left -= nights * t.perDay
			gone += nights
		}
	}
	return gone + left/t.perDay, false
}

// legs returns the nights of a stop from one haul of a store to the next.
func (s *Site) legs(what string) []float64 {
	left := s.Nights
	if s.HaulDays <= 0 || !names(s.Hauls, what) {
		return []float64{float64(left)}
	}
	var list []float64
	for ; left > s.HaulDays; left -= s.HaulDays {
		list = append(list, float64(s.HaulDays))
	}
	return append(list, float64(left))
}

// longestLeg returns the most nights that a store must last from one filling, or emptying, to the next.
func (c *Course) longestLeg(what string) float64 {
	most, run := 0.0, 0.0
	for i := range c.Sites {
		if i > 0 && c.Sites[i].fills(what) {
			run = 0
		}
		for k, nights := range c.Sites[i].legs(what) {
			if k > 0 {
				run = 0
			}
			run += nights
			most = math.Max(most, run)
		}
	}
	return most
}

// hauled tells whether a store is filled, or emptied, by a haul at the beginning of a day of the course.
func (c *Course) hauled(day int, what string) bool {
	s := &c.Sites[c.Days[day].Site]
	since := day - s.FirstDay
	return s.HaulDays > 0 && since > 0 && since%s.HaulDays == 0 && names(s.Hauls, what)
}

// fillName is the document's word for filling a store, or emptying it.
func fillName(store string) string {
	switch store {
	case "grey tank":
		return "grey"
	case "black tank":
		return "black"
	}
	return store
}
