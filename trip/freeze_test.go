package trip

import (
	"strings"
	"testing"
	"time"

	"campwright/quantity"
	"campwright/rig"
	"campwright/sun"
	"campwright/system"
)

// frostRun plays a parked bank for some nights in the dark at one temperature.
func frostRun(t *testing.T, chemistry string, startsAt string, airC float64) *Run {
	t.Helper()
	doc, faults := rig.Decode(strings.NewReader("campwright: 1\nname: frost\nkind: van\nbank: {chemistry: " + chemistry + ", in series: 2, block: {voltage: 6 V, capacity: 220 Ah}, bay: outside, bay above outside: 0 K, starts at: " + startsAt + "}\n"))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	full, gaps := system.Complete(doc)
	if len(gaps) > 0 {
		t.Fatal(gaps)
	}
	sys, err := system.Assemble(&full, system.Draw{}, 60)
	if err != nil {
		t.Fatal(err)
	}
	site := Site{Place: sun.Place{Latitude: 44, Longitude: -95}, Zone: time.UTC, Sky: "roofed", Nights: 3}
	c, err := newCourse(time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC), []Site{site}, 60)
	if err != nil {
		t.Fatal(err)
	}
	w := Weather{GHI: make([]float64, c.N), DNI: make([]float64, c.N), DHI: make([]float64, c.N), AirC: make([]float64, c.N), WindMS: make([]float64, c.N)}
	for i := range w.AirC {
		w.AirC[i] = airC
	}
	return newRunner(sys, c, false).run(w)
}

// A flooded bank freezes by its charge: the handbook's acid of 1.160, a quarter charged, freezes at +1 °F (-17.2 °C), that of 1.220, half charged, at
// -31 °F (-35 °C) [TM-6140]. LFP has no acid.
func TestFrozen_Handbook(t *testing.T) {
	for _, c := range []struct {
		chemistry, charge string
		airC              float64
		nights            int
	}{
		{"flooded", "25 %", -16.5, 0}, {"flooded", "25 %", -18.5, 3},
		{"flooded", "50 %", -34, 0}, {"flooded", "50 %", -36, 3},
		{"flooded", "100 %", -40, 0}, {"AGM", "25 %", -18.5, 3}, {"LFP", "25 %", -40, 0},
	} {
		run := frostRun(t, c.chemistry, c.charge, c.airC)
		n := 0
		for _, w := range wrongOf(run) {
			if strings.Contains(w.What, "acid freezes") {
				n = w.Nights
			}
		}
		said := frozen(run)
		if n != c.nights || (len(said) == 1) != (c.nights > 0) {
			t.Errorf("%s at %s in %g C freezes on %d nights, by the handbook %d; said: %v", c.chemistry, c.charge, c.airC, n, c.nights, said)
		}
	}
	said := frozen(frostRun(t, "flooded", "25 %", -20))[0]
	if us := said.in(quantity.US); !strings.Contains(us, "freezes at about 1 °F, and it is down to \u22124 °F") {
		t.Errorf("in US units: %s", us)
	}
	if metric := said.in(quantity.Metric); !strings.Contains(metric, "freezes at about \u221217 °C, and it is down to \u221220 °C") {
		t.Errorf("in metric units: %s", metric)
	}
}
