package load

import (
	"fmt"
	"math"
	"slices"
)

// minutesPerDay is a local day; the days on which clocks change are treated as ordinary.
const minutesPerDay = 1440

// Span is a part of the local day in minutes after midnight. To below From runs past midnight; both equal is a whole day.
type Span struct{ From, To float64 }

// When says what a schedule follows.
type When uint8

// The ways. The zero value is none of them, so that a forgotten choice is refused.
const (
	Always When = iota + 1
	Never
	Night // sunset to sunrise
	Light // sunrise to sunset
	Hours // the spans given
)

// Sun is the rise and set of a day in minutes after local midnight. Set below Rise means that the sun sets after midnight. Up and Down
// mark days without rise or set.
type Sun struct {
	Rise, Set float64
	Up, Down  bool
}

// ScheduleParams describe when an appliance is scheduled.
type ScheduleParams struct {
	When  When
	Spans []Span // for Hours: in any order, may overlap
	// PerDayMin is the running time in a day [min], 0..1440, spread evenly over the scheduled time; 0 means that it runs for all of it.
	PerDayMin float64
}

// Schedule is a checked schedule. It is made by NewSchedule and never changes.
type Schedule struct {
	when   When
	spans  []Span // apart, rising, within 0..1440
	perDay float64
}

// NewSchedule returns the schedule that p describes, or an error that names what is wrong.
func NewSchedule(p ScheduleParams) (Schedule, error) {
	if p.When < Always || p.When > Hours {
		return Schedule{}, fmt.Errorf("load: schedule %d is not known", p.When)
	}
	if !(p.PerDayMin >= 0 && p.PerDayMin <= minutesPerDay) {
		return Schedule{}, fmt.Errorf("load: running time in a day %g min outside 0 to 1440", p.PerDayMin)
	}
	if (p.When == Hours) != (len(p.Spans) > 0) {
		return Schedule{}, fmt.Errorf("load: %d spans given, wanted for a schedule by hours and for no other", len(p.Spans))
	}
	s := Schedule{when: p.When, perDay: p.PerDayMin}
	for i, span := range p.Spans {
		for _, at := range [2]float64{span.From, span.To} {
			if !(at >= 0 && at <= minutesPerDay) {
				return Schedule{}, fmt.Errorf("load: span %d: time %g min outside 0 to 1440", i+1, at)
			}
		}
	}
	switch p.When {
	case Always:
		s.spans = []Span{{0, minutesPerDay}}
	case Hours:
		s.spans = join(p.Spans)
	}
	return s, nil
}

// join returns spans cut at midnight, sorted and merged where they touch.
func join(spans []Span) []Span {
	var cut []Span
	for _, s := range spans {
		switch {
		case s.From < s.To:
			cut = append(cut, s)
		case s.From == s.To:
			return []Span{{0, minutesPerDay}}
		default:
			cut = append(cut, Span{s.From, minutesPerDay}, Span{0, s.To})
		}
	}
	slices.SortFunc(cut, func(a, b Span) int {
		switch {
		case a.From < b.From:
			return -1
		case a.From > b.From:
			return 1
		}
		return 0
	})
	var out []Span
	for _, s := range cut {
		if n := len(out); n > 0 && s.From <= out[n-1].To {
			out[n-1].To = math.Max(out[n-1].To, s.To)
			continue
		}
		if s.From < s.To {
			out = append(out, s)
		}
	}
	return out
}

// on returns the pieces of a day that are scheduled, in a fixed array so that nothing is allocated for night and daylight.
func (s *Schedule) on(sun Sun) (list []Span, one [2]Span, n int) {
	if s.when != Night && s.when != Light {
		return s.spans, one, len(s.spans)
	}
	light := s.when == Light
	if sun.Up || sun.Down {
		if light == sun.Up {
			one[0], n = Span{0, minutesPerDay}, 1
		}
		return nil, one, n
	}
	from, to := wrap(sun.Rise), wrap(sun.Set)
	if !light {
		from, to = to, from
	}
	if from <= to {
		one[0], n = Span{from, to}, 1
		return nil, one, n
	}
	one[0], one[1], n = Span{0, to}, Span{from, minutesPerDay}, 2
	return nil, one, n
}

// wrap brings minutes into 0..1440; a value that is no number becomes 0.
func wrap(minute float64) float64 {
	if math.IsNaN(minute) || math.IsInf(minute, 0) {
		return 0
	}
	m := math.Mod(minute, minutesPerDay)
	if m < 0 {
		m += minutesPerDay
	}
	return m
}

// Minutes returns the scheduled time of a day [min], 0..1440, before any spreading of a running time.
func (s Schedule) Minutes(sun Sun) float64 {
	list, one, n := s.on(sun)
	if list == nil {
		list = one[:n]
	}
	total := 0.0
	for _, span := range list {
		total += span.To - span.From
	}
	return total
}

// RunShare returns the share of the scheduled time for which the appliance runs, 0..1: its running time in a day over the scheduled
// time, at most 1; 1 where no running time is given.
func (s Schedule) RunShare(sun Sun) float64 {
	if s.perDay == 0 {
		return 1
	}
	total := s.Minutes(sun)
	if total <= s.perDay {
		return 1
	}
	return s.perDay / total
}

// Steps returns how many steps of stepMin minutes a day has: the last one is shorter where they do not divide it.
func Steps(stepMin int) int {
	if stepMin < 1 {
		return 0
	}
	return (minutesPerDay + stepMin - 1) / stepMin
}

// AddShares adds, for each step of a day, times the share of the step that is scheduled, and times RunShare where a running time is given.
//
//	dst      one value for each step, from midnight; a last step cut short by midnight is judged by its own length
//	stepMin  length of a step [min], 1..60
//	times    factor
//
// It returns an error when stepMin is out of range or dst has not Steps(stepMin) values.
func (s Schedule) AddShares(dst []float64, stepMin int, sun Sun, times float64) error {
	if stepMin < 1 || stepMin > 60 {
		return fmt.Errorf("load: step %d min outside 1 to 60", stepMin)
	}
	if len(dst) != Steps(stepMin) {
		return fmt.Errorf("load: %d values for a day of %d steps", len(dst), Steps(stepMin))
	}
	list, one, n := s.on(sun)
	if list == nil {
		list = one[:n]
	}
	times *= s.RunShare(sun)
	step := float64(stepMin)
	for _, span := range list {
		for i := int(span.From / step); i < len(dst); i++ {
			begin := float64(i) * step
			end := math.Min(begin+step, minutesPerDay)
			if span.From <= begin && end < span.To { // all of it, as most steps are
				dst[i] += times
				continue
			}
			covered := math.Min(span.To, end) - math.Max(span.From, begin)
			if covered > 0 {
				dst[i] += times * covered / (end - begin)
			}
			if span.To <= end {
				break
			}
		}
	}
	return nil
}
