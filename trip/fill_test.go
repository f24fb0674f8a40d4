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

// What goes wrong is counted in nights. By hand: 20 lb at 2 kW are gone after 2.58 days, so that four of six nights lack propane and heat; an AC load of
// 100 W all day on an inverter that is on for twelve hours asks 1,200 Wh in vain each day; and a bank of 1,280 Wh at 100 W is empty after half a day, after
// which the blower stands still though there is propane.
func TestWrong_Nights(t *testing.T) {
	const head = "campwright: 1\nname: dark\nkind: van\n"
	count := func(run *Run, what string) int {
		for _, w := range wrongOf(run) {
			if strings.Contains(w.What, what) {
				if want := plural(w.Nights, "night") + " of 6: " + w.What; w.Words != want {
					t.Errorf("got %q, want %q", w.Words, want)
				}
				return w.Nights
			}
		}
		return 0
	}
	const heats = "appliances: [{name: furnace, kind: furnace, runs on: propane, propane: 2 kW at 100 %, blower: 10 W, control: 0 W}]\nstores: {propane: 1 x 20 lb}\n"
	gone := darkRun(t, head+"bank: {chemistry: LFP, blocks: 10, block: {voltage: 12.8 V, capacity: 100 Ah}}\n"+heats, 6)
	if gas, heat := count(gone, "no propane left"), count(gone, "furnace without"); gas != 4 || heat != 4 {
		t.Errorf("%d nights without propane, %d without heat, by hand four each", gas, heat)
	}
	last := darkOf(gone.Days[5])
	if !slices.Contains(last, "propane at 0 %") || !slices.Contains(last, "24.0 h without heat") {
		t.Errorf("the last night: %v", last)
	}
	if first := darkOf(gone.Days[0]); len(first) > 0 {
		t.Errorf("the first night: %v", first)
	}
	const rest = "inverters: {i: {power: 300 W, idle: 0 W, on: 08:00-20:00}}\nappliances: [{name: lamp, runs on: ac, power: 100 W, on: always}]\n"
	off := darkRun(t, head+"bank: {chemistry: LFP, blocks: 10, block: {voltage: 12.8 V, capacity: 100 Ah}}\n"+rest, 6)
	if n := count(off, "inverter is switched off"); n != 6 {
		t.Errorf("%d nights on which something was asked of an inverter that is off", n)
	}
	unmet := ledgerOf(off).Unmet
	if len(unmet) != 1 || math.Abs(unmet[0].PerDay-1200) > 1e-6 {
		t.Errorf("not served: %+v, by hand 1,200 Wh a day", unmet)
	}
	const drain = "appliances: [{name: furnace, kind: furnace, runs on: propane, propane: 1 kW at 50 %, blower: 100 W, control: 50 W}]\nstores: {propane: 4 x 20 lb}\n"
	still := darkRun(t, head+"bank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 100 Ah}}\n"+drain, 6)
	if gas, heat := count(still, "no propane left"), count(still, "furnace without"); gas != 0 || heat < 5 {
		t.Errorf("with an empty bank %d nights without propane and %d without heat", gas, heat)
	}
}

// Hours without a running time count as running for all of them, which is said where the name tells of much less; with a running time nothing is said.
func TestRemarks_AllHours(t *testing.T) {
	remarks := func(more string) int {
		doc, faults := rig.Decode(strings.NewReader("campwright: 1\nname: n\nkind: van\nbank: {chemistry: LFP, block: {capacity: 100 Ah}}\ninverters: {i: {power: 1200 W}}\n" +
			"appliances: [{name: coffee maker, runs on: ac, power: 900 W, on: 06:30-08:00" + more + "}, {name: odd thing, power: 5 W, on: 06:00-22:00}]\n"))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		full, _ := system.Complete(doc)
		return len(allHours(&full))
	}
	if n := remarks(""); n != 1 {
		t.Errorf("%d remarks on a coffee maker that runs for an hour and a half", n)
	}
	if n := remarks(", per day: 12 min"); n != 0 {
		t.Errorf("%d remarks on a coffee maker with its minutes", n)
	}
}
