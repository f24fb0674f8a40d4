package climate

import (
	"fmt"
	"math"

	"campwright/sun"
)

// normals are 256 standard normal numbers of equal weight, scaled to variance one: enough for noise that is summed up anyway.
var normals = func() (t [256]float64) {
	sum := 0.0
	for i := range t {
		t[i] = quantile((float64(i) + 0.5) / 256)
		sum += t[i] * t[i]
	}
	for i := range t {
		t[i] /= math.Sqrt(sum / 256)
	}
	return t
}()

// course is how clearness runs through a day of a given mean clearness, [AGUIAR].
type course struct {
	level, rise, fade float64 // clearness at sun height h: level + rise exp(-fade / sin h)
	noise, low        float64 // standard deviation of an hour: noise exp(low (1 - sin h))
	hour              float64 // correlation of one hour with the next
}

// newCourse returns the course of a day with a clearness from 0.05 to 0.81. Source: [AGUIAR], its equations for the mean, the standard
// deviation and the correlation.
func newCourse(k float64) course {
	return course{
		level: -0.19 + 1.12*k + 0.24*math.Exp(-8*k),
		rise:  0.32 - 1.6*(k-0.5)*(k-0.5),
		fade:  0.19 + 2.27*k*k - 2.51*k*k*k,
		noise: 0.14 * math.Exp(-20*(k-0.35)*(k-0.35)),
		low:   3*(k-0.45)*(k-0.45) + 16*k*k*k*k*k,
		hour:  0.38 + 0.06*math.Cos(7.4*k-2.5),
	}
}

// Fill turns a day into light and air temperature [°C], one value for each step of the sky. Columns of another length are an error; air
// may be nil where temperature is not wanted. It allocates nothing.
//
// The global light of all steps together is the day's clearness times the light above the air, exactly. Within the day it follows
// [AGUIAR], its noise between steps drawn from the hour's, and is split by [ERBS]; a beam brighter than the clearest air lets through
// goes to the diffuse light, so that beam times the cosine of the zenith and diffuse light are always the global light.
//
// Accuracy: the hour by hour scatter has the right size, not the right times; edges of clouds are blurred.
func (s *Sky) Fill(d Day, l sun.Light, air []float64) error {
	n := len(s.up)
	if len(l.GHI) != n || len(l.DNI) != n || len(l.DHI) != n || (air != nil && len(air) != n) {
		return fmt.Errorf("climate: columns of %d, %d, %d and %d steps, the sky has %d", len(l.GHI), len(l.DNI), len(l.DHI), len(air), n)
	}
	s.fillGlobal(d, l.GHI)
	s.split(l)
	if air != nil {
		s.fillAir(d, air)
	}
	return nil
}

// fillGlobal fills in the global light.
func (s *Sky) fillGlobal(d Day, ghi []float64) {
	clear(ghi[:s.dawn])
	clear(ghi[s.dusk:])
	if s.dusk == s.dawn {
		return
	}
	c := newCourse(d.Clearness)
	keep := math.Pow(c.hour, s.stepHours)
	fresh := math.Sqrt(1 - keep*keep)
	scale := c.noise * s.steady
	up, above, top := s.up[s.dawn:s.dusk], s.above[s.dawn:s.dusk], s.top[s.dawn:s.dusk]
	invUp := s.invUp[s.dawn:s.dusk]
	out := ghi[s.dawn:s.dusk]
	least := 0.1 * d.Clearness
	state := d.noise
	y := normals[state&255]
	sum := 0.0
	var bits uint64
	for i := range out {
		if i&7 == 0 {
			state += golden
			bits = mix(state)
		}
		k := c.level + c.rise*math.Exp(-c.fade*invUp[i]) + scale*math.Exp(c.low*(1-up[i]))*y
		v := min(max(k, least), top[i]) * above[i]
		out[i] = v
		sum += v
		y = keep*y + fresh*normals[bits&255]
		bits >>= 8
	}
	f := d.Clearness * s.total / sum
	for i := range out {
		out[i] *= f
	}
}

// split divides the global light into beam and diffuse.
func (s *Sky) split(l sun.Light) {
	clear(l.DNI[:s.dawn])
	clear(l.DHI[:s.dawn])
	clear(l.DNI[s.dusk:])
	clear(l.DHI[s.dusk:])
	ghi, dni, dhi := l.GHI[s.dawn:s.dusk], l.DNI[s.dawn:s.dusk], l.DHI[s.dawn:s.dusk]
	up, extra, beam := s.up[s.dawn:s.dusk], s.extra[s.dawn:s.dusk], s.beam[s.dawn:s.dusk]
	for i, g := range ghi {
		b, diffuse := sun.SplitErbs(g, up[i], extra[i])
		if b > beam[i] {
			b = beam[i]
			diffuse = g - b*up[i]
		}
		dni[i], dhi[i] = b, diffuse
	}
}

// fillAir fills in the air temperature.
func (s *Sky) fillAir(d Day, air []float64) {
	warm := s.warm[:len(air)]
	step := func(from, to int, a, b float64) {
		for i := from; i < to; i++ {
			air[i] = a + (b-a)*warm[i]
		}
	}
	step(0, s.rise, d.HighBefore, d.Low)
	step(s.rise, s.peak, d.Low, d.High)
	step(s.peak, len(air), d.High, d.LowAfter)
}
