package sun

import (
	"math"
	"time"
)

// DayState says what the sun does in a civil day.
type DayState uint8

// The states of a day.
const (
	Normal     DayState = iota // it rises and sets, in either order
	AlwaysUp                   // neither, and it is up
	AlwaysDown                 // neither, and it is down
	Partial                    // only one of the two falls into the day
)

// String returns the state in words.
func (s DayState) String() string {
	switch s {
	case Normal:
		return "normal"
	case AlwaysUp:
		return "always up"
	case AlwaysDown:
		return "always down"
	case Partial:
		return "partial"
	}
	return "unknown"
}

// Daylight is what the sun does in a civil day. Far north and south a day may hold three crossings: Rise is the first rise, Set the
// last set.
type Daylight struct {
	State     DayState
	Rise, Set time.Time     // in the zone of the day asked for; the zero time where there is none
	Up        time.Duration // how long the sun is up in the day, over all crossings
}

// RiseSet returns sunrise and sunset in the civil day, in the zone of t, that holds the instant t: from its midnight to the next, be it
// 23, 24 or 25 hours. The sun is up while its upper edge shows over a flat horizon in mean air: airless elevation above -0.8333 degrees.
//
// Errors are those of [At]. Accuracy: 0.1 s of the algorithm; real air and a real horizon make minutes.
// Source: [SPA] for the position; the crossing is found as a root within the civil day, since the interpolation of the report's own
// appendix can answer for the neighbouring day.
func RiseSet(t time.Time, o Observer) (Daylight, error) {
	if err := o.check(); err != nil {
		return Daylight{}, err
	}
	if err := checkTime(t); err != nil {
		return Daylight{}, err
	}
	year, month, day := t.Date()
	start := time.Date(year, month, day, 0, 0, 0, 0, t.Location())
	length := time.Date(year, month, day+1, 0, 0, 0, 0, t.Location()).Sub(start)

	h := horizon{observer: o, frame: newFrame(o.Place), ephemeris: ephemeris{deltaT: o.DeltaT}, start: days2000(start)}
	crossings, up := h.crossings(length.Seconds())

	d := Daylight{}
	at := func(second float64) time.Time {
		return start.Add(time.Duration(second * float64(time.Second)))
	}
	since := 0.0 // start of the present spell, up or down
	for _, second := range crossings {
		if up {
			d.Up += at(second).Sub(at(since))
			d.Set = at(second)
		} else if d.Rise.IsZero() {
			d.Rise = at(second)
		}
		up, since = !up, second
	}
	if up {
		d.Up += start.Add(length).Sub(at(since))
	}
	switch {
	case len(crossings) == 0 && up:
		d.State = AlwaysUp
	case len(crossings) == 0:
		d.State = AlwaysDown
	case d.Rise.IsZero() || d.Set.IsZero():
		d.State = Partial
	}
	return d, nil
}

// horizon tells the sun's height over the horizon along one day.
type horizon struct {
	observer  Observer
	frame     frame
	ephemeris ephemeris
	start     float64 // of the day, in days since 2000
}

// sinRise is the sine of the airless elevation at rise and set.
var sinRise = math.Sin(-0.8333 * radian)

// quick returns the sine of the elevation over that of rise and set, at a second of the day, within 1e-6.
func (h *horizon) quick(second float64) float64 {
	_, _, up := h.ephemeris.airless(&h.frame, h.start+second/86400)
	return up - sinRise
}

// full is quick with the position computed in full.
func (h *horizon) full(second float64) float64 {
	d := geocentric(h.start+second/86400, h.observer.DeltaT)
	d.topocentric(h.observer)
	return math.Sin(d.E0*radian) - sinRise
}

// crossings returns the seconds of the day at which the sun crosses the horizon, in order, and whether it is up at the start.
//
// The sun's height has one top and one bottom in a day. Samples ten minutes apart find every crossing but a pair that straddles a top
// or bottom, so around each top and bottom the extreme itself becomes a sample too. Samples reach one step beyond the day at both ends
// for extremes that lie close to midnight.
func (h *horizon) crossings(length float64) (seconds []float64, upAtStart bool) {
	const step = 600
	type sample struct{ second, height float64 }
	var samples []sample
	take := func(second float64) { samples = append(samples, sample{second, h.quick(second)}) }
	a, b := h.quick(-step), h.quick(0)
	for second := 0.0; second < length+step; second += step {
		c := h.quick(second + step)
		if (b-a)*(c-b) <= 0 {
			extreme := h.extreme(second-step, second+step, b > a)
			if extreme < second {
				take(extreme)
				samples = append(samples, sample{second, b})
			} else {
				samples = append(samples, sample{second, b})
				take(extreme)
			}
		} else {
			samples = append(samples, sample{second, b})
		}
		a, b = b, c
	}
	for i := 1; i < len(samples); i++ {
		s, e := samples[i-1], samples[i]
		if (s.height >= 0) == (e.height >= 0) {
			continue
		}
		if root := h.root(s.second, e.second); root >= 0 && root < length {
			seconds = append(seconds, root)
		}
	}
	upAtStart = h.quick(0) >= 0
	return seconds, upAtStart
}

// extreme returns the second of the highest (or lowest) sun between two seconds that hold it, to a tenth of a second, by golden section.
func (h *horizon) extreme(low, high float64, highest bool) float64 {
	const golden = 0.6180339887498949
	sign := 1.0
	if !highest {
		sign = -1
	}
	x1, x2 := high-golden*(high-low), low+golden*(high-low)
	f1, f2 := sign*h.quick(x1), sign*h.quick(x2)
	for high-low > 0.1 {
		if f1 > f2 {
			high, x2, f2 = x2, x1, f1
			x1 = high - golden*(high-low)
			f1 = sign * h.quick(x1)
		} else {
			low, x1, f1 = x1, x2, f2
			x2 = low + golden*(high-low)
			f2 = sign * h.quick(x2)
		}
	}
	return (low + high) / 2
}

// root returns the second between two at which the sun crosses the horizon, to a millisecond, by false position with halving of the
// end that stays (Illinois). Where the full position does not cross although the quick one does, the two touch the horizon within
// 1e-6 and the end nearer to it is as good an answer as any.
func (h *horizon) root(low, high float64) float64 {
	fLow, fHigh := h.full(low), h.full(high)
	if (fLow >= 0) == (fHigh >= 0) {
		if math.Abs(fLow) < math.Abs(fHigh) {
			return low
		}
		return high
	}
	kept := 0
	for range 60 {
		x := high - fHigh*(high-low)/(fHigh-fLow)
		f := h.full(x)
		if (f >= 0) == (fHigh >= 0) {
			if math.Abs(high-x) < 0.001 {
				return x
			}
			high, fHigh = x, f
			if kept == 1 {
				fLow /= 2
			}
			kept = 1
		} else {
			if math.Abs(x-low) < 0.001 {
				return x
			}
			low, fLow = x, f
			if kept == -1 {
				fHigh /= 2
			}
			kept = -1
		}
	}
	return (low + high) / 2
}
