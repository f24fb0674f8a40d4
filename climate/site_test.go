package climate

import (
	"math"
	"testing"
	"time"

	"campwright/internal/near"
	"campwright/sun"
)

// An even wall of height h all round leaves cos² h of an even sky: the integral is known in closed form.
func TestSkyView(t *testing.T) {
	for _, h := range []float64{0, 10, 30, 60, 85} {
		heights := make([]float64, 12)
		for i := range heights {
			heights[i] = h
		}
		horizon, err := NewHorizon(heights)
		if err != nil {
			t.Fatal(err)
		}
		c := math.Cos(h * math.Pi / 180)
		near.Abs(t, "sky over an even wall", horizon.SkyView(), c*c, 1e-12, "closed form")
	}
	near.Abs(t, "no horizon", Horizon{}.SkyView(), 1, 0, "identity")
}

// A wall to the east hides the morning sun, and only that.
func TestVeil(t *testing.T) {
	heights := make([]float64, 36)
	for i := range heights {
		if i >= 1 && i <= 17 { // 10 to 170 degrees
			heights[i] = 30
		}
	}
	h, err := NewHorizon(heights)
	if err != nil {
		t.Fatal(err)
	}
	near.Abs(t, "between the directions", h.At(5), 15, 1e-12, "straight line")
	near.Abs(t, "across north", h.At(-5), h.At(355), 1e-12, "the same direction")
	near.Abs(t, "east", h.At(90), 30, 0, "as given")
	start := time.Date(2027, 3, 20, 0, 2, 30, 0, time.FixedZone("", -7*3600))
	track, err := sun.Track(sun.Place{Latitude: 38.57, Longitude: -109.55}.Observer(), sun.Steps{Start: start, Step: 5 * time.Minute, Count: 288},
		sun.Extra{Constant: sun.SolarConstantGueymard})
	if err != nil {
		t.Fatal(err)
	}
	v, err := NewVeil(h, track, 0, 288)
	if err != nil {
		t.Fatal(err)
	}
	hidden, open, edge := 0, 0, 0
	for i := range 288 {
		if track.Up[i] <= 0 {
			continue
		}
		height := 90 - track.Zenith(i)
		switch share := v.beam[i]; {
		case track.Azimuth(i) > 190:
			near.Abs(t, "afternoon", share, min(1, height/0.53+0.5), 1e-9, "only the level horizon")
			open++
		case track.Azimuth(i) < 170 && height < 29.5:
			near.Abs(t, "morning", share, 0, 0, "behind the wall")
			hidden++
		case share > 0 && share < 1:
			edge++
		}
	}
	if hidden < 20 || open < 50 {
		t.Fatalf("%d hidden, %d open", hidden, open)
	}
	l, _ := columns(288)
	for i := range l.GHI {
		if up := track.Up[i]; up > 0 {
			l.DNI[i], l.DHI[i] = 800, 100
			l.GHI[i] = 800*up + 100
		}
	}
	before := append([]float64(nil), l.GHI...)
	if err := v.Apply(0.5, 0.8, l); err != nil {
		t.Fatal(err)
	}
	for i := range l.GHI {
		near.Abs(t, "closure", l.DNI[i]*max(track.Up[i], 0)+l.DHI[i], l.GHI[i], 1e-9, "identity")
		if l.GHI[i] > before[i] {
			t.Fatalf("step %d is brighter behind the veil", i)
		}
	}
	if v.Apply(1, 1, sun.Light{}) == nil {
		t.Error("columns of another length pass")
	}
}

// Deep shade lets through what people measure under a closed canopy in summer: 10 to 35 %, about 20 % (common practice, no source).
func TestShades(t *testing.T) {
	deep, err := ShadeNamed("deep shade")
	if err != nil {
		t.Fatal(err)
	}
	const diffuse = 0.4 // of a summer day's light at 45 N
	for level, band := range map[float64][2]float64{-1: {0.09, 0.13}, 0: {0.17, 0.23}, 1: {0.28, 0.36}} {
		beam, sky := deep.At(level)
		near.Within(t, "light under a closed canopy", (1-diffuse)*beam+diffuse*sky, band[0], band[1], "common practice")
	}
	last := 1.1
	for _, s := range Shades() {
		if s.Why == "" || !(s.Beam.Low <= s.Beam.Typical && s.Beam.Typical <= s.Beam.High && s.Sky.Low <= s.Sky.Typical && s.Sky.Typical <= s.Sky.High) {
			t.Errorf("%+v", s)
		}
		if !(s.Beam.Typical < last) || s.Sky.Typical < s.Beam.Typical {
			t.Errorf("%s: shade not in order, or darker for the sky than for the beam", s.Name)
		}
		last = s.Beam.Typical
	}
	if _, err := ShadeNamed("under a bridge"); err == nil {
		t.Error("an unknown shade passes")
	}
}

func TestHorizonRefusals(t *testing.T) {
	for _, heights := range [][]float64{nil, make([]float64, 11), make([]float64, 361), {0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 85.1}, {0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, math.NaN()}, {0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, -0.1}} {
		if _, err := NewHorizon(heights); err == nil {
			t.Errorf("passes: %v", heights)
		}
	}
	for _, n := range []int{12, 360} {
		if _, err := NewHorizon(make([]float64, n)); err != nil {
			t.Error(err)
		}
	}
	if _, err := NewVeil(Horizon{}, nil, 0, 1); err == nil {
		t.Error("a veil without a sun passes")
	}
}
