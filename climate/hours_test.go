package climate

import (
	"math"
	"testing"
	"time"

	"campwright/internal/near"
	"campwright/sun"
)

// skyOf makes the sky of one civil day.
func skyOf(t testing.TB, latitude, longitude, elevation float64, midnight time.Time, minutes float64, count int) *Sky {
	t.Helper()
	step := time.Duration(minutes * float64(time.Minute))
	track, err := sun.Track(sun.Place{Latitude: latitude, Longitude: longitude, Elevation: elevation}.Observer(),
		sun.Steps{Start: midnight.Add(step / 2), Step: step, Count: count}, sun.Extra{Constant: sun.SolarConstantGueymard})
	if err != nil {
		t.Fatal(err)
	}
	s, err := NewSky(SkyParams{Sun: track, Count: count, StepMinutes: minutes, Elevation: elevation})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func columns(n int) (sun.Light, []float64) {
	return sun.Light{GHI: make([]float64, n), DNI: make([]float64, n), DHI: make([]float64, n)}, make([]float64, n)
}

// A day's columns hold exactly the day's light; beam and diffuse make up the global light; nothing is negative, no beam brighter than the
// clearest air; the temperature runs between low and high.
func TestFill(t *testing.T) {
	west := time.FixedZone("", -7*3600)
	checked := 0
	for _, minutes := range []float64{1, 5, 10, 15, 30, 60} {
		for _, month := range []time.Month{1, 6, 10} {
			count := int(24 * 60 / minutes)
			s := skyOf(t, 38.57, -109.55, 1230, time.Date(2027, month, 10, 0, 0, 0, 0, west), minutes, count)
			l, air := columns(count)
			for _, k := range []float64{0.05, 0.1, 0.25, 0.4, 0.55, 0.7, 0.78, 0.81} {
				d := Day{Clearness: k, Low: -4, High: 11, HighBefore: 8, LowAfter: 1, noise: uint64(1000 * k)}
				if err := s.Fill(d, l, air); err != nil {
					t.Fatal(err)
				}
				sum := 0.0
				for i := range l.GHI {
					sum += l.GHI[i] * minutes / 60
					near.Abs(t, "closure [W/m²]", l.DNI[i]*max(s.up[i], 0)+l.DHI[i], l.GHI[i], 1e-9, "identity")
					if l.GHI[i] < 0 || l.DNI[i] < 0 || l.DHI[i] < 0 || l.DNI[i] > s.beam[i] {
						t.Fatalf("clearness %v, step %d: %v %v %v", k, i, l.GHI[i], l.DNI[i], l.DHI[i])
					}
					if s.up[i] <= 0 && l.GHI[i] != 0 {
						t.Fatalf("light at night, step %d", i)
					}
					near.Within(t, "clearness of a step", l.GHI[i], 0, 1.05*max(s.above[i], 1), "no more than 5 % above what comes in from above the air")
					near.Within(t, "air [°C]", air[i], -4, 11, "between the lows and highs")
				}
				near.Rel(t, "light of the day", sum, k*s.Above(), 1e-9, "the day's clearness")
				checked++
			}
		}
	}
	if checked != 6*3*8 {
		t.Fatalf("checked %d days", checked)
	}
}

// Low near sunrise, high three hours after the highest sun.
func TestAir(t *testing.T) {
	s := skyOf(t, 33.67, -114.22, 268, time.Date(2027, 1, 15, 0, 0, 0, 0, time.FixedZone("", -7*3600)), 5, 288)
	l, air := columns(288)
	if err := s.Fill(Day{Clearness: 0.6, Low: 2, High: 20, HighBefore: 19, LowAfter: 3}, l, air); err != nil {
		t.Fatal(err)
	}
	low, high, sunrise, noon, mean := 0, 0, -1, 0, 0.0
	for i := range air {
		mean += air[i] / 288
		if air[i] < air[low] {
			low = i
		}
		if air[i] > air[high] {
			high = i
		}
		if sunrise < 0 && s.up[i] > 0 {
			sunrise = i
		}
		if s.up[i] > s.up[noon] {
			noon = i
		}
	}
	near.Abs(t, "coldest step", float64(low), float64(sunrise), 1, "near sunrise")
	near.Abs(t, "warmest step", float64(high), float64(noon+36), 1, "three hours past noon")
	near.Abs(t, "coldest [°C]", air[low], 2, 0.01, "the day's low")
	near.Abs(t, "warmest [°C]", air[high], 20, 0.01, "the day's high")
	near.Abs(t, "mean [°C]", mean, (2+20)/2.0, 1.5, "half way; the neighbours' nights shift it")
}

// The mean course of hours in a day of given clearness follows [AGUIAR]: worked by hand for clearness 0.5 and sin h 0.5 and 1:
// 0.37 + 0.24 exp(-4) + 0.32 exp(-(0.19 + 0.5675 - 0.31375)/sin h).
func TestCourse(t *testing.T) {
	c := newCourse(0.5)
	near.Abs(t, "at sin h 1", c.level+c.rise*math.Exp(-c.fade), 0.37+0.24*0.018315638889+0.32*math.Exp(-0.44375), 1e-9, "by hand")
	near.Abs(t, "at sin h 0.5", c.level+c.rise*math.Exp(-c.fade/0.5), 0.37+0.24*0.018315638889+0.32*math.Exp(-0.8875), 1e-9, "by hand")
	near.Abs(t, "scatter of noon", c.noise, 0.14*math.Exp(-20*0.0225), 1e-12, "by hand")
	near.Abs(t, "scatter of a low sun", c.low, 3*0.0025+16*0.03125, 1e-12, "by hand")
	near.Abs(t, "hours' correlation", c.hour, 0.38+0.06*math.Cos(1.2), 1e-12, "by hand")
}

// The scatter of hours about their mean course is that of [AGUIAR], whatever the step: days of clearness 0.4 near noon.
func TestHourlyScatter(t *testing.T) {
	for _, minutes := range []float64{5, 30, 60} {
		count := int(24 * 60 / minutes)
		s := skyOf(t, 38.57, -109.55, 1230, time.Date(2027, 6, 10, 0, 0, 0, 0, time.FixedZone("", -7*3600)), minutes, count)
		l, _ := columns(count)
		perHour := int(60 / minutes)
		const members = 3000
		var hours [4][]float64
		for member := range members {
			if err := s.Fill(Day{Clearness: 0.4, noise: key(uint64(member))}, l, nil); err != nil {
				t.Fatal(err)
			}
			for h := range hours {
				light, above := 0.0, 0.0
				for i := (10 + h) * perHour; i < (11+h)*perHour; i++ {
					light += l.GHI[i]
					above += s.above[i]
				}
				hours[h] = append(hours[h], light/above)
			}
		}
		c := newCourse(0.4)
		for h := range hours {
			_, sd := moments(hours[h])
			want := c.noise * math.Exp(c.low*(1-s.up[(10+h)*perHour+perHour/2]))
			near.Within(t, "scatter of an hour over that of [AGUIAR]", sd/want, 0.7, 0.95, "keeping the day's total takes a tenth, (1+r)/(1-r)/14 of the variance, and the bounds cut the ends")
		}
	}
}

// Days without a sunrise, days without a night, days of 23 and 25 hours, southern days, and a clock far from the sun.
func TestOddDays(t *testing.T) {
	for _, c := range []struct {
		name          string
		latitude, lon float64
		when          time.Time
		hours         int
	}{
		{"polar night", 71.3, -156.8, time.Date(2027, 12, 20, 0, 0, 0, 0, time.FixedZone("", -9*3600)), 24},
		{"midnight sun", 70.2, -148.5, time.Date(2027, 6, 20, 0, 0, 0, 0, time.FixedZone("", -9*3600)), 24},
		{"first day of summer time", 40, -105, time.Date(2027, 3, 14, 0, 0, 0, 0, time.FixedZone("", -7*3600)), 23},
		{"last day of summer time", 40, -105, time.Date(2027, 11, 7, 0, 0, 0, 0, time.FixedZone("", -6*3600)), 25},
		{"southern winter", -54.8, -68.3, time.Date(2027, 6, 20, 0, 0, 0, 0, time.FixedZone("", -3*3600)), 24},
		{"clock in UTC", 48, 7, time.Date(2027, 5, 2, 0, 0, 0, 0, time.UTC), 24},
		{"clock twelve hours off", 40, -105, time.Date(2027, 5, 2, 0, 0, 0, 0, time.FixedZone("", 5*3600)), 24},
	} {
		s := skyOf(t, c.latitude, c.lon, 0, c.when, 5, c.hours*12)
		l, air := columns(c.hours * 12)
		d := Day{Clearness: 0.5, Low: -30, High: -20, HighBefore: -18, LowAfter: -25, noise: 3}
		if err := s.Fill(d, l, air); err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for i := range air {
			sum += l.GHI[i] / 12
			if math.IsNaN(l.GHI[i]+l.DNI[i]+l.DHI[i]+air[i]) || air[i] < -30.001 || air[i] > -17.999 {
				t.Fatalf("%s: step %d: %v %v %v %v", c.name, i, l.GHI[i], l.DNI[i], l.DHI[i], air[i])
			}
		}
		near.Abs(t, c.name+": light [Wh/m²]", sum, 0.5*s.Above(), 1e-6, "the day's clearness")
		if c.name == "polar night" && sum != 0 {
			t.Errorf("polar night has %v Wh/m²", sum)
		}
	}
}

func TestSkyRefusals(t *testing.T) {
	s := skyOf(t, 40, -105, 1600, time.Date(2027, 5, 2, 0, 0, 0, 0, time.UTC), 5, 288)
	l, air := columns(288)
	short, shortAir := columns(287)
	if s.Fill(Day{Clearness: 0.5}, short, air) == nil || s.Fill(Day{Clearness: 0.5}, l, shortAir) == nil {
		t.Error("columns of another length pass")
	}
	g, err := sun.GeometryOf([]sun.Sun{{Zenith: 50, Azimuth: 100, Extra: 1360}, {Zenith: 50, Azimuth: 100, Extra: 1360}})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range []SkyParams{
		{},
		{Sun: g, Count: 3, StepMinutes: 5},
		{Sun: g, First: 1, Count: 2, StepMinutes: 5},
		{Sun: g, First: -1, Count: 1, StepMinutes: 5},
		{Sun: g, Count: 1, StepMinutes: 0.9},
		{Sun: g, Count: 1, StepMinutes: 61},
		{Sun: g, Count: 1, StepMinutes: math.NaN()},
		{Sun: g, Count: 1, StepMinutes: 5, Elevation: math.NaN()},
	} {
		if _, err := NewSky(p); err == nil {
			t.Errorf("passes: %+v", p)
		}
	}
	if _, err := NewSky(SkyParams{Sun: g, First: 1, Count: 1, StepMinutes: 60}); err != nil {
		t.Error(err)
	}
}

// Filling allocates nothing.
func TestFillAllocatesNothing(t *testing.T) {
	s := skyOf(t, 40, -105, 1600, time.Date(2027, 5, 2, 0, 0, 0, 0, time.UTC), 5, 288)
	g := mustNew(t, Params{Climate: mustAt(t, 40, -105)})
	l, air := columns(288)
	days := make([]Day, 30)
	if n := testing.AllocsPerRun(10, func() {
		g.Days(3, 100, days)
		for _, d := range days {
			if err := s.Fill(d, l, air); err != nil {
				t.Fatal(err)
			}
		}
	}); n != 0 {
		t.Errorf("%v allocations", n)
	}
}
