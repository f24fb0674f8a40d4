package weather

import (
	"testing"
	"time"

	"campwright/internal/near"
)

// numbered returns columns of a year whose values tell their day, counted from 0.
func numbered(t *testing.T, leap bool) Columns {
	t.Helper()
	days := 365
	if leap {
		days = 366
	}
	y := Year{Site: InventedSite, LocalOffsetH: -7, Step: time.Hour, LeapDay: leap, Records: make([]Record, days*24)}
	for i := range y.Records {
		start := time.Date(2020, 1, 1, i, 0, 0, 0, time.FixedZone("", -7*3600))
		y.Records[i] = Record{Start: start, SunTime: start.Add(30 * time.Minute), DurationH: 1, AirC: float64(i / 24)}
	}
	c, err := y.Columns(60)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// The days that slices hold, by hand from the calendar: over the year's end, over 29 February with and without one in the file.
func TestSlice(t *testing.T) {
	for _, c := range []struct {
		name string
		leap bool
		from time.Time
		want []float64 // days of the file's year, from 0
	}{
		{"plain", false, time.Date(2027, 1, 5, 0, 0, 0, 0, time.UTC), []float64{4, 5, 6}},
		{"over the year's end", false, time.Date(2026, 12, 30, 0, 0, 0, 0, time.UTC), []float64{363, 364, 0, 1}},
		{"leap year asked, none held", false, time.Date(2028, 2, 27, 0, 0, 0, 0, time.UTC), []float64{57, 58, 58, 59}},
		{"leap day held and asked", true, time.Date(2028, 2, 27, 0, 0, 0, 0, time.UTC), []float64{57, 58, 59, 60}},
		{"leap day held, not asked", true, time.Date(2027, 2, 27, 0, 0, 0, 0, time.UTC), []float64{57, 58, 60, 61}},
		{"last day of a leap year", true, time.Date(2027, 12, 31, 23, 59, 0, 0, time.UTC), []float64{365, 0}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := numbered(t, c.leap).Slice(c.from, len(c.want))
			if err != nil {
				t.Fatal(err)
			}
			if got.Steps() != 24*len(c.want) || got.Days != len(c.want) || got.Start.Format("2006-01-02 15:04 -0700") != c.from.Format("2006-01-02 ")+"00:00 -0700" {
				t.Fatalf("%d steps, %d days from %v", got.Steps(), got.Days, got.Start)
			}
			for i, day := range c.want {
				near.Abs(t, "noon", got.AirC[i*24+12], day, 0, "the day's own number")
			}
		})
	}
	two, err := numbered(t, false).Slice(time.Date(2025, 6, 1, 0, 0, 0, 0, time.UTC), 730)
	if err != nil {
		t.Fatal(err)
	}
	near.Abs(t, "a year on", two.AirC[365*24+12], two.AirC[12], 0, "the same date")
}

func TestSliceRefuses(t *testing.T) {
	c := numbered(t, false)
	from := time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC)
	for _, days := range []int{0, -1, maxSliceDays + 1} {
		if _, err := c.Slice(from, days); err == nil {
			t.Errorf("%d days are taken", days)
		}
	}
	part, err := c.Slice(from, maxSliceDays)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := part.Slice(from, 1); err == nil {
		t.Error("a slice of a slice is taken")
	}
	if _, err := (Columns{}).Slice(from, 1); err == nil {
		t.Error("empty columns are taken")
	}
}
