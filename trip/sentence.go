package trip

import (
	"fmt"
	"math"
	"time"
)

// sentence tells the answer of a single year in one sentence: what ends the stay, or that it holds.
func (a *Answer) sentence() string {
	nights := plural(a.Basis.Nights, "night")
	for _, s := range a.Stores {
		if s.Reached {
			return fmt.Sprintf("%s ends the stay after %s, on %s; the stay asked for is %s.", upper(s.Store), dayCount(s.Lasts.Value/24), spell(s.EndsOn), nights)
		}
	}
	low, when := math.Inf(1), ""
	for _, d := range a.Days {
		if d.LowSoC < low {
			low, when = d.LowSoC, d.Date
		}
	}
	text := fmt.Sprintf("Everything lasts the %s: the battery's lowest is %.0f %%, the night of %s", nights, 100*low, spell(when))
	if s := a.Stores[0]; s.EndsOn != "" {
		text += fmt.Sprintf("; %s would be the first to end, after %s", s.Store, dayCount(s.Lasts.Value/24))
	}
	return text + "."
}

// dayCount writes a number of days for people: one decimal below ten, whole above.
func dayCount(d float64) string {
	switch {
	case math.IsInf(d, 1):
		return "more than the stay"
	case d < 9.95:
		return fmt.Sprintf("%.1f days", d)
	}
	return fmt.Sprintf("%.0f days", d)
}

// plural writes a count with its noun.
func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// upper writes the first letter large.
func upper(s string) string {
	if s == "" {
		return s
	}
	if s[0] >= 'a' && s[0] <= 'z' {
		return string(s[0]-'a'+'A') + s[1:]
	}
	return s
}

// spell writes an ISO date as people read it.
func spell(iso string) string {
	t, err := time.Parse("2006-01-02", iso)
	if err != nil {
		return iso
	}
	return t.Format("Mon 2 Jan 2006")
}
