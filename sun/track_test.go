package sun

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"campwright/internal/near"
)

// apart returns the angle between the sun of step i and a position [deg].
func apart(g *Geometry, i int, p Position) float64 {
	sin, cos := math.Sincos(p.Zenith * radian)
	sinAz, cosAz := math.Sincos(p.Azimuth * radian)
	dx, dy, dz := g.East[i]-sin*sinAz, g.North[i]-sin*cosAz, g.Up[i]-cos
	return 2 * math.Asin(min(math.Sqrt(dx*dx+dy*dy+dz*dz)/2, 1)) * degree
}

// The slow twin of [Track] is [At] at every step: anywhere on Earth with the poles and both hemispheres well covered, 1900 to 2100,
// steps from a second to four months.
func TestTrack_SlowTwin(t *testing.T) {
	r := random(t)
	var off, mass, above near.Worst
	for k := range 200 {
		latitude := r.Float64()*180 - 90
		switch k % 8 {
		case 0:
			latitude = 90
		case 1:
			latitude = -90
		case 2:
			latitude = 89.9 + r.Float64()*0.1
		case 3:
			latitude = -89.9 - r.Float64()*0.1
		case 4:
			latitude = 23.4 // the sun passes overhead
		}
		o := Place{latitude, r.Float64()*360 - 180, r.Float64() * 4000}.Observer()
		start := time.Date(1900+r.IntN(200), 1, 1+r.IntN(365), r.IntN(24), r.IntN(60), r.IntN(60), r.IntN(1e9), time.UTC)
		step := time.Duration(math.Exp(r.Float64()*math.Log(120*86400)) * float64(time.Second))
		s := Steps{start, step, 200}
		g, err := Track(o, s, Extra{SolarConstantASTM, Distance})
		if err != nil {
			t.Fatal(err)
		}
		for i := range s.Count {
			p, err := At(s.At(i), o)
			if err != nil {
				t.Fatal(err)
			}
			place := fmt.Sprintf("latitude %.4f at %v, step %v", latitude, s.At(i), step)
			off.See(apart(g, i, p), 0, place)
			above.See(g.Extra[i]/DistanceNormal(SolarConstantASTM, p.Distance), 1, place)
			if z := g.Zenith(i); z < 89.99 {
				mass.See(g.AirMass[i]/AirMass(z), 1, place)
			} else if z > 90.01 {
				mass.See(g.AirMass[i], 0, place)
			}
		}
	}
	if off.Count != 40000 {
		t.Fatalf("compared %d steps", off.Count)
	}
	near.Abs(t, "position at "+off.Place, off.Off, 0, 1e-4, "[Track] promises 0.0001 degrees, a fifth of what the program asks")
	near.Abs(t, "air mass at "+mass.Place, mass.Off, 0, 1e-6, "the table of cubics")
	near.Abs(t, "light above the air at "+above.Place, above.Off, 0, 1e-6, "the cubic between nodes")
	t.Logf("worst: %.2g degrees, air mass %.2g, light above the air %.2g", off.Off, mass.Off, above.Off)
}

func TestTrack_Reference(t *testing.T) {
	for _, c := range positions(t) {
		g, err := Track(c.observer(), Steps{c.Time.Add(-time.Hour), time.Hour, 3}, Extra{SolarConstantASTM, Distance})
		if err != nil {
			t.Fatal(err)
		}
		near.Abs(t, c.ID+" zenith", g.Zenith(1), c.Zenith, 5e-5, "a tenth of the 0.0005 degrees asked for")
		near.Abs(t, c.ID+" azimuth", g.Azimuth(1), c.Azimuth, 5e-5/math.Sin(c.Zenith*radian), "a tenth of the 0.0005 degrees asked for")
		near.Rel(t, c.ID+" above the air", g.Extra[1], SolarConstantASTM/(c.Distance*c.Distance), 1e-6, "the cubic between nodes")
	}
}

// An instant has the same sun in every series that holds it.
func TestTrack_SameInstantSameSun(t *testing.T) {
	o := Place{48.1, 11.6, 520}.Observer()
	start := time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)
	fine, err := Track(o, Steps{start, time.Minute, 5 * 1440}, Extra{Constant: SolarConstantASTM})
	if err != nil {
		t.Fatal(err)
	}
	coarse, err := Track(o, Steps{start.Add(17 * time.Hour), 7 * time.Hour, 13}, Extra{Constant: SolarConstantASTM})
	if err != nil {
		t.Fatal(err)
	}
	for i := range coarse.Len() {
		j := 17*60 + i*7*60
		near.Abs(t, "east", coarse.East[i], fine.East[j], 2e-11, "ten thousand days since 2000 carry 1e-12 of a turn")
		near.Abs(t, "north", coarse.North[i], fine.North[j], 2e-11, "ten thousand days since 2000 carry 1e-12 of a turn")
		near.Abs(t, "up", coarse.Up[i], fine.Up[j], 2e-11, "ten thousand days since 2000 carry 1e-12 of a turn")
		near.Abs(t, "above the air", coarse.Extra[i], fine.Extra[j], 0, "the same civil day")
	}
}

// The vector to the sun has length one, the day of the year turns at the civil midnight of the start's zone, and a geometry tracked anew
// is as one made afresh.
func TestTrack_Columns(t *testing.T) {
	zone := time.FixedZone("", 9*3600+1800)
	s := Steps{time.Date(2024, 12, 30, 0, 15, 0, 0, zone), 30 * time.Minute, 48 * 4}
	g := new(Geometry)
	o := Place{-31.5, 136.4, 150}.Observer()
	if err := g.Track(o, Steps{s.Start.AddDate(-3, 0, 0), time.Minute, 3000}, Extra{SolarConstantWRC, Distance}); err != nil {
		t.Fatal(err)
	}
	if err := g.Track(o, s, Extra{Constant: SolarConstantASTM}); err != nil {
		t.Fatal(err)
	}
	fresh, err := Track(o, s, Extra{Constant: SolarConstantASTM})
	if err != nil {
		t.Fatal(err)
	}
	days := []int{365, 366, 1, 2}
	for i := range s.Count {
		near.Abs(t, "length", g.East[i]*g.East[i]+g.North[i]*g.North[i]+g.Up[i]*g.Up[i], 1, 1e-11, "a unit vector")
		near.Abs(t, "above the air", g.Extra[i], SpencerNormal(SolarConstantASTM, days[i/48]), 0, "leap year's end at +9:30")
		for _, c := range [][2]float64{{g.East[i], fresh.East[i]}, {g.Up[i], fresh.Up[i]}, {g.AirMass[i], fresh.AirMass[i]}, {g.zenith[i], fresh.zenith[i]}} {
			near.Abs(t, "tracked anew", c[0], c[1], 0, "the same arithmetic")
		}
	}
	if g.Len() != s.Count {
		t.Errorf("length %d, want %d", g.Len(), s.Count)
	}
}

func TestTrack_Refuses(t *testing.T) {
	start := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	good := Steps{start, time.Hour, 24}
	x := Extra{Constant: SolarConstantASTM}
	for name, c := range map[string]struct {
		o Observer
		s Steps
		x Extra
	}{
		"observer":        {Place{Latitude: math.NaN()}.Observer(), good, x},
		"no steps":        {Place{}.Observer(), Steps{start, time.Hour, 0}, x},
		"too many steps":  {Place{}.Observer(), Steps{start, time.Second, 10_000_001}, x},
		"step of zero":    {Place{}.Observer(), Steps{start, 0, 24}, x},
		"step backwards":  {Place{}.Observer(), Steps{start, -time.Hour, 24}, x},
		"step too long":   {Place{}.Observer(), Steps{start, 366*24*time.Hour + 1, 24}, x},
		"ends too late":   {Place{}.Observer(), Steps{time.Date(5999, 1, 1, 0, 0, 0, 0, time.UTC), 24 * time.Hour, 800}, x},
		"starts too soon": {Place{}.Observer(), Steps{time.Date(-2001, 1, 1, 0, 0, 0, 0, time.UTC), time.Hour, 24}, x},
		"constant low":    {Place{}.Observer(), good, Extra{Constant: 1299.9}},
		"constant high":   {Place{}.Observer(), good, Extra{Constant: 1400.1}},
		"method":          {Place{}.Observer(), good, Extra{SolarConstantASTM, 2}},
	} {
		if g, err := Track(c.o, c.s, c.x); err == nil || g != nil {
			t.Errorf("%s: got %v and error %v, want none and an error", name, g, err)
		}
	}
	for _, s := range []Sun{{180.1, 0, 1366}, {-0.1, 0, 1366}, {10, 361, 1366}, {10, 0, 1199}, {10, 0, math.Inf(1)}, {math.NaN(), 0, 1366}} {
		if g, err := GeometryOf([]Sun{{10, 0, 1366}, s}); err == nil || g != nil {
			t.Errorf("sun %v: got %v and error %v, want none and an error", s, g, err)
		}
	}
}

// site is one place of the yearly traces.
type site struct {
	Site      string  `json:"site"`
	Weather   string  `json:"normalised_file"`
	Latitude  float64 `json:"latitude_deg"`
	Longitude float64 `json:"longitude_deg"`
	Elevation float64 `json:"elevation_m"`
	OffsetH   float64 `json:"utc_offset_h"`
	Records   int     `json:"records"`
}

// Year by year, record by record: the sun and the light on a flat and on a tilted plane of real and invented weather, computed
// independently and kept beside the reference.
func TestTranspose_YearlyTraces(t *testing.T) {
	dir := filepath.Join(reference(t), "oracle")
	sites := 0
	for _, list := range []struct{ file, prefix, tilted string }{
		{"chain_invented.json", "chain_trace_invented_", "tilt25"},
		{"chain.json", "chain_trace_", "s25"},
	} {
		data, err := os.ReadFile(filepath.Join(dir, list.file))
		if err != nil {
			t.Fatal(err)
		}
		var chain struct {
			Sites []site `json:"sites"`
		}
		if err := json.Unmarshal(data, &chain); err != nil {
			t.Fatal(err)
		}
		for _, s := range chain.Sites {
			sites++
			t.Run(s.Site, func(t *testing.T) {
				trace := rows(t, filepath.Join(dir, list.prefix+s.Site+".csv"), s.Records)
				weather := rows(t, filepath.Join(dir, s.Weather), s.Records)
				compareYear(t, s, trace, weather, list.tilted)
			})
		}
	}
	if sites != 6 {
		t.Errorf("found %d sites, want 6", sites)
	}
}

func compareYear(t *testing.T, s site, trace, weather []row, tilted string) {
	instant := func(i int) time.Time {
		at, err := time.Parse(time.RFC3339Nano, weather[i]["sun_time_utc"])
		if err != nil {
			t.Fatal(err)
		}
		return at.In(time.FixedZone("", int(s.OffsetH*3600)))
	}
	steps := Steps{instant(0), instant(1).Sub(instant(0)), s.Records}
	o := Place{s.Latitude, s.Longitude, s.Elevation}.Observer()
	o.DeltaT = 67
	g, err := Track(o, steps, Extra{Constant: SolarConstantASTM})
	if err != nil {
		t.Fatal(err)
	}
	src := NewLight(s.Records)
	for i, w := range weather {
		if !steps.At(i).Equal(instant(i)) {
			t.Fatalf("record %d lies at %v, not in even steps", i, instant(i))
		}
		src.GHI[i], src.DNI[i], src.DHI[i] = w.num(t, "ghi_w_m2"), w.num(t, "dni_w_m2"), w.num(t, "dhi_w_m2")
	}
	facing := 180.0
	if s.Latitude < 0 {
		facing = 0
	}
	light := func(tilt float64, m SkyModel) []float64 {
		pg, err := g.OnPlane(Plane{tilt, facing, 0.2})
		if err != nil {
			t.Fatal(err)
		}
		dst := NewPlaneLight(s.Records)
		if err := pg.Transpose(dst, src, m); err != nil {
			t.Fatal(err)
		}
		for i := range dst.Beam {
			dst.Beam[i] += dst.Sky[i] + dst.Ground[i]
		}
		return dst.Beam
	}
	columns := map[string][]float64{"poa_flat_perez_w_m2": light(0, Perez), "poa_" + tilted + "_perez_w_m2": light(25, Perez)}
	if _, ok := trace[0]["poa_"+tilted+"_haydavies_w_m2"]; ok {
		columns["poa_"+tilted+"_haydavies_w_m2"] = light(25, HayDavies)
	}
	var zenith, azimuth near.Worst
	for i, r := range trace {
		z := r.num(t, "apparent_zenith_deg")
		zenith.See(g.Zenith(i), z, r["interval_start_local"])
		azimuth.See(wrap180(g.Azimuth(i)-r.num(t, "azimuth_deg"))*math.Sin(z*radian), 0, r["interval_start_local"])
	}
	near.Abs(t, "zenith at "+zenith.Place, zenith.Off, 0, 5e-5, "five decimals printed, and the cubic between nodes")
	near.Abs(t, "azimuth at "+azimuth.Place, azimuth.Off, 0, 5e-5, "five decimals printed, and the cubic between nodes")
	for name, values := range columns {
		var off near.Worst
		for i, r := range trace {
			off.See(values[i], r.num(t, name), r["interval_start_local"])
		}
		t.Logf("%s: worst %.2g W/m² at %s", name, off.Off, off.Place)
		near.Abs(t, name+" at "+off.Place, off.Off, 0, 0.002, "0.00005 degrees of a beam of 1000 W/m², and four decimals printed")
	}
}
