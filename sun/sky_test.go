package sun

import (
	"math"
	"testing"

	"campwright/internal/near"
)

// Observed delta T at the start of years, from the International Earth Rotation Service's series (leap seconds, 32.184 s and UT1-UTC), to
// 0.1 s; 1900 and 1950 are values the polynomials are published to pass through.
func TestDeltaT_Observed(t *testing.T) {
	for _, c := range []struct{ year, seconds, tol float64 }{
		{1900, -2.8, 0.1}, {1950, 29.1, 0.1},
		{1973, 43.4, 1}, {1980, 50.5, 1}, {1990, 56.9, 1}, {2000, 63.8, 1}, {2005, 64.7, 1}, {2010, 66.1, 1},
		{2015, 67.6, 2}, {2020, 69.4, 3}, {2025, 69.1, 6},
	} {
		near.Abs(t, "delta T", DeltaT(c.year), c.seconds, c.tol, "what its comment promises")
	}
	for _, c := range positions(t)[1:] {
		year := float64(c.Time.Year()) + (float64(c.Time.Month())-0.5)/12
		near.Abs(t, c.ID+" delta T", DeltaT(year), c.DeltaT, 0.006, "the same polynomial at mid-month, printed to two decimals")
	}
	near.Abs(t, "before", DeltaT(1800), DeltaT(1900), 0, "held at 1900")
	near.Abs(t, "after", DeltaT(2500), DeltaT(2150), 0, "held at 2150")
	for year := 1900.5; year < 2150; year++ {
		near.Abs(t, "step over a year", DeltaT(year+1)-DeltaT(year), 1, 5, "no jump where the polynomials meet")
	}
}

// Clear sky at sea level, sun overhead, turbidity 2 to 6: within what measurement ever shows, less beam and more diffuse with haze.
func TestClearSky_Haze(t *testing.T) {
	lastBeam, lastDiffuse := 1366.0, 0.0
	for turbidity := 2.0; turbidity <= 7; turbidity++ {
		sky, err := NewClearSky(ClearSkyParams{turbidity, 0})
		if err != nil {
			t.Fatal(err)
		}
		ghi, dni, dhi := sky.At(1, AirMass(0), 1361)
		near.Abs(t, "closure", dni+dhi, ghi, 1e-9, "sun overhead: beam and diffuse make the global light")
		near.Within(t, "global", ghi, 800, 1120, "range of measured clear noons, common practice, no source")
		near.Within(t, "beam", dni, 0, lastBeam, "haze takes beam")
		near.Within(t, "diffuse", dhi, lastDiffuse, 400, "haze gives diffuse")
		lastBeam, lastDiffuse = dni, dhi
	}
	for _, p := range []ClearSkyParams{{0.99, 0}, {12.01, 0}, {3, -500.1}, {3, 9000.1}, {math.NaN(), 0}} {
		if _, err := NewClearSky(p); err == nil {
			t.Errorf("%v: no error", p)
		}
	}
	sky, err := NewClearSky(ClearSkyParams{3, 0})
	if err != nil {
		t.Fatal(err)
	}
	g, l := sunny(t, 40, 120)
	if err := sky.Fill(Light{l.GHI, l.DNI, l.DHI[1:]}, g); err == nil {
		t.Error("short column: no error")
	}
}

// The split gives back the global light, for every clearness and sun above 3 degrees; below, all is diffuse.
func TestSplit_Closure(t *testing.T) {
	r := random(t)
	for range 5000 {
		cos, ghi := r.Float64(), r.Float64()*1200
		for _, f := range []func() (float64, float64){
			func() (float64, float64) { return SplitErbs(ghi, cos, 1366) },
			func() (float64, float64) {
				return SplitBRL(ghi, cos, BRL{r.Float64(), r.Float64(), r.Float64(), 24 * r.Float64(), 90 * r.Float64()})
			},
		} {
			dni, dhi := f()
			near.Rel(t, "closure", dni*cos+dhi, ghi, 1e-12, "beam and diffuse make the global light")
			near.Within(t, "diffuse", dhi, 0, ghi, "a share")
			if cos < cos87 {
				near.Abs(t, "beam", dni, 0, 0, "sun below 3 degrees")
			}
		}
	}
}

func TestFillErbs(t *testing.T) {
	g, l := sunny(t, 40, 120)
	lit := 0
	if err := FillErbs(l, g); err != nil {
		t.Fatal(err)
	}
	for i := range l.GHI {
		dni, dhi := SplitErbs(l.GHI[i], g.Up[i], g.Extra[i])
		near.Abs(t, "beam", l.DNI[i], dni, 0, "step by step")
		near.Abs(t, "diffuse", l.DHI[i], dhi, 0, "step by step")
		if dni > 0 {
			lit++
		}
	}
	if lit < 50 {
		t.Errorf("%d steps with beam", lit)
	}
	if err := FillErbs(Light{l.GHI, l.DNI, nil}, g); err == nil {
		t.Error("missing column: no error")
	}
	l.GHI[0] = math.NaN()
	if err := FillErbs(l, g); err == nil {
		t.Error("not a number: no error")
	}
}

// The logistic of [RIDLEY-2010] worked by hand: hour's clearness 0.5, day's 0.5, neighbours 0.5, noon, sun at 45 degrees:
// -5.38 + 3.315 + 0.072 - 0.315 + 0.875 + 0.655 = -0.778, and 1/(1 + e^-0.778) = 0.6852.
func TestBRL_ByHand(t *testing.T) {
	near.Printed(t, "share", BRL{0.5, 0.5, 0.5, 12, 45}.Share(), 0.6852, 4, "worked by hand")
	near.Within(t, "overcast", BRL{0.1, 0.1, 0.1, 12, 30}.Share(), 0.97, 1, "an overcast sky is diffuse, common knowledge, no source")
	near.Within(t, "clear", BRL{0.78, 0.75, 0.78, 12, 60}.Share(), 0.08, 0.2, "a clear sky is a tenth to a fifth diffuse, common knowledge, no source")
	last := 1.0
	for k := 0.0; k <= 1.0001; k += 0.05 {
		v := BRL{k, 0.5, k, 12, 45}.Share()
		near.Within(t, "share", v, 0, last, "it falls with clearness")
		last = v
	}
	near.Abs(t, "beyond", BRL{2, 2, 2, 30, 100}.Share(), BRL{1, 1, 1, 24, 90}.Share(), 0, "held at the ends")
}

// The hours of a day add up to the day, at any length of day the formula was made for. [DUFFIE-BECKMAN] section 2.13.
func TestHourlyShare_AddsUp(t *testing.T) {
	for sunset := 60.0; sunset <= 120; sunset += 5 {
		global, diffuse := 0.0, 0.0
		const fine = 100
		for i := range 24 * fine {
			angle := -180 + (float64(i)+0.5)*15/fine
			global += HourlyShare(angle, sunset) / fine
			diffuse += HourlyDiffuseShare(angle, sunset) / fine
		}
		near.Abs(t, "diffuse", diffuse, 1, 1e-4, "an identity: the shape is the light above the air over its integral")
		near.Abs(t, "global", global, 1, 0.03, "the promise of its comment")
	}
	// Worked by hand from eq. 2.13.2 for noon of a day of twelve hours: a = 0.6598, b = 0.42255, and 1.08235·π/24 = 0.14168.
	near.Printed(t, "noon of the equinox", HourlyShare(0, 90), 0.14168, 5, "worked by hand")
	// [DUFFIE-BECKMAN] example 2.13.1, from memory: Melbourne in January, 8 to 9 h: 0.076 of the day.
	near.Printed(t, "example 2.13.1", HourlyShare(-52.5, SunsetHourAngle(-38, DeclinationCooper(17))), 0.076, 3, "[DUFFIE-BECKMAN] example 2.13.1, from memory")
	near.Abs(t, "night", HourlyShare(120, 90), 0, 0, "after sunset")
	near.Abs(t, "polar night", HourlyDiffuseShare(0, 0), 0, 0, "no day")
}

// The hand formulas against the algorithm, over a leap year: what their comments promise.
func TestHandFormulas_AgainstSPA(t *testing.T) {
	var cooper, spencer, equation, above near.Worst
	for n := 1; n <= 366; n++ {
		d := geocentric(float64(n-1)+8766, 0) // noon of the days of 2024
		cooper.See(DeclinationCooper(n), d.Declination, "")
		spencer.See(DeclinationSpencer(n), d.Declination, "")
		equation.See(EquationOfTimeSpencer(n), d.EquationOfTime, "")
		above.See(SpencerNormal(1, n), DistanceNormal(1, d.R), "")
	}
	near.Within(t, "Cooper", cooper.Off, 0.6, 1.2, "its comment")
	near.Within(t, "Spencer", spencer.Off, 0.1, 0.3, "its comment")
	near.Within(t, "equation of time", equation.Off, 0.3, 0.7, "its comment")
	near.Within(t, "above the air", above.Off, 1e-4, 1.1e-3, "its comment")
	t.Logf("worst: Cooper %.2f, Spencer %.2f degrees, equation of time %.2f min, above the air %.2g", cooper.Off, spencer.Off, equation.Off, above.Off)
}

func TestMonthlyTilt_Limits(t *testing.T) {
	good := MonthlyTilt{43, 17, 60, 0.7, 1789, SolarConstantWRC}
	if _, err := good.Tilted(); err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string]func(*MonthlyTilt){
		"latitude": func(m *MonthlyTilt) { m.Latitude = 90.1 }, "day": func(m *MonthlyTilt) { m.DayOfYear = 367 },
		"tilt": func(m *MonthlyTilt) { m.Tilt = 90.1 }, "albedo": func(m *MonthlyTilt) { m.Albedo = -0.1 },
		"light": func(m *MonthlyTilt) { m.Global = math.Inf(1) }, "constant": func(m *MonthlyTilt) { m.Constant = math.NaN() },
	} {
		bad := good
		change(&bad)
		if r, err := bad.Tilted(); err == nil || r != (MonthlyTilted{}) {
			t.Errorf("%s: got %v and error %v, want none and an error", name, r, err)
		}
	}
	polar := MonthlyTilt{80, 344, 60, 0.7, 0, SolarConstantWRC}
	r, err := polar.Tilted()
	if err != nil || r != (MonthlyTilted{}) {
		t.Errorf("polar night: got %v and %v, want zeros", r, err)
	}
	flat := good
	flat.Tilt = 0
	r, err = flat.Tilted()
	if err != nil {
		t.Fatal(err)
	}
	near.Rel(t, "flat", r.Total, good.Global, 1e-12, "a flat plane gets the global light")
	south, north := MonthlyTilt{-35, 172, 40, 0.2, 3000, SolarConstantWRC}, MonthlyTilt{35, 355, 40, 0.2, 3000, SolarConstantWRC}
	a, err := south.Tilted()
	if err != nil {
		t.Fatal(err)
	}
	b, err := north.Tilted()
	if err != nil {
		t.Fatal(err)
	}
	near.Rel(t, "beam ratio of mirrored winters", a.BeamRatio, b.BeamRatio, 0.01, "the declinations of days 172 and 355 are opposite within 0.1 degrees")
}
