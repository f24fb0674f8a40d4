package trip

import (
	"testing"
	"time"

	"campwright/convert"
	"campwright/internal/near"
	"campwright/sun"
)

func zone(t *testing.T, name string) *time.Location {
	t.Helper()
	z, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

// TestCourseKeepsCivilTime lays a stay across both changes of the clock: days are 24 hours of the clock from noon to noon, one of them 23 and
// one 25 hours long, and every step carries the minute the wall clock shows. The dates of the changes are those of the zone's law: in the
// United States the second Sunday of March and the first of November.
func TestCourseKeepsCivilTime(t *testing.T) {
	denver := zone(t, "America/Denver")
	for _, c := range []struct {
		name  string
		first time.Time
		day   int // of the change
		hours int
	}{
		{"clocks go forward on 14 March 2027", time.Date(2027, 3, 12, 0, 0, 0, 0, time.UTC), 1, 23},
		{"clocks go back on 7 November 2027", time.Date(2027, 11, 5, 0, 0, 0, 0, time.UTC), 1, 25},
	} {
		t.Run(c.name, func(t *testing.T) {
			site := Site{Name: "high", Place: sun.Place{Latitude: 39, Longitude: -105, Elevation: 1600}, Zone: denver, Nights: 4}
			course, err := newCourse(c.first, []Site{site}, 5)
			if err != nil {
				t.Fatal(err)
			}
			for d, day := range course.Days {
				want := 24
				if d == c.day {
					want = c.hours
				}
				near.Abs(t, "hours of day "+day.Evening.Format("2 Jan"), float64(day.Steps)/12, float64(want), 0, "the zone's law")
				if got := course.instant(day.First).In(denver).Format("15:04"); got != "12:00" {
					t.Errorf("day %d begins at %s", d, got)
				}
			}
			for i, minute := range course.Minute {
				at := course.instant(i).In(denver)
				if int(minute) != at.Hour()*60+at.Minute() {
					t.Fatalf("step %d carries minute %d at %s", i, minute, at)
				}
			}
			if n := len(course.Spans[0].Civil); n != 5 {
				t.Errorf("4 nights touch %d civil days, wanted 5", n)
			}
		})
	}
}

// TestCourseRefuses tries what no stay can be, and the last that can.
func TestCourseRefuses(t *testing.T) {
	site := Site{Name: "x", Zone: time.UTC, Nights: 1}
	first := time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC)
	for _, step := range []int{0, 7, 61, 90} {
		if _, err := newCourse(first, []Site{site}, step); err == nil {
			t.Errorf("a step of %d minutes was taken", step)
		}
	}
	for _, step := range []int{1, 5, 60} {
		if _, err := newCourse(first, []Site{site}, step); err != nil {
			t.Errorf("a step of %d minutes: %v", step, err)
		}
	}
	site.Nights = 0
	if _, err := newCourse(first, []Site{site}, 5); err == nil {
		t.Error("a stay of no nights was taken")
	}
	site.Nights = 1101
	if _, err := newCourse(first, []Site{site}, 60); err == nil {
		t.Error("a stay of more than three years was taken")
	}
}

// TestTankLasts follows tanks along stops by hand: 100 L at 12 L a day last 8.33 days; filled at the second stop, they begin anew.
func TestTankLasts(t *testing.T) {
	c := &Course{Sites: []Site{{Nights: 5}, {Nights: 6, Fills: "fresh water, propane"}}}
	fresh := tank{name: "fresh water", holds: 100, perDay: 12}
	days, inside := fresh.lasts(c)
	near.Abs(t, "filled on the way", days, 5+100.0/12, 1e-12, "by hand")
	if inside {
		t.Error("6 nights at 12 L fit into 100 L")
	}
	grey := tank{name: "grey tank", holds: 100, perDay: 12}
	days, inside = grey.lasts(c)
	near.Abs(t, "not emptied on the way", days, 100.0/12, 1e-12, "by hand")
	if !inside {
		t.Error("11 nights at 12 L do not fit into 100 L")
	}
}

// TestSchedulePutsHours lays out engine, generator and shore by hand.
func TestSchedulePutsHours(t *testing.T) {
	sys, _, _ := yearCase(t, 5)
	sys.Supply.Inlet, sys.Supply.HasInlet = convert.ServiceNamed("30 A")
	utc := time.UTC
	sites := []Site{
		{Name: "a", Zone: utc, Nights: 2, IdleH: 1},
		{Name: "b", Zone: utc, Nights: 2, DriveH: 3, Hookup: "30 A"},
	}
	c, err := newCourse(time.Date(2027, 6, 1, 0, 0, 0, 0, utc), sites, 5)
	if err != nil {
		t.Fatal(err)
	}
	s := newSchedule(sys, c)
	idle, cruise, hooked := 0, 0, 0
	for i := range c.N {
		switch s.engine[i] {
		case 1:
			idle++
		case 2:
			cruise++
			if s.feed[i] != nothing {
				t.Fatalf("step %d is on a post while driving", i)
			}
		}
		if s.feed[i] == shore {
			hooked++
		}
	}
	near.Abs(t, "hours idling", float64(idle)/12, 2, 0, "an hour on each of two mornings")
	near.Abs(t, "hours driving", float64(cruise)/12, 3, 0, "as written")
	near.Abs(t, "hours on the post", float64(hooked)/12, 48-3, 0, "two days less the drive")
}
