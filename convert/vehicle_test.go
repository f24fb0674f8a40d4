package convert

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"campwright/internal/near"
)

func makeVehicle(t testing.TB, p VehicleParams) Vehicle {
	t.Helper()
	v, err := NewVehicle(p)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Worked case M64 of the trade practice sheet: a 130 A alternator gives 104 A hot at cruise and 50 A hot at idle; the vehicle uses 45 A.
// At cruise 59 A are spare for a unit of 55 A, at idle 5 A, and the starter battery gives the rest.
func TestVehicle_M64_ShortAtIdle(t *testing.T) {
	v := makeVehicle(t, VehicleParams{Alternators: []Alternator{{RatedA: 130, HotIdleA: 50, HotCruiseA: 104}}, CruiseLoadA: 45, IdleLoadA: 45, Volts: 13.8})
	near.Abs(t, "spare at cruise", v.SpareA(Cruising), 59, 0, "M64")
	near.Abs(t, "spare at idle", v.SpareA(Idling), 5, 0, "M64")
	near.Abs(t, "engine off", v.SpareA(EngineOff), 0, 0, "definition")
	u := takes(t, 55*13.8) // 55 A on a line without resistance
	cruise := v.Charge(&u, EngineCharge{Engine: Cruising, BusV: 13.4, AskW: Unlimited})
	near.Abs(t, "drawn at cruise", cruise.MeanA, 55, 1e-12, "M64")
	near.Abs(t, "short at cruise", cruise.ShortA, 0, 0, "59 A cover 55 A")
	idle := v.Charge(&u, EngineCharge{Engine: Idling, BusV: 13.4, AskW: Unlimited})
	near.Abs(t, "short at idle", idle.ShortA, 50, 1e-12, "55 A against 5 A")
	if off := v.Charge(&u, EngineCharge{Engine: EngineOff, BusV: 13.4, AskW: Unlimited}); off != (EngineSupply{}) {
		t.Errorf("engine off: %+v", off)
	}
}

// Worked case W28 of the trade reference: 220 A printed, 45 % of it hot at idle, 45 A of own load leave 54 A.
func TestVehicle_W28_TypicalAlternator(t *testing.T) {
	v := makeVehicle(t, VehicleParams{Alternators: []Alternator{TypicalAlternator(220)}, IdleLoadA: 45, CruiseLoadA: 45, Volts: 14})
	near.Abs(t, "spare at idle", v.SpareA(Idling), 54, 1e-12, "W28")
	two := makeVehicle(t, VehicleParams{Alternators: []Alternator{TypicalAlternator(220), TypicalAlternator(220)}, IdleLoadA: 45, Volts: 14})
	near.Abs(t, "two of them", two.SpareA(Idling), 2*99-45, 1e-12, "they add")
	weak := makeVehicle(t, VehicleParams{Alternators: []Alternator{TypicalAlternator(60)}, IdleLoadA: 45, Volts: 14})
	near.Abs(t, "less than its own load", weak.SpareA(Idling), -18, 1e-12, "below zero: it drains the starter battery")
}

// Worked case M66: a 50 A unit woken by voltage on a vehicle whose regulator works 30 % of the time gives 15 A on average; the same unit on
// the engine-run signal charges all the time.
func TestVehicle_M66_VariableRegulator(t *testing.T) {
	v := makeVehicle(t, VehicleParams{Alternators: []Alternator{TypicalAlternator(180)}, Volts: 14.2, RestsV: 12.4, RestShare: 0.7})
	p := DCDCParams{OutputA: 50, BankV: 13.6, Peak: 0.9, Curve: FlatCurve(), RestartV: 13.2, Wakes: WakeVoltage}
	volts := makeDCDC(t, p)
	p.Wakes = WakeEngine
	signal := makeDCDC(t, p)
	c := EngineCharge{Engine: Cruising, LoopOhm: 0.01, BusV: 13.4, AskW: Unlimited}
	near.Abs(t, "woken by voltage", v.Charge(&volts, c).OutputW/13.4, 15, 1e-9, "M66")
	near.Abs(t, "woken by the engine", v.Charge(&signal, c).OutputW/13.4, 50, 1e-9, "all the time")
	if s := v.Charge(&volts, c).Points[1].State; s != Asleep {
		t.Errorf("while the regulator rests the unit is %v", s)
	}
}

// Scenarios S3 and S8: 40 A and 30 A units into 13.4 V give 0.536 and 0.402 kWh an hour.
func TestVehicle_S3_S8_EnergyOfAnHour(t *testing.T) {
	v := makeVehicle(t, VehicleParams{Alternators: []Alternator{TypicalAlternator(160)}, Volts: 13.8})
	for _, k := range []struct{ amps, kwh float64 }{{40, 0.536}, {30, 0.402}} {
		u := makeDCDC(t, DCDCParams{OutputA: k.amps, BankV: 13.4, Peak: 0.88, Curve: TypicalCurve(), CutsOutV: 11})
		got := v.Charge(&u, EngineCharge{Engine: Cruising, LoopOhm: 0.015, BusV: 13.4, AskW: Unlimited})
		near.Abs(t, fmt.Sprintf("%v A", k.amps), got.OutputW/1000, k.kwh, 1e-12, "S3, S8")
	}
}

// The mean over the regulator's phases closes and lies between the phases; shares at their limits leave one phase.
func TestVehicle_ChargeProperties(t *testing.T) {
	short := 0
	draws(t, 2000, func(d draw) {
		p := VehicleParams{Alternators: []Alternator{TypicalAlternator(d.between(50, 250))},
			CruiseLoadA: d.between(0, 80), Volts: d.between(13.2, 14.8),
			RestsV: d.between(12, 13), RestShare: pick(d, 0, 0.3, 1)}
		v, err := NewVehicle(p)
		if err != nil {
			t.Fatal(err)
		}
		u, err := NewDCDC(drawDCDC(d))
		if err != nil {
			t.Fatal(err)
		}
		got := v.Charge(&u, EngineCharge{Engine: Cruising, LoopOhm: d.between(0, 0.1), BusV: 13.4, AskW: Unlimited})
		near.Abs(t, "energy", got.OutputW+got.UnitLossW+got.LineLossW, got.SourceW, 1e-4*max(1, got.SourceW), "closes; Simpson's rule where it cycles")
		a, b := got.Points[0].OutputW, got.Points[1].OutputW
		near.Abs(t, "mean of the phases", got.OutputW, (1-p.RestShare)*a+p.RestShare*b, 1e-9, "by hand")
		if got.ShortA > 0 {
			short++
		}
		if got.ShortA > got.MeanA+1e-9 {
			t.Fatalf("the starter battery gives more than is drawn: %+v", got)
		}
	})
	if short == 0 {
		t.Error("no case with the alternators short")
	}
}

func TestNewVehicle_Refuses(t *testing.T) {
	good := func() VehicleParams {
		return VehicleParams{Name: "truck", Alternators: []Alternator{TypicalAlternator(160)}, Volts: 14.2}
	}
	for _, b := range []struct {
		name string
		edit func(*VehicleParams)
	}{
		{"no alternator", func(p *VehicleParams) { p.Alternators = nil }}, {"rating", func(p *VehicleParams) { p.Alternators[0].RatedA = 0 }},
		{"idle", func(p *VehicleParams) { p.Alternators[0].HotIdleA = 121 }}, {"cruise", func(p *VehicleParams) { p.Alternators[0].HotCruiseA = math.NaN() }},
		{"own load", func(p *VehicleParams) { p.CruiseLoadA = -1 }}, {"load at idle", func(p *VehicleParams) { p.IdleLoadA = 501 }},
		{"volts", func(p *VehicleParams) { p.Volts = 4 }}, {"rests at", func(p *VehicleParams) { p.RestsV = 14.3 }},
		{"rests for", func(p *VehicleParams) { p.RestsV, p.RestShare = 13, 1.1 }}, {"no voltage", func(p *VehicleParams) { p.RestShare = 0.5 }},
	} {
		p := good()
		b.edit(&p)
		v, err := NewVehicle(p)
		if err == nil || v.params.Volts != 0 {
			t.Errorf("%s: accepted %+v", b.name, p)
		} else if !strings.Contains(err.Error(), b.name) || !strings.HasPrefix(err.Error(), `vehicle "truck": `) {
			t.Errorf("%s: message %q names neither place nor value", b.name, err)
		}
	}
	p := good()
	v := makeVehicle(t, p)
	p.Alternators[0].RatedA = 1
	v.Params().Alternators[0].RatedA = 2
	if v.Params().Alternators[0].RatedA != 160 {
		t.Error("a caller changed the vehicle through a slice")
	}
}

// Worked case M65: 14.2 against 13.0 V over 10 mohm are 120 A; with 40 A of own load 160 A on a 150 A alternator.
// Scenario S11: 17.3 mohm, 57.8 A at one volt of difference and 75 A at 1.3 V, into an alternator that gives 60 A hot at idle.
func TestRelay_M65_S11(t *testing.T) {
	r, err := NewRelay(RelayParams{LoopOhm: 0.010, RatedA: 100})
	if err != nil {
		t.Fatal(err)
	}
	f := r.Flow(Tie{VehicleV: 14.2, BankV: 13.0, SpareA: 150 - 40})
	near.Abs(t, "wanted", f.WantedA, 120, 1e-9, "M65")
	near.Abs(t, "on the alternator", f.WantedA+40, 160, 1e-9, "M65")
	if !f.Over || f.A != 110 || !f.Hot {
		t.Errorf("%+v, want it held at the 110 A to spare, over the relay's 100 A", f)
	}
	old, err := NewRelay(RelayParams{LoopOhm: 0.0173})
	if err != nil {
		t.Fatal(err)
	}
	near.Printed(t, "rested bank", old.Flow(Tie{VehicleV: 14.2, BankV: 13.2, SpareA: Unlimited}).A, 57.8, 1, "S11")
	near.Printed(t, "low bank", old.Flow(Tie{VehicleV: 14.2, BankV: 12.9, SpareA: Unlimited}).A, 75, 0, "S11")
	if f := old.Flow(Tie{VehicleV: 14.2, BankV: 13.2, SpareA: 60}); f.Over {
		t.Errorf("57.8 of 60 A: %+v", f)
	}
	if f := old.Flow(Tie{VehicleV: 14.2, BankV: 12.9, SpareA: 60}); !f.Over {
		t.Errorf("75 of 60 A: %+v", f)
	}
	if back := old.Flow(Tie{VehicleV: 12.6, BankV: 13.2, SpareA: 60}); back.A >= 0 || back.Over {
		t.Errorf("a higher bank feeds the vehicle: %+v", back)
	}
	tried := 0
	for dv := -1.5; dv < 2; dv += 0.01 {
		tried++
		f := r.Flow(Tie{VehicleV: 13 + dv, BankV: 13, SpareA: 90})
		near.Abs(t, "energy", f.SourceW, f.BankW+f.LossW, 1e-9, "closes")
		near.Abs(t, "vehicle voltage times current", f.SourceW, (13+0.01*f.A)*f.A, 1e-9, "Ohm's law")
	}
	if tried < 300 {
		t.Fatal("too few tried")
	}
	for _, ohm := range []float64{0, -1, math.NaN(), 11} {
		if _, err := NewRelay(RelayParams{LoopOhm: ohm}); err == nil {
			t.Errorf("%v ohm accepted", ohm)
		}
	}
}

// Rule N05: a combined unit counted at both ratings at once. 400 W of sun and 500 W from the vehicle on an output of 600 W.
func TestBoth_N05_SharedOutput(t *testing.T) {
	want := map[Sharing]BothGive{
		SharingSplit: {SolarW: 300, VehicleW: 300, SolarCutW: 100, VehicleCutW: 200},
		SharingSolar: {SolarW: 400, VehicleW: 200, VehicleCutW: 300},
		SharingSum:   {SolarW: 400, VehicleW: 500},
	}
	for _, s := range KnownSharings() {
		got, known := Both{Sharing: s, SolarW: 400, VehicleW: 500, LimitW: 600}.Share()
		if !known || got != want[s] {
			t.Errorf("%v: %+v, %v, want %+v", s, got, known, want[s])
		}
	}
	if got, known := (Both{SolarW: 400, VehicleW: 500, LimitW: 600}).Share(); known || got != (BothGive{}) {
		t.Errorf("unknown sharing: %+v, %v", got, known)
	}
	if got, _ := (Both{Sharing: SharingSplit, SolarW: 500, LimitW: 600}).Share(); got.SolarW != 500 {
		t.Errorf("one source alone: %+v, want all of it", got)
	}
}

// What was offered is given or cut; a shared limit is kept; solar first never gives less solar than split.
func TestBoth_Properties(t *testing.T) {
	draws(t, 2000, func(d draw) {
		w := func() float64 { return d.between(0, 1500) }
		b := Both{SolarW: w(), VehicleW: w(), LimitW: w()}
		var solar [4]float64
		for _, s := range KnownSharings() {
			b.Sharing = s
			g, known := b.Share()
			if !known {
				t.Fatalf("%v is unknown", s)
			}
			near.Abs(t, "solar", g.SolarW+g.SolarCutW, b.SolarW, 1e-9, "closes")
			near.Abs(t, "vehicle", g.VehicleW+g.VehicleCutW, b.VehicleW, 1e-9, "closes")
			if s != SharingSum && g.SolarW+g.VehicleW > b.LimitW+1e-9 {
				t.Fatalf("%v: limit passed: %+v of %+v", s, g, b)
			}
			solar[s] = g.SolarW
		}
		if solar[SharingSolar] < solar[SharingSplit] || solar[SharingSum] < solar[SharingSolar] {
			t.Fatalf("order of solar: %v", solar)
		}
	})
	for _, w := range []string{"split", "solar first", "sum", "unknown"} {
		if s, ok := ParseSharing(w); !ok || s.String() != w {
			t.Errorf("%q read as %v, %v", w, s, ok)
		}
	}
	if _, ok := ParseSharing("half"); ok {
		t.Error("half is a sharing")
	}
}

func ExampleVehicle_Charge() {
	v, err := NewVehicle(VehicleParams{Alternators: []Alternator{{RatedA: 160, HotIdleA: 70, HotCruiseA: 125}}, CruiseLoadA: 45, IdleLoadA: 45, Volts: 13.9})
	if err != nil {
		fmt.Println(err)
		return
	}
	u, err := NewDCDC(DCDCParams{OutputA: 30, BankV: 13.4, Peak: 0.9, Curve: FlatCurve(), CutsOutV: 11})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, e := range []Engine{Idling, Cruising} {
		s := v.Charge(&u, EngineCharge{Engine: e, LoopOhm: 0.02, BusV: 13.4, AskW: Unlimited})
		fmt.Printf("%.0f W into the bank, %.1f A drawn, %.0f A spare, starter battery gives %.1f A\n", s.OutputW, s.MeanA, s.SpareA, s.ShortA)
	}
	// Output:
	// 402 W into the bank, 33.8 A drawn, 25 A spare, starter battery gives 8.8 A
	// 402 W into the bank, 33.8 A drawn, 80 A spare, starter battery gives 0.0 A
}
