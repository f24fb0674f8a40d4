package sun

import (
	"math"
	"testing"
	"time"

	"campwright/internal/near"
)

// sunny returns a day at 10 minutes with a clear sky and its split, at a place with high and low sun.
func sunny(t testing.TB, latitude float64, dayOfYear int) (*Geometry, Light) {
	t.Helper()
	o := Place{latitude, 0, 100}.Observer()
	g, err := Track(o, Steps{time.Date(2026, 1, dayOfYear, 0, 5, 0, 0, time.UTC), 10 * time.Minute, 144}, Extra{Constant: SolarConstantASTM})
	if err != nil {
		t.Fatal(err)
	}
	sky, err := NewClearSky(ClearSkyParams{Turbidity: 3.5, Elevation: 100})
	if err != nil {
		t.Fatal(err)
	}
	l := NewLight(g.Len())
	if err := sky.Fill(l, g); err != nil {
		t.Fatal(err)
	}
	return g, l
}

// The flat plane takes a short way; the long way must come out the same, and so must a plane tilted by almost nothing.
func TestPerez_FlatWay(t *testing.T) {
	high, low := 0, 0
	for _, day := range []int{1, 90, 172} {
		g, l := sunny(t, 55, day)
		flat, err := g.OnPlane(Plane{0, 180, 0.4})
		if err != nil {
			t.Fatal(err)
		}
		long := *flat
		long.flat = false
		nearly, err := g.OnPlane(Plane{1e-9, 123, 0.4})
		if err != nil {
			t.Fatal(err)
		}
		for i := range l.GHI {
			if g.Up[i] >= cos85 {
				high++
			} else if g.Up[i] >= 0 {
				low++
			}
			b, s, gr := flat.Perez(i, l.GHI[i], l.DNI[i], l.DHI[i])
			for name, other := range map[string]*PlaneGeometry{"long way": &long, "nearly flat": nearly} {
				b2, s2, g2 := other.Perez(i, l.GHI[i], l.DNI[i], l.DHI[i])
				near.Abs(t, name+" beam", b2, b, 1e-7, "rounding, and a tilt of 1e-9 degrees")
				near.Abs(t, name+" sky", s2, s, 1e-7, "rounding, and a tilt of 1e-9 degrees")
				near.Abs(t, name+" ground", g2, gr, 1e-7, "rounding, and a tilt of 1e-9 degrees")
			}
		}
	}
	if high == 0 || low == 0 {
		t.Errorf("%d steps with the sun above 5 degrees and %d below: want both", high, low)
	}
}

// On a flat plane all models give back the global light while the sun stands above 5 degrees.
func TestTranspose_FlatIsGlobal(t *testing.T) {
	g, l := sunny(t, 40, 120)
	pg, err := g.OnPlane(Plane{Tilt: 0, Azimuth: 77, Albedo: 0.9})
	if err != nil {
		t.Fatal(err)
	}
	compared := 0
	for _, m := range []SkyModel{Perez, HayDavies, Isotropic} {
		dst := NewPlaneLight(g.Len())
		if err := pg.Transpose(dst, l, m); err != nil {
			t.Fatal(err)
		}
		for i := range dst.Beam {
			if g.Up[i] > cos85 || g.Up[i] < 0 {
				compared++
				near.Abs(t, "light on the flat", dst.Beam[i]+dst.Sky[i]+dst.Ground[i], l.GHI[i], 1e-9, "closure: beam and diffuse make the global light")
			}
		}
	}
	if compared < 300 {
		t.Errorf("compared %d steps", compared)
	}
}

// A scene mirrored east to west, or north to south of the equator with half a year's shift of the sun, is the same scene: here the mirror of the
// sun's azimuth and of the plane's.
func TestTranspose_Mirror(t *testing.T) {
	r := random(t)
	for range 2000 {
		s := Sun{r.Float64() * 95, r.Float64() * 360, 1366}
		p := Plane{r.Float64() * 180, r.Float64() * 360, r.Float64()}
		dni, dhi := r.Float64()*1000, r.Float64()*400
		ghi := dhi + dni*max(math.Cos(s.Zenith*radian), 0)
		here := onPlane(t, s, p)
		there := onPlane(t, Sun{s.Zenith, 360 - s.Azimuth, s.Extra}, Plane{p.Tilt, 360 - p.Azimuth, p.Albedo})
		for _, f := range []func(*PlaneGeometry) (float64, float64, float64){
			func(g *PlaneGeometry) (float64, float64, float64) { return g.Perez(0, ghi, dni, dhi) },
			func(g *PlaneGeometry) (float64, float64, float64) { return g.HayDavies(0, ghi, dni, dhi) },
			func(g *PlaneGeometry) (float64, float64, float64) { return g.Isotropic(0, ghi, dni, dhi) },
		} {
			b1, s1, g1 := f(here)
			b2, s2, g2 := f(there)
			near.Abs(t, "beam", b2, b1, 1e-9, "the mirror changes nothing")
			near.Abs(t, "sky", s2, s1, 1e-9, "the mirror changes nothing")
			near.Abs(t, "ground", g2, g1, 1e-9, "the mirror changes nothing")
			if b1 < 0 || s1 < 0 || g1 < 0 {
				t.Fatalf("negative light %v %v %v at %v on %v", b1, s1, g1, s, p)
			}
		}
	}
}

// With the sun at 90.0 degrees the beam still counts, just below it does not and the sky is uniform.
func TestTranspose_Horizon(t *testing.T) {
	wall := Plane{Tilt: 90, Azimuth: 90}
	for _, c := range []struct{ zenith, beam float64 }{{90, 100}, {90.0001, 0}} {
		pg := onPlane(t, Sun{c.zenith, 90, 1366}, wall)
		beam, sky, _ := pg.Perez(0, 20, 100, 20)
		near.Abs(t, "beam", beam, c.beam, 1e-9, "the sun faces the wall")
		if c.beam == 0 {
			near.Abs(t, "sky", sky, 10, 1e-9, "half of a uniform sky")
		}
	}
}

// The clearness bins change where table 1 of [PEREZ-1990] says: the lower limit belongs to the upper bin.
func TestPerezBin_Limits(t *testing.T) {
	for bin, epsilon := range []float64{1.065, 1.23, 1.5, 1.95, 2.8, 4.5, 6.2} {
		const dhi = 100
		dni := (epsilon - 1) * dhi // with the sun overhead
		near.Abs(t, "just below", float64(perezBin(dni*(1-1e-9), dhi, 0)), float64(bin+1), 0, "[PEREZ-1990] table 1")
		near.Abs(t, "just above", float64(perezBin(dni*(1+1e-9), dhi, 0)), float64(bin+2), 0, "[PEREZ-1990] table 1")
	}
}

func TestOnPlane_Refuses(t *testing.T) {
	g, l := sunny(t, 40, 120)
	for name, p := range map[string]Plane{
		"tilt below": {Tilt: -0.1}, "tilt above": {Tilt: 180.1}, "azimuth": {Azimuth: 360.1}, "albedo": {Albedo: 1.01}, "nothing": {Albedo: math.NaN()},
	} {
		if pg, err := g.OnPlane(p); err == nil || pg != nil {
			t.Errorf("%s: got %v and error %v, want none and an error", name, pg, err)
		}
	}
	pg, err := g.OnPlane(Plane{180, -360, 1})
	if err != nil {
		t.Fatalf("at the edge of all ranges: %v", err)
	}
	n := g.Len()
	spoil := func(column []float64, v float64) Light {
		c := append([]float64(nil), column...)
		c[n-1] = v
		return Light{c, l.DNI, l.DHI}
	}
	dst := NewPlaneLight(n)
	for name, src := range map[string]Light{
		"short":        {l.GHI[1:], l.DNI, l.DHI},
		"missing":      {GHI: l.GHI, DNI: l.DNI},
		"negative":     spoil(l.GHI, -0.001),
		"too bright":   spoil(l.GHI, 2500.1),
		"not a number": spoil(l.GHI, math.NaN()),
		"infinite":     spoil(l.GHI, math.Inf(1)),
	} {
		if err := pg.Transpose(dst, src, Perez); err == nil {
			t.Errorf("%s: no error", name)
		}
		for i := range dst.Beam {
			if dst.Beam[i] != 0 || dst.Sky[i] != 0 {
				t.Fatalf("%s: written at step %d although refused", name, i)
			}
		}
	}
	if err := pg.Transpose(NewPlaneLight(n-1), l, Perez); err == nil {
		t.Error("short result: no error")
	}
	if err := pg.Transpose(dst, l, 3); err == nil {
		t.Error("unknown sky model: no error")
	}
	if err := pg.Transpose(dst, spoil(l.GHI, 2500), Perez); err != nil {
		t.Errorf("at the limit: %v", err)
	}
}

func TestTranspose_AllocatesNothing(t *testing.T) {
	g, l := sunny(t, 40, 120)
	pg, err := g.OnPlane(Plane{25, 180, 0.2})
	if err != nil {
		t.Fatal(err)
	}
	dst := NewPlaneLight(g.Len())
	if n := testing.AllocsPerRun(10, func() {
		if err := pg.Transpose(dst, l, Perez); err != nil {
			t.Fatal(err)
		}
	}); n != 0 {
		t.Errorf("%v allocations", n)
	}
}
