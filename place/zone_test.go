package place

import (
	"math"
	"testing"

	"campwright/internal/near"
)

// The clock of the map of zones against the gazetteer's at every town of the table.
func TestZoneAtTowns(t *testing.T) {
	tab := readTable()
	ahead := map[string][2]float64{}
	clock := func(zone string) [2]float64 {
		v, ok := ahead[zone]
		if !ok {
			v = [2]float64{hours(t, zone, 1), hours(t, zone, 7)}
			ahead[zone] = v
		}
		return v
	}
	type tally struct{ towns, wrong int }
	count := map[string]tally{}
	for i := range tab.count {
		p := tab.place(i)
		z, err := Zone(p.Latitude, p.Longitude)
		if err != nil {
			t.Fatal(err)
		}
		for _, key := range []string{"all", p.Country} {
			c := count[key]
			c.towns++
			if clock(z) != clock(p.Zone) {
				c.wrong++
			}
			count[key] = c
		}
	}
	for key, share := range map[string]float64{"all": 0.01, "US": 0.006, "CA": 0.012, "AU": 0.005, "NZ": 0, "DE": 0, "FR": 0, "GB": 0} {
		c := count[key]
		if c.towns < 300 {
			t.Fatalf("%s: %d towns", key, c.towns)
		}
		near.Within(t, key+": share of towns with another clock", float64(c.wrong)/float64(c.towns), 0, share, "the map is coarse at borders")
		t.Logf("%s: %d of %d towns have another clock on the map than in the gazetteer", key, c.wrong, c.towns)
	}
}

// Points at the ends of the map, and at sea; nautical zones have the other sign in their names.
func TestZone(t *testing.T) {
	for _, c := range []struct {
		latitude, longitude float64
		want                string
	}{{90, 0, "Etc/GMT"}, {0, -30, "Etc/GMT+2"}, {51.5, -0.1, "Europe/London"}, {33.66, -114.23, "America/Phoenix"}, {36.5, -110.5, "America/Denver"}} {
		if got, err := Zone(c.latitude, c.longitude); err != nil || got != c.want {
			t.Errorf("%v, %v: %s, %v, want %s", c.latitude, c.longitude, got, err, c.want)
		}
	}
	tried := 0
	for lat := -90.0; lat <= 90; lat += 7.5 {
		for lon := -180.0; lon <= 180; lon += 7.5 {
			if z, err := Zone(lat, lon); err != nil || z == "" {
				t.Errorf("%v, %v: %q, %v", lat, lon, z, err)
			}
			tried++
		}
	}
	if tried != 25*49 {
		t.Fatalf("tried %d", tried)
	}
	for _, p := range [][2]float64{{90.1, 0}, {0, 180.1}, {math.NaN(), 0}, {0, math.Inf(1)}} {
		if z, err := Zone(p[0], p[1]); err == nil || z != "" {
			t.Errorf("%v: %q, %v", p, z, err)
		}
	}
}
