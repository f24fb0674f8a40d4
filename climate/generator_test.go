package climate

import (
	"math"
	"slices"
	"testing"
	"time"

	"campwright/internal/near"
)

func mustAt(t testing.TB, latitude, longitude float64) Climate {
	t.Helper()
	c, err := At(latitude, longitude, nil)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func mustNew(t testing.TB, p Params) *Generator {
	t.Helper()
	g, err := New(p)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// normalScores turns numbers into normal scores by their rank.
func normalScores(v []float64) []float64 {
	order := make([]int, len(v))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		if v[a] < v[b] {
			return -1
		}
		return 1
	})
	out := make([]float64, len(v))
	for rank, i := range order {
		out[i] = quantile((float64(rank) + 0.5) / float64(len(v)))
	}
	return out
}

func moments(v []float64) (mean, sd float64) {
	for _, x := range v {
		mean += x / float64(len(v))
	}
	for _, x := range v {
		sd += (x - mean) * (x - mean) / float64(len(v))
	}
	return mean, math.Sqrt(sd)
}

func correlation(a, b []float64) float64 {
	ma, sa := moments(a)
	mb, sb := moments(b)
	sum := 0.0
	for i := range a {
		sum += (a[i] - ma) * (b[i] - mb)
	}
	return sum / float64(len(a)) / sa / sb
}

// The days of two thousand members of each month: mean within 1 % of the climate, spread within 5 % of [BENDT]'s with the month's own.
// Two hundred years hold each month two hundred times, with a standard error of 0.7 %;
// two thousand members make the 1 % a matter of four standard errors.
func TestDaysOfMonths(t *testing.T) {
	if testing.Short() {
		t.Skip("short")
	}
	const members = 2000
	months := 0
	for _, at := range [][2]float64{{33.4, -112}, {47.45, -122.3}, {41.98, -87.9}, {-33.9, 151.2}} {
		c := mustAt(t, at[0], at[1])
		g := mustNew(t, Params{Climate: c, Seed: 11})
		for m := range 12 {
			first := Date(2027, time.Month(m+1), 1)
			n := Date(2027, time.Month(m+2), 1) - first
			days := make([]Day, n)
			sum, deviation := 0.0, 0.0
			for member := range members {
				g.Days(member, first, days)
				for i, d := range days {
					sum += d.Clearness
					want := through(&c.Clearness, m, (float64(i)+0.5)/float64(n))
					deviation += (d.Clearness - want) * (d.Clearness - want)
				}
			}
			total := float64(members * n)
			near.Rel(t, "mean clearness", sum/total, c.Clearness[m], 0.01, "the climate's, four standard errors")
			_, spread := bendt(c.Clearness[m])
			spread *= clearestDay(c.Clearness[m]) - leastDay
			near.Rel(t, "standard deviation", math.Sqrt(deviation/total), math.Hypot(spread, monthSpread*c.Clearness[m]), 0.05, "[BENDT] and the month's own")
			months++
		}
	}
	if months != 48 {
		t.Fatalf("looked at %d months", months)
	}
}

// Persistence over many pairs of days, in normal scores: within 0.03.
func TestPersistence(t *testing.T) {
	g := mustNew(t, Params{Climate: mustAt(t, 41.98, -87.9), Seed: 3})
	const pairs = 300
	sum := 0.0
	days := make([]Day, 2)
	for k := range 40 {
		one, next := make([]float64, pairs), make([]float64, pairs)
		for member := range pairs {
			g.Days(member+1000*k, Date(2027, 7, 15), days)
			one[member], next[member] = days[0].Clearness, days[1].Clearness
		}
		sum += correlation(normalScores(one), normalScores(next)) / 40
	}
	near.Abs(t, "lag-1 correlation of normal scores", sum, clearnessPersistence, 0.03, "asked for; 12,000 pairs")
}

// A date has the same weather whatever range it is asked in.
func TestDaysDoNotDependOnTheRange(t *testing.T) {
	g := mustNew(t, Params{Climate: mustAt(t, 38.57, -109.55), Seed: 5, Doubt: 1})
	first := Date(2027, 12, 20)
	all := make([]Day, 120)
	g.Days(17, first, all)
	for _, part := range [][2]int{{0, 1}, {3, 40}, {31, 33}, {64, 120}, {119, 120}} {
		some := make([]Day, part[1]-part[0])
		g.Days(17, first+part[0], some)
		for i, d := range some {
			if d != all[part[0]+i] {
				t.Fatalf("day %d asked from day %d: %+v, in the whole range %+v", part[0]+i, part[0], d, all[part[0]+i])
			}
		}
	}
	for i, d := range all {
		if d.Number != first+i {
			t.Fatalf("day %d has the number %d", i, d.Number)
		}
		if i > 0 && (d.HighBefore != all[i-1].High || all[i-1].LowAfter != d.Low) {
			t.Fatalf("day %d: the night does not join: %+v after %+v", i, d, all[i-1])
		}
		if !(d.Clearness >= leastDay && d.Clearness < 0.85) || !(d.Low < d.High) {
			t.Fatalf("day %d: %+v", i, d)
		}
	}
}

// Members, seeds and cells live through independent weather; places in one cell through the same.
func TestMembersSeedsAndPlaces(t *testing.T) {
	a := mustNew(t, Params{Climate: mustAt(t, 40.1, -100.2), Seed: 1})
	sameCell := mustNew(t, Params{Climate: mustAt(t, 40.9, -101.1), Seed: 1})
	otherCell := mustNew(t, Params{Climate: mustAt(t, 40.1, -95.2), Seed: 1})
	otherSeed := mustNew(t, Params{Climate: mustAt(t, 40.1, -100.2), Seed: 2})
	const n = 3000
	draw := func(g *Generator, member int) []float64 {
		days := make([]Day, n)
		g.Days(member, Date(2027, 1, 1), days)
		v := make([]float64, n)
		for i, d := range days {
			v[i] = d.Clearness / through(&g.p.Climate.Clearness, monthIndex(d.Number), shareOf(d.Number))
		}
		return v
	}
	base := draw(a, 0)
	limit := 4 * math.Sqrt((1+0.16)/(1-0.16)/n)
	near.Abs(t, "another member", correlation(base, draw(a, 1)), 0, limit, "four standard errors with the persistence")
	near.Abs(t, "another seed", correlation(base, draw(otherSeed, 0)), 0, limit, "four standard errors with the persistence")
	near.Abs(t, "another cell", correlation(base, draw(otherCell, 0)), 0, limit, "four standard errors with the persistence")
	near.Within(t, "the same cell", correlation(base, draw(sameCell, 0)), 0.98, 1, "shared weather")
}

func monthIndex(day int) int { _, m, _ := civil(day); return m }
func shareOf(day int) float64 {
	_, _, s := civil(day)
	return s
}

// Doubt makes the members' means differ as the climate says, and leaves their mean alone.
func TestDoubt(t *testing.T) {
	c := mustAt(t, 41.98, -87.9)
	yearly := func(doubt float64) (mean, sd float64) {
		g := mustNew(t, Params{Climate: c, Seed: 9, Doubt: doubt})
		means := make([]float64, 300)
		days := make([]Day, 365)
		for member := range means {
			g.Days(member, Date(2027, 1, 1), days)
			for _, d := range days {
				means[member] += d.Clearness / 365
			}
		}
		return moments(means)
	}
	mean0, sd0 := yearly(0)
	mean1, sd1 := yearly(1)
	near.Rel(t, "mean with doubt", mean1, mean0, 0.01, "three standard errors")
	extra := math.Sqrt(sd1*sd1-sd0*sd0) / mean0
	near.Rel(t, "what doubt adds", extra, math.Hypot(c.LightSpread, c.MonthSpread/math.Sqrt(12)), 0.2, "its spread; its own standard error is 6 %, the clearest days hold the rest")
}

// The curve through the months keeps each month's mean and has no step.
func TestThrough(t *testing.T) {
	months := [12]float64{0.5, 0.6, 0.4, 0.41, 0.7, 0.65, 0.66, 0.3, 0.5, 0.52, 0.49, 0.2}
	for m := range 12 {
		const n = 1000
		sum := 0.0
		for i := range n {
			sum += through(&months, m, (float64(i)+0.5)/n) / n
		}
		near.Abs(t, "month's mean", sum, months[m], 1e-6, "integral of a parabola")
		near.Abs(t, "step between months", through(&months, m, 1), through(&months, (m+1)%12, 0), 1e-12, "continuous")
	}
}

// Numbers of days: those of the Unix count, in any zone.
func TestDayNumber(t *testing.T) {
	if got := Date(1970, 1, 1); got != 0 {
		t.Errorf("1 January 1970 is %d", got)
	}
	if got := Date(1969, 12, 31); got != -1 {
		t.Errorf("31 December 1969 is %d", got)
	}
	if got := Date(2000, 3, 1); got != 11017 {
		t.Errorf("1 March 2000 is %d, want 11017", got) // 30 years of 365 days, 7 leap days before 2000, 60 days in 2000
	}
	late := time.Date(2027, 1, 5, 23, 0, 0, 0, time.FixedZone("", -8*3600))
	if got := DayNumber(late); got != Date(2027, 1, 5) {
		t.Errorf("an evening counts as day %d, want %d", got, Date(2027, 1, 5))
	}
	year, month, share := civil(Date(2028, 2, 29))
	if year != 2028 || month != 1 {
		t.Errorf("leap day is in %d, month %d", year, month)
	}
	near.Abs(t, "leap day's place", share, 28.5/29, 1e-12, "middle of the last day")
}

// Temperature: month means, spread and daily range as asked for.
func TestTemperature(t *testing.T) {
	elevation := 201.0
	c, err := At(41.98, -87.92, &elevation)
	if err != nil {
		t.Fatal(err)
	}
	g := mustNew(t, Params{Climate: c, Seed: 4})
	days := make([]Day, 31)
	for _, m := range []int{0, 6} {
		var means, ranges, clear []float64
		for member := range 500 {
			g.Days(member, Date(2027, time.Month(m+1), 1), days)
			for _, d := range days {
				means = append(means, d.Mean())
				ranges = append(ranges, d.High-d.Low)
				clear = append(clear, d.Clearness)
			}
		}
		mean, sd := moments(means)
		near.Abs(t, "month's temperature", mean, c.Temperature[m], 0.3, "the climate's")
		near.Rel(t, "spread of days", sd, g.spread[m], 0.12, "asked for; the month's own course adds to it")
		swing, _ := moments(ranges)
		near.Rel(t, "daily range", swing, g.swing[m], 0.02, "asked for")
		near.Abs(t, "range goes with clearness", correlation(ranges, clear), 0.5, 0.06, "measured on weather files; normal scores here")
	}
	// The Chicago file: ranges of 10.0 K in the year's mean; the fit is within 2.1 K.
	sum := 0.0
	for m := range 12 {
		sum += g.swing[m] / 12
	}
	near.Abs(t, "year's mean daily range at Chicago [K]", sum, 10.0, 2.1, "dtr_mean of the public weather file")
}

// Nothing wrong gets in.
func TestRefusals(t *testing.T) {
	c := mustAt(t, 40, -100)
	nan := math.NaN()
	high := 9001.0
	for name, err := range map[string]error{
		"latitude NaN":    second(At(nan, 0, nil)),
		"longitude 181":   second(At(40, 181, nil)),
		"elevation":       second(At(40, -100, &high)),
		"elevation NaN":   second(At(40, -100, &nan)),
		"doubt NaN":       second(New(Params{Climate: c, Doubt: nan})),
		"doubt 2.1":       second(New(Params{Climate: c, Doubt: 2.1})),
		"no climate":      second(New(Params{})),
		"clearness NaN":   second(New(Params{Climate: with(c, func(c *Climate) { c.Clearness[3] = nan })})),
		"temperature Inf": second(New(Params{Climate: with(c, func(c *Climate) { c.Temperature[3] = math.Inf(1) })})),
		"spread":          second(New(Params{Climate: with(c, func(c *Climate) { c.LightSpread = -0.1 })})),
	} {
		if err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	for _, ok := range []float64{0, 2} {
		if _, err := New(Params{Climate: c, Doubt: ok}); err != nil {
			t.Error(err)
		}
	}
}

func second[T any](_ T, err error) error { return err }

func with(c Climate, change func(*Climate)) Climate {
	change(&c)
	return c
}
