package trip

import (
	"slices"
	"testing"
	"time"

	"campwright/internal/near"
	"campwright/sun"
)

// Legs by hand: 28 nights with a haul every 6 days are 6, 6, 6, 6 and 4; what is not hauled, or longer apart than the stop, is one leg. A stop that fills
// begins anew, one that does not goes on.
func TestTank_Legs(t *testing.T) {
	hauled := Site{Nights: 28, Hauls: "fresh water, grey", HaulDays: 6}
	for _, c := range []struct {
		site *Site
		what string
		want []float64
	}{
		{&hauled, "grey", []float64{6, 6, 6, 6, 4}}, {&hauled, "black", []float64{28}}, {&Site{Nights: 6, Hauls: "all", HaulDays: 6}, "propane", []float64{6}},
		{&Site{Nights: 12, Hauls: "all", HaulDays: 6}, "propane", []float64{6, 6}}, {&Site{Nights: 5}, "grey", []float64{5}},
	} {
		if got := c.site.legs(c.what); !slices.Equal(got, c.want) {
			t.Errorf("%+v, %s: %v, by hand %v", c.site, c.what, got, c.want)
		}
	}
	course := &Course{Sites: []Site{hauled, {Nights: 2, Fills: "all"}, {Nights: 7}}}
	near.Abs(t, "longest leg of grey", course.longestLeg("grey"), 9, 0, "two nights and seven without a filling between")
	near.Abs(t, "longest leg of black", course.longestLeg("black"), 28, 0, "not hauled")
	// 40 L at 5 L a day: eight days; the haul after six keeps it up, and at the last stop it ends after eight of nine days since the second stop filled it.
	grey := tank{name: "grey tank", holds: 40, perDay: 5}
	days, inside := grey.lasts(course)
	if near.Abs(t, "days until it is full", days, 28+8, 1e-12, "by hand"); !inside {
		t.Error("it ends inside the stay")
	}
	black := tank{name: "black tank", holds: 145, perDay: 5}
	days, inside = black.lasts(course)
	if near.Abs(t, "days until the black tank is full", days, 28+29, 1e-12, "by hand: emptied at the second stop, and 29 days from there"); inside {
		t.Error("it ends past the stay")
	}
}

// Propane that is hauled lasts in booked and swift runs alike: 20 lb at 2 kW are gone after 2.58 days (fill_test.go), filled every other day never.
func TestTank_PropaneHauled(t *testing.T) {
	for _, every := range []int{0, 2, 3} {
		run := darkRun(t, cold, 1) // for its system
		site := Site{Place: sun.Place{Latitude: 39, Longitude: -95}, Zone: time.UTC, Sky: "roofed", Nights: 12, Hauls: "propane", HaulDays: every}
		c, err := newCourse(time.Date(2027, 5, 1, 0, 0, 0, 0, time.UTC), []Site{site}, 15)
		if err != nil {
			t.Fatal(err)
		}
		sys := run.System
		w := Weather{GHI: make([]float64, c.N), DNI: make([]float64, c.N), DHI: make([]float64, c.N), AirC: make([]float64, c.N), WindMS: make([]float64, c.N)}
		air, none := make([]float32, c.N), make([]float32, c.N)
		for i := range air {
			air[i], w.AirC[i] = 10, 10
		}
		booked := newRunner(sys, c, true).run(w)
		out := outcome{lows: make([]float32, len(c.Days)), gas: make([]float32, len(c.Days))}
		newSwift(sys, c, newSchedule(sys, c), true).run(none, nil, air, &out)
		near.Abs(t, "propane left", out.gasLeft, float64(booked.GasKg[c.N-1]), 1e-4, "the booked run keeps single precision")
		ran := 0
		for _, left := range booked.GasKg {
			if left <= 1e-6 {
				ran++
			}
		}
		if (ran > 0) != (every != 2) || (out.gasOut >= 0) != (every != 2) {
			t.Errorf("filled every %d days: %d steps without propane, first in the swift run at %d", every, ran, out.gasOut)
		}
		if every == 3 {
			near.Within(t, "share of each three days without", float64(ran)/float64(c.N), 0.1, 1-2.4/3, "by hand: less than 2.58 of three days, since a refrigerator burns too")
		}
	}
}
