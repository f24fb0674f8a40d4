package weather

import (
	"fmt"
	"math"
	"testing"
	"time"

	"campwright/internal/near"
	"campwright/sun"
)

func southern(t testing.TB) Year {
	t.Helper()
	s := referenceSites(t, "../internal/oracle/testdata/chain_invented.json")[1]
	return readFile(t, "../internal/oracle/testdata/"+s.Normalised+".gz", s.place())
}

// At every step that divides the records' intervals, the energy of each record comes back, and none is negative. The southern year has
// half-hour records and a clock half an hour off.
func TestColumnsKeepEnergy(t *testing.T) {
	for _, y := range []Year{Invented(), southern(t)} {
		for _, step := range []int{1, 5, 6, 10, 30, 60} {
			minutes := int(y.Step.Minutes())
			if minutes%step != 0 {
				continue
			}
			c, err := y.Columns(step)
			if err != nil {
				t.Fatal(err)
			}
			per := minutes / step
			lit := 0
			for i, r := range y.Records {
				for _, q := range []struct {
					name string
					want float64
					col  []float64
				}{{"GHI", r.GHI, c.GHI}, {"DNI", r.DNI, c.DNI}, {"DHI", r.DHI, c.DHI}} {
					sum := 0.0
					for _, v := range q.col[i*per : (i+1)*per] {
						if !(v >= 0) {
							t.Fatalf("%s of record %d at %d min: %g", q.name, i, step, v)
						}
						sum += v
					}
					if d := math.Abs(sum/float64(per) - q.want); d > 1e-9 {
						t.Fatalf("%s, record %d, step %d min: mean %g, want %g", q.name, i, step, sum/float64(per), q.want)
					}
					if q.want > 0 {
						lit++
					}
				}
			}
			if lit < 10000 {
				t.Fatalf("only %d lit values compared", lit)
			}
		}
	}
}

// Whatever the step, the year's energy is kept, also where steps straddle records: 40 minutes over hours, and stamps at the start of
// half-hours, whose light is centred on the stamp.
func TestColumnsKeepYear(t *testing.T) {
	half := mustRead(t, writePSM(samples(in2017), 2, 0, -7))
	jrc := mustRead(t, writeJRC(samples(stitched), "0.1761"))
	for _, y := range []Year{Invented(), half, jrc} {
		want := sum(y)
		for _, step := range []int{1, 8, 10, 15, 40, 48, 60} {
			c, err := y.Columns(step)
			if err != nil {
				t.Fatal(err)
			}
			for _, q := range []struct {
				name string
				want float64
				col  []float64
			}{{"GHI", want.ghi, c.GHI}, {"DNI", want.dni, c.DNI}, {"DHI", want.dhi, c.DHI}} {
				total := 0.0
				for _, v := range q.col {
					total += v * float64(step) / 60 / 1000
				}
				near.Rel(t, fmt.Sprintf("%s of the year at %d min, %s", q.name, step, y.Format), total, q.want, 1e-12, "energy is moved, not made")
			}
		}
	}
}

// A minute series of clear sky, averaged to hours and laid out again, must come back close, and much closer than the hour's mean held
// flat. The truth is the clear sky of Haurwitz on the sun's positions, as package sun gives both.
func TestColumnsAgainstMinutes(t *testing.T) {
	site := InventedSite
	o := sun.Place{Latitude: site.Latitude, Longitude: site.Longitude, Elevation: site.ElevationM}.Observer()
	zone := time.FixedZone("", -7*3600)
	y := Year{Site: site, LocalOffsetH: -7, Step: time.Hour, Records: make([]Record, 8760)}
	day := 80 // the equinox, when twilight is short
	var truth [1440]float64
	for m := range truth {
		p, err := sun.At(time.Date(2019, 1, 1+day, 0, m, 30, 0, zone), o)
		if err != nil {
			t.Fatal(err)
		}
		if c := math.Cos(p.TrueZenith * math.Pi / 180); c > 0 {
			truth[m] = 1098 * c * math.Exp(-0.057/c)
		}
	}
	for i := range y.Records {
		start := time.Date(2019, 1, 1, i, 0, 0, 0, zone)
		y.Records[i] = Record{Start: start, DurationH: 1, SunTime: start.Add(30 * time.Minute)}
		if i/24 == day {
			for m := range 60 {
				y.Records[i].GHI += truth[i%24*60+m] / 60
			}
		}
	}
	c, err := y.Columns(1)
	if err != nil {
		t.Fatal(err)
	}
	shaped, flat, peak := 0.0, 0.0, 0.0
	for m := range truth {
		peak = max(peak, truth[m])
		shaped = max(shaped, math.Abs(c.GHI[day*1440+m]-truth[m]))
		flat = max(flat, math.Abs(y.Records[day*24+m/60].GHI-truth[m]))
	}
	near.Within(t, "worst minute, shaped", shaped, 0, 25, "the clear sky bends away from the cosine near the horizon")
	near.Within(t, "worst minute, held flat", flat, 4*shaped, peak, "the flat hour is far worse, or the shape does nothing")
}

// Where a record closes, so does every step of it: global = direct·cos z + diffuse with the sun at the middle of the step.
func TestColumnsClose(t *testing.T) {
	y := Invented()
	o := sun.Place{Latitude: y.Site.Latitude, Longitude: y.Site.Longitude, Elevation: y.Site.ElevationM}.Observer()
	for i := range y.Records {
		p, err := pathAt(y.Site, y.Records[i].SunTime)
		if err != nil {
			t.Fatal(err)
		}
		r := &y.Records[i]
		if up := (p.up(30) - p.up(-30)) / (60 * radPerMin); up > 1e-6 { // the direct light falls evenly while the sun is up
			r.GHI = r.DHI + r.DNI/up*(p.light(30)-p.light(-30))/(60*radPerMin)
		}
	}
	c, err := y.Columns(5)
	if err != nil {
		t.Fatal(err)
	}
	worst := near.Worst{What: "closure"}
	for k := 0; k < c.Steps(); k += 7 { // every seventh of 105,120 steps: all minutes of the hour, all days
		if c.GHI[k] == 0 {
			continue
		}
		at := c.Start.Add(time.Duration(k)*5*time.Minute + 150*time.Second)
		p, err := sun.At(at, o)
		if err != nil {
			t.Fatal(err)
		}
		if p.TrueZenith > 88 { // a step with the horizon in it
			continue
		}
		worst.See(c.DNI[k]*math.Cos(p.TrueZenith*math.Pi/180)+c.DHI[k], c.GHI[k], at.String())
	}
	if worst.Count < 5000 {
		t.Fatalf("only %d steps compared", worst.Count)
	}
	near.Within(t, "closure at "+worst.Place, worst.Off, 0, 0.5, "declination held for an hour moves the cosine by 3e-4 at most, times 1000 W/m²; bend of the cosine within a step 1e-4")
}

// Temperature and wind run straight between the middles of records.
func TestColumnsTemperature(t *testing.T) {
	y := Invented()
	c, err := y.Columns(60)
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range y.Records {
		if c.AirC[i] != r.AirC || c.WindMS[i] != r.WindMS {
			t.Fatalf("hour %d: %g, want the record's %g", i, c.AirC[i], r.AirC)
		}
	}
	if c, err = y.Columns(30); err != nil {
		t.Fatal(err)
	}
	n := len(y.Records)
	for i := range y.Records {
		before, here := y.Records[(i-1+n)%n].AirC, y.Records[i].AirC
		near.Abs(t, "first half-hour", c.AirC[2*i], here+(before-here)/4, 1e-9, "a quarter of the way back, by hand")
	}
}

// A clock one hour further east shows the same weather one step later.
func TestColumnsAt(t *testing.T) {
	y := Invented()
	a, err := y.Columns(60)
	if err != nil {
		t.Fatal(err)
	}
	b, err := y.ColumnsAt(60, -6)
	if err != nil {
		t.Fatal(err)
	}
	n := a.Steps()
	for k := range a.GHI {
		if math.Abs(b.GHI[(k+1)%n]-a.GHI[k]) > 1e-9 || b.AirC[(k+1)%n] != a.AirC[k] {
			t.Fatalf("step %d: %g and %g", k, a.GHI[k], b.GHI[(k+1)%n])
		}
	}
	if _, off := b.Start.Zone(); off != -6*3600 {
		t.Error(b.Start)
	}
}

func TestColumnsRefuse(t *testing.T) {
	y := Invented()
	for _, step := range []int{-1, 0, 7, 11, 61, 120} {
		if _, err := y.Columns(step); err == nil {
			t.Errorf("step %d min is taken", step)
		}
	}
	for _, h := range []float64{math.NaN(), math.Inf(1), 14.1, -14.1} {
		if _, err := y.ColumnsAt(60, h); err == nil {
			t.Errorf("a clock %g h from UTC is taken", h)
		}
	}
	if _, err := (Year{}).Columns(60); err == nil {
		t.Error("a year without records is taken")
	}
}

// Light in the dark is spread evenly, and a sliver of sunrise never brings a beam above the sun's own.
func TestColumnsOddLight(t *testing.T) {
	y := Invented()
	for i := range y.Records {
		y.Records[i].GHI, y.Records[i].DNI, y.Records[i].DHI = 300, 600, 250
	}
	c, err := y.Columns(1)
	if err != nil {
		t.Fatal(err)
	}
	for k := range c.GHI {
		if c.DNI[k] > aboveAir+1e-6 || c.GHI[k] > aboveAir+1e-6 {
			t.Fatalf("minute %d: direct %g, global %g", k, c.DNI[k], c.GHI[k])
		}
	}
	for m := range 60 {
		near.Abs(t, "midnight", c.GHI[m], 300, 1e-9, "spread evenly")
	}
}

// The integrals of the sun's path against sums over 0.01-minute slices, at latitudes from pole to pole, in winter and summer.
func TestPathIntegrals(t *testing.T) {
	compared := 0
	for lat := -90.0; lat <= 90; lat += 7.5 {
		for _, month := range []time.Month{1, 3, 6, 10} {
			for hour := 0; hour < 24; hour += 5 {
				p, err := pathAt(Site{Latitude: lat, Longitude: 13}, time.Date(2019, month, 21, hour, 40, 0, 0, time.UTC))
				if err != nil {
					t.Fatal(err)
				}
				light, up := 0.0, 0.0
				const d = 0.01
				for m := -30 + d/2; m < 30; m += d {
					if z := p.cosZenith(m); z > 0 {
						light += z * d * radPerMin
						up += d * radPerMin
					}
				}
				near.Abs(t, "light", p.light(30)-p.light(-30), light, 1e-6, "slices of 0.01 min")
				near.Abs(t, "time up", p.up(30)-p.up(-30), up, 2*d*radPerMin, "one slice at rise and one at set")
				compared++
			}
		}
	}
	if compared != 25*4*5 {
		t.Fatalf("%d compared", compared)
	}
}

// The cosine of the zenith from the path is that of the full position of package sun.
func TestPathAgainstPosition(t *testing.T) {
	for _, lat := range []float64{-70, -33.5, 0, 39.1, 66, 85} {
		o := sun.Place{Latitude: lat, Longitude: -111.2}.Observer()
		for day := 3; day < 365; day += 11 {
			at := time.Date(2019, 1, day, 20, 17, 0, 0, time.UTC)
			p, err := pathAt(Site{Latitude: lat, Longitude: -111.2}, at)
			if err != nil {
				t.Fatal(err)
			}
			want, err := sun.At(at.Add(25*time.Minute), o)
			if err != nil {
				t.Fatal(err)
			}
			near.Abs(t, "cosine of the zenith 25 min on", p.cosZenith(25), math.Cos(want.TrueZenith*math.Pi/180), 2.5e-4, "declination held, 0.007 degrees in 25 min, and parallax, 0.0024 degrees")
		}
	}
}
