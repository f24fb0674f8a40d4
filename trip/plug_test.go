package trip

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"campwright/battery"
	"campwright/convert"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/sun"
	"campwright/system"
)

// pluggedIn is a van under a roof on a hookup, with a charger and a load; the bank begins at 80 %.
func pluggedIn(t *testing.T, charger, loads string, stepMin, nights int) (*system.System, *Course, Weather) {
	t.Helper()
	doc, faults := rig.Decode(strings.NewReader(fmt.Sprintf(`campwright: 1
name: plugged in
kind: van
bank: {chemistry: LFP, blocks: 2, block: {voltage: 12.8 V, capacity: 100 Ah, resistance: 3 mohm}, bay: inside, starts at: 80 %%, health: 100 %%}
shore: {inlet: 30 A, chargers: {charger: {%s}}}
appliances: [%s]
`, charger, loads)))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	full, gaps := system.Complete(doc)
	if len(gaps) > 0 {
		t.Fatal(gaps)
	}
	sys, err := system.Assemble(&full, system.Draw{}, stepMin)
	if err != nil {
		t.Fatal(err)
	}
	site := Site{Place: sun.Place{Latitude: 39, Longitude: -95}, Zone: time.UTC, Sky: "roofed", Hookup: "30 A", Nights: nights}
	c, err := newCourse(time.Date(2027, 5, 1, 0, 0, 0, 0, time.UTC), []Site{site}, stepMin)
	if err != nil {
		t.Fatal(err)
	}
	w := Weather{GHI: make([]float64, c.N), DNI: make([]float64, c.N), DHI: make([]float64, c.N), AirC: make([]float64, c.N), WindMS: make([]float64, c.N)}
	for i := range w.AirC {
		w.AirC[i] = 15
	}
	return sys, c, w
}

const lamp = "{name: meter, power: 40 W}"

// A charger fills the bank, absorbs for its time and then holds the float voltage, at which it carries the load: the bank neither gives nor takes.
func TestPlug_FloatsAfterAbsorption(t *testing.T) {
	sys, c, w := pluggedIn(t, "output: 50 A, absorption: 14.2 V, float: 13.6 V, restarts at: 12.8 V", lamp, 5, 3)
	run := newRunner(sys, c, true).run(w)
	held := 0
	for _, v := range run.Volts {
		if v > 14.15 {
			held++
		}
	}
	wanted := sys.Supply.Plugged.Params().AbsorbForH
	near.Abs(t, "time at the charging voltage", float64(held)*c.StepH, wanted, 3*c.StepH, "its setting; the step that reaches the voltage and the one that ends it are not counted")
	last := len(run.Volts) - 1
	near.Abs(t, "voltage on the last day", float64(run.Volts[last]), 13.6, 0.01, "its float setting")
	near.Abs(t, "charge of the last day", float64(run.SoC[last]), float64(run.SoC[last-288]), 1e-3, "held")
	if run.SoC[last] < 0.95 {
		t.Errorf("at %.1f V LFP is nearly full, and it stands at %.2f", 13.6, run.SoC[last])
	}
	near.Abs(t, "worst step of the books", run.WorstStepWh, 0, 1e-9, "sources against uses")
	day := run.Days[2]
	near.Rel(t, "what comes in on the last day", day.SolarWh, day.ServedWh, 0.005, "the charger carries the load; the bank's own discharge is small")
}

// Case M62 of the practice list: LFP rests above 13.0 V until nearly empty, so that a charger which floats at 13.1 V and starts again at 12.8 V leaves the bank to
// drain, plugged in, to the charge that rests at 13.1 V, and never fills it again. What starts again at 13.05 V does not either: nothing pulls the bank
// below. A load that the charger cannot carry does, and it fills it.
func TestPlug_M62(t *testing.T) {
	const low = "output: 20 A, absorption: 14.2 V, float: 13.1 V, restarts at: %s"
	run := func(restart, loads string) *Run {
		sys, c, w := pluggedIn(t, fmt.Sprintf(low, restart), loads, 5, 12)
		return newRunner(sys, c, true).run(w)
	}
	drained := run("12.8 V", lamp)
	last := float64(drained.SoC[len(drained.SoC)-1])
	if peak := largest(drained.SoC); peak < 0.98 || last > 0.7 {
		t.Errorf("filled to %.2f and left to %.2f", peak, last)
	}
	near.Abs(t, "rest voltage of what is left", drained.System.Bank.Model.Voc(last), 13.1, 0.08, "it sinks until it rests at the float voltage, less the polarisation of some 0.07 V that a falling bank shows")
	heavy := lamp + ", {name: pot, power: 900 W, on: 18:00-18:30}"
	again := run("13.05 V", heavy)
	fills := 0
	for i := 288; i < len(again.SoC); i++ {
		if again.Volts[i] > 14.1 && again.Volts[i-1] <= 14.1 {
			fills++
		}
	}
	if fills < 5 {
		t.Errorf("pulled below its restart voltage each evening it fills the bank %d times in eleven days", fills)
	}
	never := run("12.0 V", heavy)
	if v := largest(never.Volts[2*288:]); v > 13.5 {
		t.Errorf("a restart at 12.0 V was met: %.2f V", v)
	}
}

func largest(list []float32) float64 {
	high := math.Inf(-1)
	for _, v := range list {
		high = math.Max(high, float64(v))
	}
	return high
}

// The stages come out alike in booked and swift runs, walking and striding.
func TestPlug_Twin(t *testing.T) {
	for _, charger := range []string{
		"output: 50 A, absorption: 14.2 V, float: 13.6 V, restarts at: 12.8 V", "output: 20 A, absorption: 14.2 V, float: 13.1 V, restarts at: 13.05 V", "output: 20 A, absorption: 14.4 V, float: 13.3 V, restarts at: 12 V",
	} {
		for _, stepMin := range []int{5, 15} {
			sys, c, w := pluggedIn(t, charger, lamp+", {name: pot, power: 900 W, on: 18:00-18:30}", stepMin, 12)
			run := newRunner(sys, c, true).run(w)
			air, none := make([]float32, c.N), make([]float32, c.N)
			for i := range air {
				air[i] = 15
			}
			for _, byStep := range []bool{true, false} {
				s := newSwift(sys, c, newSchedule(sys, c), true)
				s.byStep = byStep
				out := outcome{lows: make([]float32, len(c.Days)), gas: make([]float32, len(c.Days))}
				s.run(none, nil, air, &out)
				worst := near.Worst{What: "daily low"}
				for d := range out.lows {
					worst.See(float64(out.lows[d]), run.Days[d].LowSoC, fmt.Sprint(d))
				}
				near.Abs(t, fmt.Sprintf("%s, steps of %d min, walking %v: low of day %s", charger, stepMin, byStep, worst.Place), worst.Off, 0, 0.01, "the same stages at the same voltages")
			}
		}
	}
}

// A charge begins anew when AC returns, and rests off where no float voltage is given.
func TestPlug_Stages(t *testing.T) {
	sys, _, _ := pluggedIn(t, "output: 50 A, absorption: 14.2 V, float: 13.6 V, restarts at: 12.8 V", lamp, 15, 1)
	p := newPlug(sys)
	p.state = convert.ChargeState{Stage: convert.Float}
	if got := p.next(13.6, 0, 20, 1, false); got.Stage != convert.Bulk {
		t.Errorf("without AC it stands in %v", got.Stage)
	}
	if got := p.next(12.7, 0, 20, 1, true); got.Stage != convert.Bulk {
		t.Errorf("below its restart voltage it stands in %v", got.Stage)
	}
	if got := p.next(12.9, 0, 20, 1, true); got.Stage != convert.Float {
		t.Errorf("above its restart voltage it stands in %v", got.Stage)
	}
	p.state.Stage = convert.Rest
	if w := p.gives(500, 100, sysState(sys), 20, 1); w != 0 {
		t.Errorf("at rest it gives %g W", w)
	}
	p.state.Stage = convert.Bulk
	if w := p.gives(500, 100, sysState(sys), 20, 1); w != 500 {
		t.Errorf("in bulk it gives %g W of 500", w)
	}
}

func sysState(sys *system.System) battery.State { return battery.State{SoC: sys.Bank.StartSoC} }
