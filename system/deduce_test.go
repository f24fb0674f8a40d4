package system_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"campwright/figure"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/system"
)

const deduced = `modules:
  m: {%s}
arrays:
  - {name: a, module: m, controller: c}
controllers:
  c: {survives: 100 V, output: 30 A}
bank: {chemistry: LFP, block: {capacity: 100 Ah}}
inverters:
  i: {power: 2000 W}
appliances:
  - {name: coffee maker}
`

func completed(t *testing.T, module string) (rig.Rig, []system.Gap) {
	t.Helper()
	return system.Complete(decode(t, fmt.Sprintf(deduced, module)))
}

// A guess follows what is stated: 190 W beside guessed 18.6 V and 10.75 A is 10.2 A, and the short-circuit current sinks with it. What is stated stays.
func TestComplete_ModuleFollowsPower(t *testing.T) {
	full, gaps := completed(t, "power: 190 W, voc: about 22.6 V, isc: about 11.4 A, vmp: about 18.6 V, imp: about 10.75 A")
	if len(gaps) > 0 {
		t.Fatal(gaps)
	}
	m := full.Modules[0]
	near.Abs(t, "Imp", m.Imp.Quantity.Base, 190/18.6, 1e-9, "power is voltage times current")
	near.Abs(t, "Isc", m.Isc.Quantity.Base, 11.4*190/(18.6*10.75), 1e-9, "in proportion to Imp")
	near.Abs(t, "Vmp", m.Vmp.Quantity.Base, 18.6, 1e-9, "as guessed")
	if _, err := system.Assemble(&full, system.Draw{}, 5); err != nil {
		t.Errorf("a corrected power left no answer: %v", err)
	}
	full, _ = completed(t, "power: 200 W, voc: 24.3 V, isc: 10.4 A, vmp: 20.4 V, imp: 9.8 A")
	if m := full.Modules[0]; m.Imp.Quantity.Base != 9.8 || m.Isc.Quantity.Base != 10.4 || m.Vmp.Quantity.Base != 20.4 {
		t.Errorf("a stated sheet was changed: %v", m)
	}
}

// What a sheet leaves out is deduced within what such modules show: the handbook's generic module of 36 cells has 24.3 V, 10.4 A, 20.4 V and 9.8 A.
func TestComplete_ModuleLeftOut(t *testing.T) {
	for _, sheet := range []string{"power: 200 W, voc: 24.3 V", "power: 200 W, voc: 24.3 V, isc: unknown", "voc: 24.3 V, imp: 9.8 A", "power: 200 W, voc: 24.3 V, imp: 9.8 A, vmp: unknown"} {
		full, gaps := completed(t, sheet)
		if len(gaps) > 0 {
			t.Errorf("%s: %v", sheet, gaps)
			continue
		}
		m := full.Modules[0]
		near.Rel(t, sheet+": Isc", m.Isc.Quantity.Base, 10.4, 0.04, "a sheet of a 200 W module of 36 cells")
		near.Rel(t, sheet+": Vmp", m.Vmp.Quantity.Base, 20.4, 0.04, "the same")
		near.Rel(t, sheet+": Imp", m.Imp.Quantity.Base, 9.8, 0.04, "the same")
		if !(m.Isc.Low <= 10.4 && 10.4 <= m.Isc.High) {
			t.Errorf("%s: Isc of %.2f to %.2f A leaves 10.4 A out", sheet, m.Isc.Low, m.Isc.High)
		}
	}
	if _, gaps := completed(t, "power: 200 W, imp: 9.8 A"); len(gaps) == 0 {
		t.Error("the open-circuit voltage was deduced; too much hangs on it")
	}
}

// Of a module of which the power alone is said every figure stays unknown, over a span that holds what is sold: 200 W of 36 cells have 24.3 V and 10.4 A
// (the handbook's generic module), 200 W of 60 cells some 36.6 V and 7.4 A, 370 W of 60 cells some 41 V and 11.3 A (labels of such modules, from
// memory). What stands for them fits the power, so that the rig has an answer.
func TestComplete_ModuleOfPower(t *testing.T) {
	for sheet, sold := range map[string][][2]float64{"power: 200 W": {{24.3, 10.4}, {36.6, 7.4}}, "power: 370 W": {{41, 11.3}}, "power: about 100 W, voc: unknown": {{22, 6.1}}} {
		full, gaps := completed(t, sheet)
		if len(gaps) > 0 {
			t.Errorf("%s: %v", sheet, gaps)
			continue
		}
		m := full.Modules[0]
		for _, v := range []rig.Value{m.Voc, m.Isc, m.Vmp, m.Imp} {
			if v.State != figure.Unknown || !(v.Low < v.Quantity.Base && v.Quantity.Base < v.High) {
				t.Errorf("%s: a figure that nobody said is %v of %g to %g", sheet, v.State, v.Low, v.High)
			}
		}
		for _, of := range sold {
			if of[0] < m.Voc.Low || of[0] > m.Voc.High || of[1] < m.Isc.Low || of[1] > m.Isc.High {
				t.Errorf("%s: %g V, %g A is sold, and lies outside %g to %g V, %g to %g A", sheet, of[0], of[1], m.Voc.Low, m.Voc.High, m.Isc.Low, m.Isc.High)
			}
		}
		near.Rel(t, sheet+": Vmp times Imp", m.Vmp.Quantity.Base*m.Imp.Quantity.Base, m.Power.Quantity.Base, 1e-9, "power is voltage times current")
		if _, err := system.Assemble(&full, system.Draw{}, 5); err != nil {
			t.Errorf("%s: %v", sheet, err)
		}
	}
}

// A name that tells what a thing is tells what it takes, and from what.
func TestComplete_ApplianceByName(t *testing.T) {
	full, _ := completed(t, "power: 200 W, voc: 24.3 V")
	a := full.Appliances[0]
	if a.Runs != "ac" || a.Power.Rate.State != figure.Default {
		t.Errorf("a coffee maker runs on %q, power %v", a.Runs, a.Power.Rate)
	}
	if w := a.Power.Rate.Quantity.Base; math.Abs(w-900) > 300 {
		t.Errorf("a coffee maker takes %.0f W, wanted 600 to 1,200 (labels of such machines, from memory)", w)
	}
}

// What is set out on the ground is told without a roof; an array that is said to be on one keeps it.
func TestComplete_Portable(t *testing.T) {
	for mounting, roof := range map[string]bool{"portable": false, "raised": true} {
		full, _ := system.Complete(decode(t, "modules:\n  m: {power: 100 W}\narrays:\n  - {name: a, module: m, controller: c, mounting: "+mounting+"}\ncontrollers:\n  c: {survives: 100 V, output: 30 A}\n"))
		a, told := full.Arrays[0], 0
		for _, v := range []rig.Value{a.Tilt, a.Shade, a.Run.Gauge, a.Run.Length} {
			if v.Why == "" {
				t.Errorf("%s: a value is filled in and does not say why", mounting)
			}
			if strings.Contains(v.Why, "roof") {
				told++
			}
		}
		if told > 0 != roof {
			t.Errorf("%s: a roof is told of %d values", mounting, told)
		}
	}
}
