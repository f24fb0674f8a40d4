package oracle

import (
	"math"
	"testing"
	"time"

	"campwright/internal/near"
	"campwright/sun"
	"campwright/weather"
)

// A measured leap year whose file leaves out 29 February is followed across the hole: every instant has its own sun.
func TestFollowOverMissingLeapDay(t *testing.T) {
	w := weather.Year{Site: weather.Site{Latitude: 44, Longitude: -100, ElevationM: 500, UTCOffsetH: -6}, Step: time.Hour}
	for i := range 100 * 24 {
		day := i / 24
		if day > 58 {
			day++
		}
		w.Records = append(w.Records, weather.Record{SunTime: time.Date(2020, 1, 1+day, 6+i%24, 30, 0, 0, time.UTC)})
	}
	g, err := follow(w, -6)
	if err != nil {
		t.Fatal(err)
	}
	if g.Len() != len(w.Records) {
		t.Fatalf("%d suns for %d records", g.Len(), len(w.Records))
	}
	o := sun.Place{Latitude: 44, Longitude: -100, Elevation: 500}.Observer()
	o.DeltaT = chainDeltaT
	for _, i := range []int{0, 59*24 - 1, 59 * 24, 60*24 + 7, len(w.Records) - 1} {
		p, err := sun.At(w.Records[i].SunTime, o)
		if err != nil {
			t.Fatal(err)
		}
		near.Abs(t, "zenith", g.Zenith(i), p.Zenith, 1e-4, "track against full positions")
	}
}

// The clock of a table is told by its first record: the site's own or UTC, and nothing else.
func TestClock(t *testing.T) {
	head := "interval_start_local,duration_h,sun_time_utc,ghi_w_m2\n"
	for _, c := range []struct {
		name, row string
		offset    float64
		mid       Num
		want      float64
	}{
		{"local", "2019-01-01T00:00:00,1.0,2019-01-01T07:30:00.000Z,0", -7, Num{V: 30, Set: true}, -7},
		{"half an hour", "2019-01-01T00:00:00,0.5,2018-12-31T14:45:00.000Z,0", 9.5, Num{V: 15, Set: true}, 9.5},
		{"UTC", "2019-01-01T00:00:00,1.0,2019-01-01T00:10:33.960Z,0", 1, Num{V: 10.566, Set: true}, 0},
		{"not told", "2019-01-01T00:00:00,1.0,2019-01-01T07:30:00.000Z,0", -7, Num{}, -7},
		{"neither", "2019-01-01T00:00:00,1.0,2019-01-01T05:30:00.000Z,0", -7, Num{V: 30, Set: true}, math.NaN()},
		{"no times", "a,b,c,d", -7, Num{V: 30, Set: true}, math.NaN()},
	} {
		site := chainSite{UTCOffset: c.offset, MidOffset: c.mid}
		got, err := site.clock(head + c.row)
		if (err != nil) != math.IsNaN(c.want) {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if err == nil && got != c.want {
			t.Errorf("%s: %g, want %g", c.name, got, c.want)
		}
	}
}
