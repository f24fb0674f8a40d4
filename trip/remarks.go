package trip

import (
	"fmt"
	"slices"
	"time"

	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// placeRemarks says what the climates of the places leave out, in the months of the stay.
func (f *Forecast) placeRemarks() []string {
	var list []string
	for s := range f.places {
		seen := map[time.Month]bool{}
		for _, day := range f.course.Spans[s].Civil {
			month := day.Date.Month()
			if seen[month] {
				continue
			}
			seen[month] = true
			for _, r := range f.places[s].climate.Remarks(int(month) - 1) {
				if r = upper(r); len(f.places) > 1 {
					r = f.plan.Sites[s].Name + ": " + r
				}
				if !slices.Contains(list, r) {
					list = append(list, r)
				}
			}
		}
	}
	return list
}

// remarks says what the answer leans on: wind, what is not known, the widest guess, a hookup that does not fit.
func (f *Forecast) remarks(a Answer, guesses []rig.Value, sunny bool) []string {
	var list []string
	if sunny {
		list = append(list, fmt.Sprintf("Wind is not known; %.1f m/s is taken, a guess.", f.places[0].climate.Wind))
	}
	for i := range f.course.Sites {
		if s := &f.course.Sites[i]; s.Hookup != "" && s.Hookup != "none" && !f.fed(i) {
			list = append(list, fmt.Sprintf("%s: the rig's inlet cannot be plugged into %s, or the file names no inlet; nothing is taken from it.", s.Name, s.Hookup))
		}
	}
	for _, g := range guesses {
		if g.State == figure.Unknown && slices.ContainsFunc(a.Guesses, func(w Guess) bool { return w.Path == g.At.Path }) {
			list = append(list, fmt.Sprintf("Not known: %s; anything from %s to %s is taken. To settle it: %s.", nameOf(g.At.Path), written(g, g.Low), written(g, g.High), reading(g)))
		}
	}
	if len(a.Guesses) > 0 {
		list = append(list, fmt.Sprintf("The guess that widens the answer most: %s (%.0f %% of its spread). To settle it: %s.", a.Guesses[0].Name, 100*a.Guesses[0].Share, a.Guesses[0].Reading))
	} else {
		list = append(list, "No guess widens the answer much: its spread is the weather's.")
	}
	return list
}

// fed tells whether a site's hookup feeds the rig.
func (f *Forecast) fed(site int) bool { return f.hooks[site].service.Amps > 0 }

// written writes a number of a value's kind for people.
func written(v rig.Value, base float64) string {
	return quantity.Format(quantity.Quantity{Base: base, Kind: v.Quantity.Kind, Unit: v.Quantity.Unit}, quantity.US)
}

// dayNumber is the civil day of a date for the generator of days.
func dayNumber(t time.Time) int {
	return int(time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC).Unix() / 86400)
}
