package circuit

import (
	"errors"
	"math"
	"testing"

	"campwright/internal/near"
)

// This file holds limited loads, sources, modules and converters against closed forms worked out by hand beside each check.

// charger is a vehicle at 13.8 V, a line, and a 40 A unit of 90 % that charges a bank of 13.3 V behind 5 mΩ.
func charger(line float64, in Intake) []Element {
	return []Element{
		emf("vehicle", "v", "0", 13.8), resistor("line", "v", "u", line),
		{Name: "unit", Kind: Converter, A: "u", B: "0", OutA: "b", OutB: "0", Efficiency: 0.9, Intake: in,
			Outlet: Outlet{LimitAmps: 40, SetVolts: 14.4, SetOhms: 0.001}},
		emf("bank", "e", "0", 13.3), resistor("ri", "e", "b", 0.005),
	}
}

func TestConverter_CurrentLimit(t *testing.T) {
	s := solve(t, charger(0.07, Intake{})...)
	u, _ := s.Element("unit")
	near.Abs(t, "output", u.OutAmps, 40, 1e-9, "its limit")
	near.Abs(t, "output volts", u.OutVolts, 13.5, 1e-9, "13.3 + 40 × 0.005")
	near.Rel(t, "input watts", u.Watts, 540/0.9, 1e-9, "efficiency")
	want, ok := ConstantPowerVolts(13.8, 0.07, 600)
	if !ok {
		t.Fatal("no closed form")
	}
	near.Abs(t, "input volts", u.Volts, want, 1e-9, "V² − 13.8 V + 0.07 × 600 = 0")
	near.Abs(t, "bank charges", ampsOf(t, s, "bank"), -40, 1e-9, "negative when charged")
	near.Rel(t, "energy closes", s.SourceWatts, s.AbsorbedWatts, 1e-9, "losses of the unit included")
}

func TestConverter_Regulates(t *testing.T) {
	s := solve(t, emf("bank", "e", "0", 25.6), resistor("ri", "e", "p", 0.01),
		Element{Name: "unit", Kind: Converter, A: "p", B: "0", OutA: "h", OutB: "hn", Efficiency: 0.92, Watts: 500,
			Outlet: Outlet{LimitAmps: 40, SetVolts: 13.2, SetOhms: 0.002}},
		Element{Name: "common", Kind: Short, A: "hn", B: "0"}, drain("house", "h", "hn", 10))
	u, _ := s.Element("unit")
	near.Abs(t, "output volts", u.OutVolts, 13.18, 1e-9, "13.2 − 10 × 0.002")
	want, _ := ConstantPowerVolts(25.6, 0.01, 131.8/0.92)
	near.Abs(t, "input volts", u.Volts, want, 1e-9, "constant power at the input")
	near.Abs(t, "common", ampsOf(t, s, "common"), 0, 1e-9, "the output's circle is closed: nothing flows to the input's side")
}

func TestConverter_PowerLimit(t *testing.T) {
	// 0.2 Ω at 13.2 V would take 871 W; 300 W are there: V = √(300 × 0.2).
	s := solve(t, emf("bank", "e", "0", 25.6), resistor("ri", "e", "p", 0.01),
		Element{Name: "unit", Kind: Converter, A: "p", B: "0", OutA: "h", OutB: "0", Efficiency: 0.92, Watts: 300,
			Outlet: Outlet{SetVolts: 13.2, SetOhms: 0.002}}, resistor("house", "h", "0", 0.2))
	u, _ := s.Element("unit")
	near.Abs(t, "output volts", u.OutVolts, math.Sqrt(60), 1e-9, "P = V²/R")
	near.Rel(t, "input watts", u.Watts, 300/0.92, 1e-9, "efficiency")
}

func TestConverter_InputLimits(t *testing.T) {
	// 600 W over 0.1116 Ω have no solution (at most 427 W); the kind of limit the unit has decides what it still gives.
	var none *InfeasibleError
	if _, err := Solve(Network{"0", charger(0.1116, Intake{})}); !errors.As(err, &none) {
		t.Fatalf("without limit: %v", err)
	}
	near.Rel(t, "critical factor", none.Scale, 13.8*13.8/4/0.1116/600, 1e-8, "V²/(4R) over what it asks")

	s := solve(t, charger(0.1116, Intake{LimitAmps: 30})...)
	u, _ := s.Element("unit")
	near.Abs(t, "limited amps", u.Amps, 30, 1e-9, "its limit")
	near.Abs(t, "limited volts", u.Volts, 13.8-30*0.1116, 1e-9, "Ohm's law")
	out := 0.9 * 30 * (13.8 - 30*0.1116)
	amps := (-13.3 + math.Sqrt(13.3*13.3+4*0.005*out)) / 0.01
	near.Abs(t, "what it still gives", u.OutAmps, amps, 1e-8, "I·(13.3 + 0.005·I) = 0.9 × input")

	s = solve(t, charger(0.1116, Intake{HoldVolts: 12, HoldBand: 0.2})...)
	u, _ = s.Element("unit")
	// On the fold-back line: (600/12)·(V − 11.8)/0.2 = (13.8 − V)/0.1116.
	volts := (250*11.8 + 13.8/0.1116) / (250 + 1/0.1116)
	near.Abs(t, "held volts", u.Volts, volts, 1e-9, "fold-back line against the line's")
	near.Rel(t, "what it still gives", u.OutWatts, 0.9*volts*(13.8-volts)/0.1116, 1e-9, "efficiency")

	// A thick line needs neither limit.
	s = solve(t, charger(0.02, Intake{HoldVolts: 12, HoldBand: 0.2, LimitAmps: 60})...)
	near.Abs(t, "unlimited output", ampsOf(t, s, "bank"), -40, 1e-9, "its output limit")
}

func TestConverter_Cascade(t *testing.T) {
	// Vehicle to bank to 12 V house: the second unit's input loads the bank the first one charges.
	s := solve(t,
		emf("vehicle", "v", "0", 13.8), resistor("line", "v", "u", 0.01),
		Element{Name: "up", Kind: Converter, A: "u", B: "0", OutA: "b", OutB: "0", Efficiency: 0.9, Watts: 500,
			Outlet: Outlet{LimitAmps: 15, SetVolts: 29, SetOhms: 0.01}},
		emf("bank", "e", "0", 26), resistor("ri", "e", "b", 0.01),
		Element{Name: "down", Kind: Converter, A: "b", B: "0", OutA: "h", OutB: "0", Efficiency: 0.8,
			Outlet: Outlet{LimitAmps: 50, SetVolts: 13, SetOhms: 0.01}},
		resistor("house", "h", "0", 0.5))
	down, _ := s.Element("down")
	up, _ := s.Element("up")
	near.Rel(t, "down", down.Watts*0.8, down.OutWatts, 1e-9, "efficiency")
	near.Rel(t, "up", up.Watts*0.9, up.OutWatts, 1e-9, "efficiency")
	near.Abs(t, "house", down.OutVolts, 13*0.5/0.51, 1e-9, "divider of 10 mΩ and 0.5 Ω")
	near.Abs(t, "bus", ampsOf(t, s, "bank"), down.Amps-15, 1e-9, "what the house takes less what the vehicle gives")
	near.Rel(t, "energy closes", s.SourceWatts, s.AbsorbedWatts, 1e-9, "losses included")
}

func TestLoad_Limits(t *testing.T) {
	feed := func(in Intake) Solution {
		l := load("load", "u", "0", 600)
		l.Intake = in
		return solve(t, emf("bank", "e", "0", 13.8), resistor("line", "e", "u", 0.1116), l)
	}
	near.Abs(t, "limit", ampsOf(t, feed(Intake{LimitAmps: 35}), "load"), 35, 1e-9, "its limit")
	near.Abs(t, "above reach", ampsOf(t, feed(Intake{HoldVolts: 20, HoldBand: 1}), "load"), 0, 1e-9, "the line never has 19 V: it takes nothing")
	// A limit just above the current on the P/V curve changes nothing; one just below rules.
	v, _ := ConstantPowerVolts(13.8, 0.05, 600)
	for _, c := range []struct{ limit, amps float64 }{{600/v + 0.01, 600 / v}, {600/v - 0.01, 600/v - 0.01}} {
		l := load("load", "u", "0", 600)
		l.Intake.LimitAmps = c.limit
		s := solve(t, emf("bank", "e", "0", 13.8), resistor("line", "e", "u", 0.05), l)
		near.Abs(t, "beside the limit", ampsOf(t, s, "load"), c.amps, 1e-9, "the smaller of limit and P/V")
	}
}

func TestLoad_HoldsBelowTheNose(t *testing.T) {
	// The line's nose lies at half of 13.8 V and 476 W. A unit that holds 6 V lies below it: 700 W cannot be had, but where the unit folds back
	// the other load still works.
	unit := load("unit", "u", "0", 600)
	unit.Intake = Intake{HoldVolts: 6, HoldBand: 0.5}
	net := []Element{emf("bank", "e", "0", 13.8), resistor("line", "e", "u", 0.1), load("plain", "u", "0", 100), unit}
	s := solve(t, net...)
	want := bisect(5.5, 6, func(v float64) float64 { return (13.8-v)/0.1 - 100/v - 100*(v-5.5)/0.5 })
	near.Abs(t, "held", s.NodeVolts[2], want, 1e-9, "line current against both loads', by bisection")
	n, err := New(Network{"0", net})
	if err != nil {
		t.Fatal(err)
	}
	if err := n.atRest(); err != nil {
		t.Fatal(err)
	}
	if !n.sink() {
		t.Fatal("switched on at once: no rest")
	}
	n.fold()
	near.Abs(t, "at once", n.nodeAt(2), want, 1e-9, "the same point")
}

func TestSource_ClosedForms(t *testing.T) {
	source := func(o Outlet) Element {
		return Element{Name: "sun", Kind: PowerSource, A: "b", B: "0", Watts: 500, Outlet: o}
	}
	s := solve(t, source(Outlet{}), emf("bank", "e", "0", 13.2), resistor("ri", "e", "b", 0.01))
	r, _ := s.Element("sun")
	near.Abs(t, "charging volts", r.Volts, (13.2+math.Sqrt(13.2*13.2+4*0.01*500))/2, 1e-10, "V·(V − 13.2)/0.01 = 500")
	near.Abs(t, "power", r.Watts, 500, 1e-9, "constant power")
	s = solve(t, source(Outlet{}), resistor("heater", "b", "0", 2))
	near.Abs(t, "into a heater", s.NodeVolts[1], math.Sqrt(1000), 1e-9, "V = √(P·R)")
	s = solve(t, source(Outlet{LimitAmps: 20}), emf("bank", "e", "0", 13.2), resistor("ri", "e", "b", 0.01))
	near.Abs(t, "limited", ampsOf(t, s, "sun"), 20, 1e-9, "its limit")
	s = solve(t, source(Outlet{SetVolts: 13.4, SetOhms: 0.005}), emf("bank", "e", "0", 13.2), resistor("ri", "e", "b", 0.01))
	near.Abs(t, "absorption", ampsOf(t, s, "sun"), 0.2/0.015, 1e-9, "(13.4 − 13.2) over 15 mΩ")
	s = solve(t, source(Outlet{SetVolts: 13, SetOhms: 0.005}), emf("bank", "e", "0", 13.2), resistor("ri", "e", "b", 0.01))
	near.Abs(t, "full", ampsOf(t, s, "sun"), 0, 1e-9, "it takes no current back; the leak is a picoampere")
}

func TestSource_TwoRegulatorsShare(t *testing.T) {
	unit := func(name string, set, limit float64) Element {
		return Element{Name: name, Kind: PowerSource, A: "b", B: "0", Outlet: Outlet{SetVolts: set, SetOhms: 0.01, LimitAmps: limit}}
	}
	s := solve(t, unit("high", 14.4, 30), unit("low", 14.2, 30), drain("house", "b", "0", 35))
	near.Abs(t, "high", ampsOf(t, s, "high"), 27.5, 1e-9, "14.4 − V and 14.2 − V over 10 mΩ, 35 A in all")
	near.Abs(t, "low", ampsOf(t, s, "low"), 7.5, 1e-9, "as above")
	s = solve(t, unit("high", 14.4, 30), unit("low", 14.2, 30), drain("house", "b", "0", 50))
	near.Abs(t, "high at its limit", ampsOf(t, s, "high"), 30, 1e-9, "35 A by droop, held at 30")
	near.Abs(t, "low takes the rest", ampsOf(t, s, "low"), 20, 1e-9, "50 − 30")
	s = solve(t, unit("high", 14.4, 30), unit("low", 14.2, 30), drain("house", "b", "0", 10))
	near.Abs(t, "one suffices", ampsOf(t, s, "low"), 0, 1e-9, "V = 14.3 is above 14.2")
}

// module is a 36-cell module of 100 W at 1000 W/m² and 45 °C, as the reference's network 08 has it.
var module = Diode{LightAmps: 5.81714603, SaturationAmps: 3.0583512721e-10, IdealityVolts: 0.89245618841, SeriesOhms: 0.204525562, ShuntOhms: 121.917674}

// bisect finds the root of a falling function.
func bisect(low, high float64, f func(float64) float64) float64 {
	for range 200 {
		if m := (low + high) / 2; f(m) > 0 {
			low = m
		} else {
			high = m
		}
	}
	return (low + high) / 2
}

// moduleAmps is the single-diode equation by bisection on the current itself.
func moduleAmps(d Diode, v float64) float64 {
	return bisect(-1e4, d.LightAmps+1, func(i float64) float64 {
		w := v + i*d.SeriesOhms
		return d.LightAmps - d.SaturationAmps*math.Expm1(math.Min(w/d.IdealityVolts, 600)) - w/d.ShuntOhms - i
	})
}

func TestModule_Curve(t *testing.T) {
	inner := math.NaN()
	for _, d := range []Diode{module, {5, 1e-9, 1.1, 0, 80}, {0, 1e-9, 1.1, 0.3, 80}, {12, 1e-6, 1.6, 1e-6, 1e4}} {
		for v := -20.0; v < 30; v += 0.37 {
			got, slope := d.current(v, &inner)
			near.Abs(t, "current", got, moduleAmps(d, v), 1e-9*math.Max(1, math.Abs(got)), "bisection on the single-diode equation")
			up, _ := d.current(v+1e-6, &inner)
			down, _ := d.current(v-1e-6, &inner)
			near.Abs(t, "slope", slope, (up-down)/2e-6, 1e-4*math.Abs(slope)+1e-6, "difference quotient")
		}
	}
	if i, g := module.current(1e5, &inner); !finite(i) || !finite(g) || i > 0 {
		t.Errorf("far above: %g A, slope %g", i, g)
	}
}

func TestModule_OnBankAndAlone(t *testing.T) {
	pv := Element{Name: "module", Kind: Photovoltaic, A: "m", B: "0", Diode: module}
	s := solve(t, pv, resistor("run", "m", "b", 0.05), resistor("ri", "b", "e", 0.01), emf("bank", "e", "0", 13.2))
	m, _ := s.Element("module")
	near.Abs(t, "direct charging", m.Amps, moduleAmps(module, m.Volts), 1e-9, "bisection on the single-diode equation")
	near.Abs(t, "volts", m.Volts, 13.2+0.06*m.Amps, 1e-9, "Ohm's law")
	s = solve(t, pv, resistor("bleed", "m", "0", 1e9))
	near.Abs(t, "open circuit", s.NodeVolts[1], bisect(10, 30, func(v float64) float64 { return moduleAmps(module, v) }), 1e-5, "zero current but for 1 GΩ")

	// The most a constant-power load can have from a module alone is its maximum power.
	best := 0.0
	for v := 10.0; v < 22; v += 1e-4 {
		inner := v
		i, _ := module.current(v, &inner)
		best = math.Max(best, v*i)
	}
	net := Network{"0", []Element{pv, load("pump", "m", "0", 120)}}
	var none *InfeasibleError
	if _, err := Solve(net); !errors.As(err, &none) {
		t.Fatalf("120 W from a 100 W module: %v", err)
	}
	near.Rel(t, "critical factor", none.Scale*120, best, 1e-7, "scan of the curve in steps of 0.1 mV")
	near.Rel(t, "limit of the load", none.Limits[0].MaxWatts, best, 1e-7, "scan of the curve")
	net.Elements[1].Watts = 0.999 * best
	s = solve(t, net.Elements...)
	p, _ := s.Element("pump")
	if p.Volts < 16 {
		t.Errorf("pump at %g V: the low branch", p.Volts)
	}
}

func TestStudy_Electronics(t *testing.T) {
	// A bank, a controller of 60 A, a vehicle unit of 40 A and an inverter: the fault at the bus counts bank, controller and unit, not the inverter.
	e := charger(0.07, Intake{})
	e = append(e, Element{Name: "sun", Kind: PowerSource, A: "b", B: "0", Watts: 500, Outlet: Outlet{LimitAmps: 60}}, load("inverter", "b", "0", 900))
	s, err := New(Network{"0", e})
	if err != nil {
		t.Fatal(err)
	}
	study, err := s.Study()
	if err != nil {
		t.Fatal(err)
	}
	f, err := study.Between("b", "0")
	if err != nil {
		t.Fatal(err)
	}
	near.Rel(t, "fault", f.Amps, 13.3/0.005+60+40, 1e-9, "bank over 5 mΩ and both limits")
	near.Rel(t, "resistance", f.TheveninOhms, 0.005, 1e-9, "only the bank has one")
	if f, err = study.Between("e", "0"); err != nil || !f.Unlimited || f.Amps != 0 {
		t.Errorf("across an ideal source: %+v %v", f, err)
	}
	if _, err = study.Through("e", "0"); err == nil {
		t.Error("currents of an unlimited fault")
	}
	if _, err = study.Between("nowhere", "0"); err == nil {
		t.Error("a node that is not there")
	}
	// A module on its own gives its short-circuit current to a fault at its terminals.
	pv := Element{Name: "module", Kind: Photovoltaic, A: "m", B: "0", Diode: module}
	if s, err = New(Network{"0", []Element{pv, resistor("run", "m", "x", 0.05), resistor("bleed", "x", "0", 1e6)}}); err != nil {
		t.Fatal(err)
	}
	if study, err = s.Study(); err != nil {
		t.Fatal(err)
	}
	f, _ = study.Between("m", "0")
	near.Rel(t, "short circuit", f.Amps, moduleAmps(module, 0), 1e-8, "the diode carries nothing at no voltage")
}
