package trip

import (
	"fmt"
	"math"
	"strings"
	"time"

	"campwright/sun"
)

// Site is one place of a stay, resolved: a position with its clock.
type Site struct {
	Name     string
	named    text // the name in each system of units, where it holds a distance
	Place    sun.Place
	Zone     *time.Location
	Sky      string  // open, light trees, half shade, deep shade or roofed
	Horizon  string  // skyline as written
	Heading  float64 // where the front points [deg]
	Hookup   string
	DriveH   float64 // engine at cruise on the day of arrival
	IdleH    float64 // engine at idle, each day
	CruiseH  float64 // engine at cruise, each day: a drive out and back, tried by advice
	RunH     float64 // generator, each day
	Fills    string
	Hauls    string  // what is filled or emptied again during the stay
	HaulDays int     // days from one haul to the next, counted from arrival; zero for none
	Stop     int     // number of the stop in the document, from 1; zero for a home
	LowC     float64 // record low given by the owner; NaN if none
	Nights   int
	FirstDay int // index of its first day in the course
}

// Course is the part of a stay that no guess and no weather changes: its instants, its days and the sun over its places.
//
// A day of the course runs from noon to noon by the local clock, so that each holds one whole night; it carries the date of its
// evening.
type Course struct {
	StepMin int
	StepH   float64
	N       int
	Start   time.Time // first instant, in the zone of the first site
	Minute  []uint16  // minute of the civil day at the start of each step, daylight saving included
	Day     []uint16  // index into Days
	Days    []Date
	Sites   []Site
	From    []int // first step of each site, and N at the end
	Spans   []Span
}

// Span is the whole civil days that the nights at one site touch, with the sun over them: a stay from noon to noon begins and ends inside
// one of them.
type Span struct {
	Sun   *sun.Geometry // at the middle of each step
	Lead  int           // steps from its first midnight to the first step of the stay
	Civil []Civil
}

// Civil is one civil day of a span.
type Civil struct {
	Date  time.Time // its midnight
	First int       // first step, in the span
	Steps int
}

// Date is one day of a course.
type Date struct {
	Evening time.Time // the civil date, at noon
	Site    int
	First   int // first step
	Steps   int
}

// newCourse lays out the instants of a stay at the given sites, in order, from noon of the first day.
func newCourse(first time.Time, sites []Site, stepMin int) (*Course, error) {
	if stepMin < 1 || stepMin > 60 || 1440%stepMin != 0 {
		return nil, fmt.Errorf("step of %d minutes does not divide a day; take one of 1 to 60 that does", stepMin)
	}
	nights := 0
	for _, s := range sites {
		if s.Nights < 1 {
			return nil, fmt.Errorf("stop %q has no nights", s.Name)
		}
		nights += s.Nights
	}
	if nights == 0 {
		return nil, fmt.Errorf("a stay needs at least one night")
	}
	if nights > 1100 {
		return nil, fmt.Errorf("%d nights are more than three years", nights)
	}
	c := &Course{StepMin: stepMin, StepH: float64(stepMin) / 60, Sites: sites}
	c.Start = time.Date(first.Year(), first.Month(), first.Day(), 12, 0, 0, 0, sites[0].Zone)
	step := time.Duration(stepMin) * time.Minute
	at := c.Start
	for i := range sites {
		site := &sites[i]
		site.FirstDay = len(c.Days)
		c.From = append(c.From, c.N)
		next := noonAfter(at, site.Zone)
		for range site.Nights {
			day := Date{Evening: next.AddDate(0, 0, -1), Site: i, First: c.N}
			for ; at.Before(next); at = at.Add(step) {
				civil := at.In(site.Zone)
				c.Minute = append(c.Minute, uint16(civil.Hour()*60+civil.Minute()))
				c.Day = append(c.Day, uint16(len(c.Days)))
				c.N++
			}
			day.Steps = c.N - day.First
			c.Days = append(c.Days, day)
			next = time.Date(next.Year(), next.Month(), next.Day()+1, 12, 0, 0, 0, site.Zone)
		}
		span, err := spanOf(*site, c.instant(c.From[i]), c.instant(c.N), step)
		if err != nil {
			return nil, fmt.Errorf("place %q: %w", site.Name, err)
		}
		c.Spans = append(c.Spans, span)
	}
	c.From = append(c.From, c.N)
	return c, nil
}

// arrives tells whether a day is the first at a site, where what the stop says is filled.
func (c *Course) arrives(day int) bool {
	return day == 0 || c.Days[day].Site != c.Days[day-1].Site
}

// fills tells whether something is filled, or for a waste tank emptied, on arrival.
func (s *Site) fills(what string) bool { return names(s.Fills, what) }

// names tells whether a list of stores with commas names one, or all.
func names(list, what string) bool {
	for _, word := range strings.Split(list, ",") {
		if word = strings.TrimSpace(word); word == what || word == "all" {
			return true
		}
	}
	return false
}

// noonAfter returns the first noon of a zone that is half a day or more after an instant: the end of the first day at a place that was
// reached at that instant, perhaps from another zone. That day is 12 to 36 hours long.
func noonAfter(at time.Time, zone *time.Location) time.Time {
	here := at.In(zone)
	for day := 0; ; day++ {
		noon := time.Date(here.Year(), here.Month(), here.Day()+day, 12, 0, 0, 0, zone)
		if noon.Sub(at) >= 12*time.Hour {
			return noon
		}
	}
}

// spanOf lays out the civil days of a site that a stay from one instant to another touches.
func spanOf(site Site, begin, end time.Time, step time.Duration) (Span, error) {
	here := begin.In(site.Zone)
	midnight := func(day int) time.Time {
		return time.Date(here.Year(), here.Month(), here.Day()+day, 0, 0, 0, 0, site.Zone)
	}
	sp := Span{Lead: int(begin.Sub(midnight(0)) / step)}
	start := begin.Add(-time.Duration(sp.Lead) * step)
	count := 0
	for d := 0; midnight(d).Before(end); d++ {
		last := int((midnight(d+1).Sub(start) + step/2) / step)
		sp.Civil = append(sp.Civil, Civil{Date: midnight(d), First: count, Steps: last - count})
		count = last
	}
	g, err := sun.Track(site.Place.Observer(), sun.Steps{Start: start.Add(step / 2), Step: step, Count: count},
		sun.Extra{Method: sun.Spencer, Constant: sun.SolarConstantASTM})
	sp.Sun = g
	return sp, err
}

// instant returns the start of step i.
func (c *Course) instant(i int) time.Time {
	return c.Start.Add(time.Duration(i) * time.Duration(c.StepMin) * time.Minute)
}

// clock returns the local clock at the start of step i.
func (c *Course) clock(i int) string {
	return c.instant(i).In(c.Sites[c.Days[c.Day[min(i, c.N-1)]].Site].Zone).Format("15:04")
}

// Weather is one run of weather along a course, one value for each step: means over the step for light, the middle for the rest.
type Weather struct {
	GHI, DNI, DHI []float64 // [W/m²]
	AirC          []float64 // [°C]
	WindMS        []float64 // [m/s]
}

// check refuses columns of the wrong length and values that are not finite.
func (w Weather) check(n int) error {
	for _, col := range []struct {
		name string
		v    []float64
	}{{"global", w.GHI}, {"direct", w.DNI}, {"diffuse", w.DHI}, {"air temperature", w.AirC}, {"wind", w.WindMS}} {
		if len(col.v) != n {
			return fmt.Errorf("weather: column %s has %d steps, the stay has %d", col.name, len(col.v), n)
		}
		for i, v := range col.v {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return fmt.Errorf("weather: column %s, step %d is not a finite number", col.name, i)
			}
		}
	}
	return nil
}
