package convert

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"campwright/internal/near"
)

func makeDCDC(t testing.TB, p DCDCParams) DCDC {
	t.Helper()
	u, err := NewDCDC(p)
	if err != nil {
		t.Fatal(err)
	}
	return u
}

// takes returns a unit that takes exactly watts on its input, with nothing that gives way.
func takes(t testing.TB, watts float64) DCDC {
	t.Helper()
	return makeDCDC(t, DCDCParams{OutputW: watts, BankV: 12.8, Peak: 1, Curve: FlatCurve()})
}

func onLine(volts, ohms float64) LineInput {
	return LineInput{SourceV: volts, LoopOhm: ohms, BusV: 13.4, AskW: Unlimited, EngineRuns: true}
}

// Every row of the trade reference's table of constant-power units on a line, those without a solution too.
func TestSolveLine_ReferenceQuadratic(t *testing.T) {
	none := 0
	for _, r := range referenceRows(t, 54, "trade", "dcdc_line_quadratic.csv") {
		u := takes(t, number(t, r, "P_in_W"))
		ohms := number(t, r, "R_round_trip_ohm_75C")
		pt := SolveLine(&u, onLine(number(t, r, "V_source"), ohms))
		what := fmt.Sprintf("%s AWG, %s ft, %s W", r["awg"], r["one_way_ft"], r["P_in_W"])
		near.Printed(t, what+": critical", pt.CriticalW, number(t, r, "P_max_W"), 1, "table")
		if r["V_at_charger"] == "" {
			none++
			if pt.State != NoPoint || pt.OutputW != 0 || pt.SourceW != 0 {
				t.Errorf("%s: %+v, want no operating point", what, pt)
			}
			continue
		}
		if pt.State != Runs {
			t.Errorf("%s: %v", what, pt.State)
		}
		near.Printed(t, what+": V", pt.V, number(t, r, "V_at_charger"), 4, "table")
		near.Printed(t, what+": A", pt.A, number(t, r, "I_A"), 4, "table")
		near.Printed(t, what+": line loss", pt.LineLossW, number(t, r, "wire_loss_W"), 3, "table")
		near.Printed(t, what+": drop", 100*(1-pt.V/13.8), number(t, r, "drop_pct"), 2, "table")
	}
	if none != 4 {
		t.Errorf("%d rows without a solution, the table has 4", none)
	}
}

// Worked cases W20 and W21 of the trade reference: 320 W in over 8 AWG and 12 AWG.
func TestSolveLine_W20_W21(t *testing.T) {
	u := makeDCDC(t, DCDCParams{OutputA: 20, BankV: 14.4, Peak: 0.90, Curve: FlatCurve(), CutsOutV: 11})
	in := onLine(13.8, 0.0389)
	in.BusV = 14.4
	pt := SolveLine(&u, in)
	near.Printed(t, "W20, V", pt.V, 12.8298, 4, "W20")
	near.Printed(t, "W20, A", pt.A, 24.942, 3, "W20")
	near.Printed(t, "W20, critical", pt.CriticalW, 1223.9, 1, "W20")
	near.Abs(t, "W20, output", pt.OutputW, 288, 1e-9, "20 A at 14.4 V")
	in.LoopOhm = 0.1188
	bare := takes(t, 320)
	low := SolveLine(&bare, in)
	near.Printed(t, "W21, V", low.V, 9.9974, 4, "W21")
	near.Printed(t, "W21, A", low.A, 32.0083, 4, "W21")
	near.Printed(t, "W21, critical", low.CriticalW, 400.8, 1, "W21")
	if hunts := SolveLine(&u, in); hunts.State != Cycles {
		t.Errorf("below its cut-out the unit %v, want it to hunt", hunts.State)
	}
}

// Worked case M63: 45 ft of line, 13.8 V; 40 A and 20 A units at 14.4 V and 0.88.
func TestSolveLine_M63_TowLine(t *testing.T) {
	unit := func(amps float64) DCDC {
		return makeDCDC(t, DCDCParams{OutputA: amps, BankV: 14.4, Peak: 0.88, Curve: FlatCurve()})
	}
	forty, twenty := unit(40), unit(20)
	near.Printed(t, "40 A unit needs", forty.InputW(40*14.4), 655, 0, "M63")
	near.Printed(t, "20 A unit needs", twenty.InputW(20*14.4), 327, 0, "M63")
	solved := 0
	for _, k := range []struct {
		u              *DCDC
		awg            string
		ohmPerKft      float64
		volts, amps    float64
		aDecimals      int
		mostW          float64
		passesItsFuse  bool
		fuseA          float64
		operatingPoint bool
	}{
		{&forty, "10", 1.24, 0, 0, 0, 427, false, 60, false},
		{&forty, "6", 0.491, 11.2, 58, 0, 0, false, 60, true},
		{&forty, "4", 0.308, 12.3, 53, 0, 0, false, 60, true},
		{&forty, "2", 0.194, 12.9, 51, 0, 0, false, 60, true},
		{&twenty, "10", 1.24, 10.2, 32, 0, 427, true, 30, true},
		{&twenty, "8", 0.778, 11.9, 27.6, 1, 0, false, 30, true},
	} {
		line, err := NewLine([]Link{{Name: "fuse", RatedA: k.fuseA}, {Name: "pair", Ohms: 2 * 45 * k.ohmPerKft / 1000}})
		if err != nil {
			t.Fatal(err)
		}
		in := onLine(13.8, line.Ohms())
		in.BusV = 14.4
		pt := SolveLine(k.u, in)
		what := k.awg + " AWG"
		if k.mostW > 0 {
			near.Printed(t, what+": critical", pt.CriticalW, k.mostW, 0, "M63")
		}
		if !k.operatingPoint {
			if pt.State != NoPoint {
				t.Errorf("%s: %v, want no operating point", what, pt.State)
			}
			continue
		}
		solved++
		near.Printed(t, what+": V", pt.V, k.volts, 1, "M63")
		near.Printed(t, what+": A", pt.A, k.amps, k.aDecimals, "M63")
		if _, rated := line.Weakest(); (pt.A > rated) != k.passesItsFuse {
			t.Errorf("%s: %.1f A on a fuse of %v A", what, pt.A, rated)
		}
	}
	if solved != 5 {
		t.Fatalf("%d solved, want 5", solved)
	}
}

// The independent reference's circuits 06 and 07, solved there as whole networks: one with an operating point, one without, both fed from
// alternator and starter battery, taken here by their Thevenin equivalent.
func TestSolveLine_ReferenceCircuits(t *testing.T) {
	for _, file := range []string{"06_alternator_dcdc.json", "07_alternator_dcdc_infeasible.json"} {
		var doc struct {
			Variants []struct {
				Elements []struct {
					ID    string
					Watts float64
				}
				Limit struct {
					V    float64 `json:"thevenin_v"`
					Ohm  float64 `json:"thevenin_ohm"`
					MaxW float64 `json:"max_power_w"`
				} `json:"single_load_limit"`
				Feasible bool
				Scale    float64 `json:"critical_scale"`
				Results  map[string]struct {
					A float64 `json:"current_a"`
					V float64 `json:"voltage_v"`
				} `json:"element_results"`
			}
		}
		referenceJSON(t, &doc, "oracle", "circuits", file)
		k := doc.Variants[0]
		watts := 0.0
		for _, e := range k.Elements {
			if e.ID == "dcdc" {
				watts = e.Watts
			}
		}
		if watts == 0 {
			t.Fatal("no dc-dc in " + file)
		}
		u := takes(t, watts)
		pt := SolveLine(&u, onLine(k.Limit.V, k.Limit.Ohm))
		near.Rel(t, file+": critical", pt.CriticalW, k.Limit.MaxW, 1e-9, "the reference prints 11 digits")
		if !k.Feasible {
			if pt.State != NoPoint {
				t.Errorf("%s: %v", file, pt.State)
			}
			near.Rel(t, file+": critical scale", pt.CriticalW/watts, k.Scale, 1e-9, "the reference prints 11 digits")
			continue
		}
		near.Rel(t, file+": V", pt.V, k.Results["dcdc"].V, 1e-9, "the reference prints 11 digits")
		near.Rel(t, file+": A", pt.A, k.Results["dcdc"].A, 1e-9, "the reference prints 11 digits")
	}
}

// What gives way: each kind of unit on the same weak line, and each threshold just inside and just outside.
func TestSolveLine_KindsOfUnit(t *testing.T) {
	base := DCDCParams{OutputA: 40, BankV: 14.4, Peak: 0.88, Curve: FlatCurve()}
	weak := onLine(13.8, 0.1116) // 45 ft of 10 AWG: 427 W at most, 655 W asked
	weak.BusV = 14.4
	edit := func(f func(*DCDCParams)) DCDC { p := base; f(&p); return makeDCDC(t, p) }

	limited := edit(func(p *DCDCParams) { p.InputLimitA = 25 })
	pt := SolveLine(&limited, weak)
	near.Abs(t, "limited: A", pt.A, 25, 0, "its limit")
	near.Abs(t, "limited: V", pt.V, 13.8-0.1116*25, 1e-12, "Ohm")
	near.Abs(t, "limited: output", pt.OutputW, 0.88*25*(13.8-2.79), 1e-9, "arithmetic")
	if pt.State != Limited {
		t.Errorf("limited: %v", pt.State)
	}

	folds := edit(func(p *DCDCParams) { p.FoldsV, p.CutsOutV = 12, 11 })
	pt = SolveLine(&folds, weak)
	near.Abs(t, "folds: V", pt.V, 12, 0, "held")
	near.Abs(t, "folds: output", pt.OutputW, 0.88*12*1.8/0.1116, 1e-9, "arithmetic")
	if pt.State != Folds {
		t.Errorf("folds: %v", pt.State)
	}
	near.Abs(t, "folds to nothing", SolveLine(&folds, onLine(12, 0.1)).OutputW, 0, 0, "source at the voltage it holds")
	if s := SolveLine(&folds, onLine(10.9, 0.1)).State; s != CutsOut {
		t.Errorf("source below the cut-out: %v", s)
	}

	both := edit(func(p *DCDCParams) { p.InputLimitA, p.FoldsV = 16, 12 })
	if pt = SolveLine(&both, weak); pt.State != Limited || pt.A != 16 {
		t.Errorf("limit reached before fold-back: %+v", pt)
	}
	both = edit(func(p *DCDCParams) { p.InputLimitA, p.FoldsV = 17, 12 })
	if pt = SolveLine(&both, weak); pt.State != Folds {
		t.Errorf("fold-back reached before the limit: %+v", pt)
	}

	runs, cuts := base, base
	good := onLine(13.8, 0.04419) // 45 ft of 6 AWG: 11.236 V
	good.BusV = 14.4
	v := (13.8 + math.Sqrt(13.8*13.8-4*0.04419*40*14.4/0.88)) / 2
	runs.CutsOutV, cuts.CutsOutV = v-1e-9, v+1e-9
	inside, outside := makeDCDC(t, runs), makeDCDC(t, cuts)
	if s := SolveLine(&inside, good).State; s != Runs {
		t.Errorf("just above the cut-out: %v", s)
	}
	if s := SolveLine(&outside, good).State; s != Cycles {
		t.Errorf("just below the cut-out: %v", s)
	}
	cuts.RestartV = 13.8 + 1e-9
	stays := makeDCDC(t, cuts)
	if pt := SolveLine(&stays, good); pt.State != CutsOut || pt.SourceW != 0 || pt.OutputW != 0 {
		t.Errorf("unloaded line below the restart voltage: %+v", pt)
	}

	for _, k := range []struct {
		volts float64
		want  LineState
	}{{12, CutsOut}, {12 + 1e-9, Cycles}} {
		u := edit(func(p *DCDCParams) { p.CutsOutV = 12 })
		if s := SolveLine(&u, onLine(k.volts, 0.05)).State; s != k.want {
			t.Errorf("source of %v V on a cut-out of 12 V: %v, want %v", k.volts, s, k.want)
		}
	}

	for _, k := range []struct {
		name    string
		wakes   Wake
		volts   float64
		engine  bool
		restart float64
		want    LineState
	}{
		{"engine signal", WakeEngine, 12.9, true, 13.2, Runs}, {"no engine signal", WakeEngine, 13.8, false, 13.2, Asleep},
		{"voltage reached", WakeVoltage, 13.2, false, 13.2, Runs}, {"voltage not reached", WakeVoltage, 13.2 - 1e-9, true, 13.2, Asleep},
		{"switch", WakeSwitch, 12.5, false, 0, Runs},
	} {
		u := edit(func(p *DCDCParams) { p.Wakes, p.RestartV = k.wakes, k.restart })
		in := onLine(k.volts, 0.001)
		in.EngineRuns = k.engine
		if s := SolveLine(&u, in).State; s != k.want {
			t.Errorf("%s: %v, want %v", k.name, s, k.want)
		}
	}
	for _, in := range []LineInput{{}, onLine(math.NaN(), 0.1), onLine(math.Inf(1), 0.1), {SourceV: 13.8, LoopOhm: 0.1, BusV: math.NaN(), AskW: 100, EngineRuns: true},
		{SourceV: 13.8, LoopOhm: 0.1, BusV: 13, AskW: math.NaN(), EngineRuns: true}} {
		if pt := SolveLine(&limited, in); pt.State != Asleep || pt.OutputW != 0 {
			t.Errorf("%+v: %+v, want nothing", in, pt)
		}
	}
}

// Rule N04: the weakest link of the chain is found whatever its place, and the ohms add.
func TestNewLine_N04_WeakestLink(t *testing.T) {
	l, err := NewLine([]Link{{"fuse", 0.001, 60}, {"run", 0.0236, 105}, {"plug", 0.001, 50}, {"run", 0.012, 0}})
	if err != nil {
		t.Fatal(err)
	}
	near.Abs(t, "ohms", l.Ohms(), 0.0376, 1e-15, "sum")
	if i, a := l.Weakest(); i != 2 || a != 50 {
		t.Errorf("weakest %d, %v A, want the plug's 50 A", i, a)
	}
	links := l.Links()
	links[2].RatedA = 1
	if _, a := l.Weakest(); a != 50 || l.Links()[2].RatedA != 50 {
		t.Error("a caller changed the line through its copy")
	}
	none, err := NewLine(nil)
	if i, a := none.Weakest(); err != nil || i != -1 || a != Unlimited || none.Ohms() != 0 {
		t.Errorf("no links: %d, %v, %v, %v", i, a, none.Ohms(), err)
	}
	for _, k := range []Link{{"run", -0.1, 0}, {"run", math.NaN(), 0}, {"run", 0.1, -5}, {"run", 10.1, 0}} {
		if _, err := NewLine([]Link{k}); err == nil || !strings.Contains(err.Error(), `charge line "run"`) {
			t.Errorf("%+v: %v", k, err)
		}
	}
}

func TestNewDCDC_Refuses(t *testing.T) {
	good := DCDCParams{Name: "tow", OutputA: 40, BankV: 13.6, Peak: 0.9, Curve: TypicalCurve(), CutsOutV: 11, FoldsV: 12, RestartV: 12.8}
	for _, b := range []struct {
		name string
		edit func(*DCDCParams)
	}{
		{"neither", func(p *DCDCParams) { p.OutputA = 0 }}, {"output", func(p *DCDCParams) { p.OutputA = math.NaN() }},
		{"power", func(p *DCDCParams) { p.OutputW = -1 }}, {"efficiency", func(p *DCDCParams) { p.Peak = 1.01 }},
		{"cuts out", func(p *DCDCParams) { p.CutsOutV = 12 }}, {"restarts", func(p *DCDCParams) { p.RestartV = 10.9 }},
		{"ramp", func(p *DCDCParams) { p.RampS = -1 }}, {"cut-out delay", func(p *DCDCParams) { p.CutDelayS = 601 }},
		{"time off", func(p *DCDCParams) { p.OffS = math.Inf(1) }}, {"wake", func(p *DCDCParams) { p.Wakes = 9 }},
		{"flow", func(p *DCDCParams) { p.Flows = 9 }}, {"bank", func(p *DCDCParams) { p.BankV = 0 }},
		{"input limit", func(p *DCDCParams) { p.InputLimitA = -1 }}, {"fixed share", func(p *DCDCParams) { p.Curve.FixedShare = 0.7 }},
	} {
		p := good
		b.edit(&p)
		u, err := NewDCDC(p)
		if err == nil || u != (DCDC{}) {
			t.Errorf("%s: accepted %+v", b.name, p)
		} else if !strings.Contains(err.Error(), b.name) || !strings.HasPrefix(err.Error(), `dc-dc "tow": `) {
			t.Errorf("%s: message %q names neither place nor value", b.name, err)
		}
	}
	for _, k := range []struct {
		flows      Flow
		can, known bool
	}{{UnknownWay, false, false}, {OneWay, false, true}, {TwoWay, true, true}} {
		p := good
		p.Flows = k.flows
		u := makeDCDC(t, p)
		if can, known := u.CanFeedVehicle(); can != k.can || known != k.known {
			t.Errorf("%v: can %v, known %v", k.flows, can, known)
		}
	}
}

func TestParseWake(t *testing.T) {
	for _, w := range []string{"engine signal", "voltage", "switch"} {
		if got, ok := ParseWake(w); !ok || got.String() != w {
			t.Errorf("%q read as %v, %v", w, got, ok)
		}
	}
	if _, ok := ParseWake("ignition"); ok {
		t.Error("ignition is a way to wake")
	}
}

func ExampleSolveLine() {
	u, err := NewDCDC(DCDCParams{OutputA: 40, BankV: 14.4, Peak: 0.88, Curve: FlatCurve(), FoldsV: 12})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, wire := range []struct {
		awg  string
		ohms float64 // 45 ft one way
	}{{"2", 0.01746}, {"6", 0.04419}, {"10", 0.1116}} {
		pt := SolveLine(&u, LineInput{SourceV: 13.8, LoopOhm: wire.ohms, BusV: 14.4, AskW: Unlimited, EngineRuns: true})
		fmt.Printf("%2s AWG: %v at %.1f V, %.0f W of %.0f W\n", wire.awg, pt.State, pt.V, pt.OutputW, pt.WantedW)
	}
	// Output:
	//  2 AWG: runs at 12.9 V, 576 W of 576 W
	//  6 AWG: folds back at 12.0 V, 430 W of 576 W
	// 10 AWG: folds back at 12.0 V, 170 W of 576 W
}
