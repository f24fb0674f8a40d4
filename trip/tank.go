package trip

import "campwright/system"

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
// stop says so; past the stay it goes on at the same rate.
func (t tank) lasts(c *Course) (days float64, inside bool) {
	left, gone := t.holds, 0.0
	for i := range c.Sites {
		if i > 0 && c.Sites[i].fills(t.fillName()) {
			left = t.holds
		}
		nights := float64(c.Sites[i].Nights)
		if need := nights * t.perDay; need > left {
			return gone + left/t.perDay, true
		}
		left -= nights * t.perDay
		gone += nights
	}
	return gone + left/t.perDay, false
}

// fillName is the word of the document for filling or emptying it.
func (t tank) fillName() string {
	switch t.name {
	case "grey tank":
		return "grey"
	case "black tank":
		return "black"
	}
	return t.name
}
