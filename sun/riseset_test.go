package sun

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"campwright/internal/near"
)

var seed = flag.Uint64("seed", 20261124, "seed of the random cases")

func random(t testing.TB) *rand.Rand {
	t.Logf("seed %d", *seed)
	return rand.New(rand.NewPCG(*seed, 1))
}

func TestRiseSet_Reference(t *testing.T) {
	states := map[string]DayState{"normal": Normal, "always_up": AlwaysUp, "always_down": AlwaysDown, "partial": Partial}
	crossings := 0
	for _, c := range positions(t) {
		zone := time.FixedZone("", int(c.OffsetH*3600))
		d, err := RiseSet(c.Time.In(zone), c.observer())
		if err != nil {
			t.Errorf("%s: %v", c.ID, err)
			continue
		}
		if date := c.Time.In(zone).Format(time.DateOnly); date != c.LocalDate {
			t.Errorf("%s: the case's local date is %s, its instant falls on %s", c.ID, c.LocalDate, date)
		}
		want, ok := states[c.DayState]
		if !ok || d.State != want {
			t.Errorf("%s: day is %v, want %s", c.ID, d.State, c.DayState)
		}
		for _, e := range []struct {
			what string
			got  time.Time
			want *string
		}{{"rise", d.Rise, c.Sunrise}, {"set", d.Set, c.Sunset}} {
			if e.want == nil {
				if !e.got.IsZero() {
					t.Errorf("%s: %s at %v, want none", c.ID, e.what, e.got)
				}
				continue
			}
			at, err := time.Parse(time.RFC3339Nano, *e.want)
			if err != nil {
				t.Fatal(err)
			}
			crossings++
			near.Abs(t, c.ID+" "+e.what, e.got.Sub(at).Seconds(), 0, 0.02, "printed to the millisecond; its observer stands at 0 m")
		}
	}
	if crossings != 58 {
		t.Errorf("compared %d crossings, want 58", crossings)
	}
}

// Printed tables of the U.S. Naval Observatory, to the minute.
func TestRiseSet_USNO(t *testing.T) {
	places := map[string]struct {
		place  Place
		offset int
	}{
		"Golden CO 39.0,-105.0 (MST)":         {Place{39, -105, 0}, -7},
		"Beijing 39.917,116.383 (CST)":        {Place{39.917, 116.383, 0}, 8},
		"Golden CO 39.742476,-105.1786 (MST)": {Place{39.742476, -105.1786, 0}, -7},
	}
	for _, r := range rows(t, "testdata/sunrise_sunset_usno.csv", 10) {
		p, ok := places[r["site"]]
		if !ok {
			t.Fatalf("unknown site %q", r["site"])
		}
		day, err := time.ParseInLocation(time.DateOnly, r["date"], time.FixedZone("", p.offset*3600))
		if err != nil {
			t.Fatal(err)
		}
		d, err := RiseSet(day, p.place.Observer())
		if err != nil {
			t.Fatal(err)
		}
		for what, got := range map[string]time.Time{"sunrise_local_standard": d.Rise, "sunset_local_standard": d.Set} {
			var hour, minute int
			if _, err := fmt.Sscanf(strings.TrimSpace(r[what]), "%d:%d", &hour, &minute); err != nil {
				t.Fatal(err)
			}
			near.Abs(t, r["site"]+" "+r["date"]+" "+what, got.Sub(day).Minutes(), float64(60*hour+minute), 0.55, "rounded to the minute; the table's own delta T")
		}
	}
}

// A second way: the full position every minute of days all over the Earth, with the polar circles well covered.
func TestRiseSet_EveryMinute(t *testing.T) {
	r := random(t)
	states := map[DayState]int{}
	for range 40 {
		latitude := r.Float64()*180 - 90
		if r.IntN(2) == 0 {
			latitude = math.Copysign(63+r.Float64()*10, latitude)
		}
		o := Place{latitude, r.Float64()*360 - 180, r.Float64() * 3000}.Observer()
		day := time.Date(2000+r.IntN(60), 1, 1+r.IntN(365), 12, 0, 0, 0, time.FixedZone("", r.IntN(25)*3600-12*3600))
		d, err := RiseSet(day, o)
		if err != nil {
			t.Fatal(err)
		}
		states[d.State]++
		start := time.Date(day.Year(), day.Month(), day.Day(), 0, 0, 0, 0, day.Location())
		up, rise, set := 0, -1, -1
		var before bool
		for minute := 0; minute <= 24*60; minute++ {
			p, err := At(start.Add(time.Duration(minute)*time.Minute), o)
			if err != nil {
				t.Fatal(err)
			}
			now := 90-p.TrueZenith >= -0.8333
			if now {
				up++
			}
			if minute > 0 && now && !before && rise < 0 {
				rise = minute
			}
			if minute > 0 && !now && before {
				set = minute
			}
			before = now
		}
		name := fmt.Sprintf("%.3f %.3f %v", o.Latitude, o.Longitude, start)
		near.Abs(t, name+" up", d.Up.Minutes(), float64(up), 2.5, "counted by the minute; a pair of crossings within one is not seen")
		if rise > 0 {
			near.Within(t, name+" rise", d.Rise.Sub(start).Minutes(), float64(rise)-1.001, float64(rise)+0.001, "the minute in which it rises")
		}
		if set > 0 {
			near.Within(t, name+" set", d.Set.Sub(start).Minutes(), float64(set)-1.001, float64(set)+0.001, "the minute in which it sets")
		}
	}
	if states[Normal] == 0 || states[AlwaysUp] == 0 || states[AlwaysDown] == 0 {
		t.Errorf("the cases met %v: want all of normal, always up, always down", states)
	}
}

// On its way into the polar day and night the sun dips or shows for less and less time, down to seconds, at either end of the day too.
// A second way: the airless sun every ten seconds, counted, and the full position at each crossing.
func TestRiseSet_Grazing(t *testing.T) {
	shortest, partial, counted := 24*time.Hour, 0, 0
	for latitude := 65.6; latitude < 68; latitude += 0.21 {
		o := Place{Latitude: latitude, Longitude: 20}.Observer()
		airless := o
		airless.Pressure = 0
		for _, offset := range []int{-8, 1, 2} { // solar midnight falls on 23:40 at +1
			for _, dayOfYear := range []int{138, 143, 148, 153, 158, 163, 168, 172, 336, 345, 355} {
				at := time.Date(2026, 1, dayOfYear, 12, 0, 0, 0, time.FixedZone("", offset*3600))
				d, err := RiseSet(at, o)
				if err != nil {
					t.Fatal(err)
				}
				g, err := Track(airless, Steps{at.Add(-12*time.Hour + 5*time.Second), 10 * time.Second, 8640}, Extra{Constant: SolarConstantASTM})
				if err != nil {
					t.Fatal(err)
				}
				up := 0
				for _, u := range g.Up {
					if u >= sinRise {
						up++
					}
				}
				counted++
				near.Abs(t, fmt.Sprintf("up at %.2f in %v", latitude, at), d.Up.Seconds(), float64(10*up), 40, "counted every ten seconds, up to four ends of spells")
				if spell := min(d.Up, 24*time.Hour-d.Up); spell > 0 {
					shortest = min(shortest, spell)
				}
				if d.State == Partial {
					partial++
				}
				for _, crossing := range []time.Time{d.Rise, d.Set} {
					if crossing.IsZero() {
						continue
					}
					p, err := At(crossing, o)
					if err != nil {
						t.Fatal(err)
					}
					near.Abs(t, "elevation at the crossing", 90-p.TrueZenith, -0.8333, 2e-5, "the definition of rise and set")
				}
			}
		}
	}
	if counted == 0 || shortest > 10*time.Minute || partial == 0 {
		t.Errorf("%d days, shortest spell %v, %d partial days: the cases do not graze the horizon", counted, shortest, partial)
	}
}

// A night of some four minutes falls between two samples of the search more often than not. The latitude is chosen, by the airless sun every
// ten seconds, so that the lowest sun is 0.001 degrees below the horizon.
func TestRiseSet_NightOfMinutes(t *testing.T) {
	for longitude := 0.0; longitude < 2.5; longitude += 0.25 {
		at := time.Date(2026, 6, 10, 12, 0, 0, 0, time.UTC)
		lowest := func(latitude float64) float64 {
			o := Observer{Place: Place{Latitude: latitude, Longitude: longitude + 60}, Temperature: 12}
			g, err := Track(o, Steps{at.Add(-12 * time.Hour), 10 * time.Second, 8640}, Extra{Constant: SolarConstantASTM})
			if err != nil {
				t.Fatal(err)
			}
			low := 1.0
			for _, u := range g.Up {
				low = min(low, u)
			}
			return math.Asin(low) * degree
		}
		south, north := 64.0, 68.0
		for range 30 {
			middle := (south + north) / 2
			if lowest(middle) < -0.8343 {
				south = middle
			} else {
				north = middle
			}
		}
		o := Place{Latitude: south, Longitude: longitude + 60}.Observer()
		d, err := RiseSet(at, o)
		if err != nil {
			t.Fatal(err)
		}
		// Half the night is √(2·0.001°/(cos φ·cos δ)) of hour angle: 2.2 minutes here, with φ 66 and δ 23 degrees.
		near.Abs(t, fmt.Sprintf("night at longitude %.2f", longitude+60), (24*time.Hour - d.Up).Minutes(), 4.4, 0.4, "the sun's height as a parabola in the hour angle")
		if d.State != Normal || !d.Set.Before(d.Rise) {
			t.Errorf("longitude %v: day is %v, set %v, rise %v", longitude, d.State, d.Set, d.Rise)
		}
	}
}

// The civil day has 23 and 25 hours when clocks change, and the sun's day does not care.
func TestRiseSet_ClockChange(t *testing.T) {
	zone, err := time.LoadLocation("America/Denver")
	if err != nil {
		t.Skipf("no time zone data on this machine: %v", err)
	}
	o := Place{39.74, -104.98, 1600}.Observer()
	for _, day := range []time.Time{time.Date(2026, 3, 8, 0, 0, 0, 0, zone), time.Date(2026, 11, 1, 23, 59, 0, 0, zone)} {
		d, err := RiseSet(day, o)
		if err != nil {
			t.Fatal(err)
		}
		standard, err := RiseSet(time.Date(day.Year(), day.Month(), day.Day(), 12, 0, 0, 0, time.FixedZone("", -7*3600)), o)
		if err != nil {
			t.Fatal(err)
		}
		near.Abs(t, "rise", d.Rise.Sub(standard.Rise).Seconds(), 0, 0.01, "the same instant by two clocks")
		near.Abs(t, "set", d.Set.Sub(standard.Set).Seconds(), 0, 0.01, "the same instant by two clocks")
		if d.Rise.Location() != zone {
			t.Errorf("rise is told in %v, want %v", d.Rise.Location(), zone)
		}
	}
}

func TestRiseSet_Refuses(t *testing.T) {
	day := time.Date(2026, 6, 1, 0, 0, 0, 0, time.UTC)
	for name, o := range map[string]Observer{
		"latitude above":  Place{Latitude: 90.001}.Observer(),
		"longitude below": Place{Longitude: -180.001}.Observer(),
		"not a number":    Place{Latitude: math.NaN()}.Observer(),
		"infinite height": {Place: Place{Elevation: math.Inf(1)}},
		"pressure":        {Pressure: 1200.1},
		"temperature":     {Temperature: -90.1},
		"delta T":         {DeltaT: 7000.1},
	} {
		if d, err := RiseSet(day, o); err == nil || d != (Daylight{}) {
			t.Errorf("%s: got %v and error %v, want none and an error", name, d, err)
		}
		if p, err := At(day, o); err == nil || p != (Position{}) {
			t.Errorf("%s: got %v and error %v, want none and an error", name, p, err)
		}
	}
	for _, year := range []int{-2001, 6001} {
		if _, err := RiseSet(time.Date(year, 1, 1, 0, 0, 0, 0, time.UTC), Place{}.Observer()); err == nil {
			t.Errorf("year %d: no error", year)
		}
	}
	edge := Observer{Place: Place{90, -180, 9000}, Pressure: 1200, Temperature: 60, DeltaT: 7000}
	if _, err := RiseSet(time.Date(6000, 12, 30, 0, 0, 0, 0, time.UTC), edge); err != nil {
		t.Errorf("at the edge of all ranges: %v", err)
	}
}
