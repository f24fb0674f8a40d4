package trip

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"campwright/rig"
	"campwright/sun"
	"campwright/system"
)

// darkRun plays a rig for some nights in the dark at 10 °C.
func darkRun(t *testing.T, text string, nights int) *Run {
	t.Helper()
	doc, faults := rig.Decode(strings.NewReader(text))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	full, gaps := system.Complete(doc)
	if len(gaps) > 0 {
		t.Fatal(gaps)
	}
	sys, err := system.Assemble(&full, system.Draw{}, 15)
	if err != nil {
		t.Fatal(err)
	}
	site := Site{Place: sun.Place{Latitude: 39, Longitude: -95}, Zone: time.UTC, Sky: "roofed", Nights: nights}
	c, err := newCourse(time.Date(2027, 5, 1, 0, 0, 0, 0, time.UTC), []Site{site}, 15)
	if err != nil {
		t.Fatal(err)
	}
	dark := Weather{GHI: make([]float64, c.N), DNI: make([]float64, c.N), DHI: make([]float64, c.N), AirC: make([]float64, c.N), WindMS: make([]float64, c.N)}
	for i := range dark.AirC {
		dark.AirC[i] = 10
	}
	return newRunner(sys, c, true).run(dark)
}

// TestPropaneRate holds what a row says of the propane against itself: kilograms aboard over kilograms a day are the days it lasts, whether
// that is inside the stay or far past it. 20 lb at 2 kW last 2.6 days, worked by hand from 21,600 BTU/lb.
func TestPropaneRate(t *testing.T) {
	for _, nights := range []int{1, 6, 20} {
		run := darkRun(t, `campwright: 1
name: burner
kind: van
bank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 400 Ah}}
appliances: [{name: stove, runs on: propane, propane: 2 kW, on: always}]
stores: {propane: 1 x 20 lb}
`, nights)
		list := storesOf(run)
		i := slices.IndexFunc(list, func(e StoreEnd) bool { return e.Store == "propane" })
		if i < 0 {
			t.Fatal("no propane")
		}
		e := list[i]
		if days := e.Lasts.Value / 24; math.Abs(days-2.58) > 0.06 {
			t.Errorf("%d nights: propane lasts %.2f days", nights, days)
		}
		if e.Why != "8.89 kg aboard, 3.44 kg a day burned" && e.Why != "8.89 kg aboard, 3.45 kg a day burned" {
			t.Errorf("%d nights: %s", nights, e.Why)
		}
	}
}

// TestNoInverterNoCut empties a bank that feeds no inverter: no day may tell of an inverter's cut-off.
func TestNoInverterNoCut(t *testing.T) {
	const rest = `name: dark
kind: van
bank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 100 Ah}, loads off at: 11.6 V}
appliances: [{name: fan, power: 40 W}]
`
	cuts := func(run *Run) (inverter, loads int) {
		for _, d := range run.Days {
			words := strings.Join(darkOf(d), ", ")
			inverter += strings.Count(words, "inverter")
			loads += strings.Count(words, "loads cut off")
		}
		return inverter, loads
	}
	if inverter, loads := cuts(darkRun(t, "campwright: 1\n"+rest, 4)); inverter > 0 || loads == 0 {
		t.Errorf("without an inverter: %d days tell of its cut-off, %d of the loads'", inverter, loads)
	}
	if inverter, _ := cuts(darkRun(t, "campwright: 1\n"+rest+"inverters: {i: {power: 300 W}}\n", 4)); inverter == 0 {
		t.Error("with an inverter no day tells of its cut-off")
	}
}
