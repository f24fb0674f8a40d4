package trip

import (
	"fmt"
	"math"
	"strings"
	"time"
)

// sentence tells the answer in one sentence: what ends the stay, or that it holds, and how surely.
func (a *Answer) sentence() string {
	nights := plural(a.Basis.Nights, "night")
	if len(a.Days) > 0 && a.Nights.StartsBelow {
		return fmt.Sprintf("The stay begins with the battery below its reserve of %.0f %%; charge it first.", 100*a.Nights.Floor)
	}
	for _, s := range a.Stores {
		if s.Reached {
			if s.Chance.Of > 1 && s.Lasts.HasRange() {
				return fmt.Sprintf("%s usually ends the stay after %s (%s nine times in ten), on %s; the stay asked for is %s.",
					upper(named(s.Store)), dayCount(s.Lasts.Value/24), s.Text, spell(s.EndsOn), nights)
			}
			return fmt.Sprintf("%s ends the stay after %s, on %s; the stay asked for is %s.", upper(named(s.Store)), s.Text, spell(s.EndsOn), nights)
		}
	}
	if text, some := a.sometimes(nights); some {
		return text
	}
	low, when := math.Inf(1), ""
	for _, d := range a.Days {
		if d.LowSoC < low {
			low, when = d.LowSoC, d.Date
		}
	}
	text := fmt.Sprintf("Everything lasts the %s: the battery's lowest in a typical run is %.0f %%, the night of %s", nights, 100*low, spell(when))
	if s := a.Stores[0]; s.EndsOn != "" {
		text += fmt.Sprintf("; %s would be the first to end, after %s", named(s.Store), s.Text)
	}
	return text + "."
}

// sometimes tells of a stay that usually holds but ends early in more runs than one in fifty: the store that most often ends it.
func (a *Answer) sometimes(nights string) (text string, some bool) {
	worst := -1
	for i, s := range a.Stores {
		if s.Chance.Of > 1 && (worst < 0 || s.Chance.Count > a.Stores[worst].Chance.Count) {
			worst = i
		}
	}
	if worst < 0 {
		return "", false
	}
	s := a.Stores[worst]
	if 50*s.Chance.Count <= s.Chance.Of {
		return "", false
	}
	return fmt.Sprintf("Everything usually lasts the %s, but in %d of %d runs %s ends the stay first, at the soonest after %s.", nights, s.Chance.Count, s.Chance.Of, named(s.Store), dayCount(s.Soonest/24)), true
}

// named puts the article before a store that is a thing: the battery, the grey tank, but propane and fresh water.
func named(store string) string {
	if store == "battery" || strings.HasSuffix(store, " tank") {
		return "the " + store
	}
	return store
}

// dayCount writes a number of days for people: hours below one, one decimal below ten, whole above.
func dayCount(d float64) string {
	switch {
	case math.IsInf(d, 1):
		return "more than the stay"
	case d < 0.95:
		return plural(int(math.Round(24*d)), "hour")
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
