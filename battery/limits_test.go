package battery_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"campwright/battery"
	"campwright/internal/near"
)

// Just inside and just outside of every limit; the window of temperature for LFP is the handbook's, 0 to 45 C charging.
func TestLimits_EachSide(t *testing.T) {
	m := typical(t, battery.LFP, 12.8, 100)
	const dtH = 1.0 / 12
	for _, c := range []struct {
		name   string
		s      battery.State
		powerW float64
		tC     float64
		want   battery.Limit
	}{
		{"cold, just warm enough", battery.State{SoC: 0.51}, 100, 0, battery.None},
		{"cold, just too cold", battery.State{SoC: 0.51}, 100, -0.01, battery.Temperature},
		{"cold does not stop a discharge", battery.State{SoC: 0.51}, -100, -0.01, battery.None},
		{"discharge at its coldest", battery.State{SoC: 0.51}, -100, -20, battery.None},
		{"discharge too cold", battery.State{SoC: 0.51}, -100, -20.01, battery.Temperature},
		{"hot", battery.State{SoC: 0.51}, 100, 45, battery.None},
		{"too hot", battery.State{SoC: 0.51}, 100, 45.01, battery.Temperature},
		{"charge current inside 50 A", battery.State{SoC: 0.51}, 49.9 * 13.1, 25, battery.None},
		{"charge current above 50 A", battery.State{SoC: 0.51}, 52 * 13.5, 25, battery.Current},
		{"discharge current inside 100 A", battery.State{SoC: 0.51}, -99 * 12.4, 25, battery.None},
		{"discharge current above 100 A", battery.State{SoC: 0.51}, -101 * 13.1, 25, battery.Current},
		{"nearly full", battery.State{SoC: 0.985}, 100, 25, battery.None},
		{"full", battery.State{SoC: 1}, 100, 25, battery.SoCEnd},
		{"last of it", battery.State{SoC: 0.0095}, -90, 25, battery.None},
		{"empty within the step", battery.State{SoC: 0.006}, -110, 25, battery.SoCEnd},
		{"under a low set-point", battery.State{SoC: 0.51, CeilingV: 13.4}, 10 * 13.2, 25, battery.None},
		{"over a low set-point", battery.State{SoC: 0.51, CeilingV: 13.4}, 45 * 13.4, 25, battery.Voltage},
		{"above a cut-off", battery.State{SoC: 0.51, FloorV: 12.5}, -50 * 12.7, 25, battery.None},
		{"under a cut-off", battery.State{SoC: 0.51, FloorV: 12.5}, -99 * 12.4, 25, battery.Voltage},
	} {
		_, f := m.Step(c.s, c.powerW, c.tC, dtH)
		if f.Limit != c.want {
			t.Errorf("%s: limit %q, want %q (%+v)", c.name, f.Limit, c.want, f)
		}
		if c.want == battery.None && f.PowerW != c.powerW {
			t.Errorf("%s: took %g of %g W", c.name, f.PowerW, c.powerW)
		}
		if c.want == battery.Temperature && (f.PowerW != 0 || f.CurrentA != 0) {
			t.Errorf("%s: %g W went through", c.name, f.PowerW)
		}
	}
	up, down := m.Limits(battery.State{SoC: 0.51}, -0.01, dtH)
	if up != 0 || down <= 0 {
		t.Errorf("below freezing: charge %g W, discharge %g W, want none and some", up, down)
	}
}

// A current limit binds at the very amperes of the label, times the strings in parallel.
func TestLimits_Amperes(t *testing.T) {
	m := typical(t, battery.LFP, 12.8, 100, func(p *battery.Params) { p.Parallel = 3; p.ChargeLimitA = 40; p.DischargeLimitA = 90 })
	_, f := m.Step(battery.State{SoC: 0.51}, 1e5, 25, 0.01)
	near.Abs(t, "charge", f.CurrentA, 120, 1e-9, "3 x 40 A")
	_, f = m.Step(battery.State{SoC: 0.51}, -1e5, 25, 0.01)
	near.Abs(t, "discharge", f.CurrentA, -270, 1e-9, "3 x 90 A")
}

// Charging to a set-point ends with a bank that rests under it.
func TestCeiling_RestsBelow(t *testing.T) {
	m := typical(t, battery.LFP, 12.8, 100)
	for _, ceiling := range []float64{13.5, 14.2, 14.6} {
		s := battery.State{SoC: 0.4, CeilingV: ceiling}
		for range 24 * 12 {
			s, _ = m.Step(s, 400, 25, 1.0/12)
		}
		if v := m.Voc(s.SoC); v > ceiling {
			t.Errorf("held at %g V, rests at %g", ceiling, v)
		}
		near.Abs(t, "charge reached", s.SoC, m.SoCAtRest(ceiling-4*0.018), 1e-4, "where the current dies: rest voltage and polarisation")
	}
}

// Discharge at a constant current from full ends where the published law says, for any exponent.
func TestRateEffect_BankFollowsPeukert(t *testing.T) {
	for _, k := range []float64{1, 1.1, 1.2, 1.3} {
		m := typical(t, battery.Flooded, 12, 100, func(p *battery.Params) { p.RateExponent = k; p.SelfPerMonth = 0 })
		for _, i := range []float64{5, 10, 25, 60} {
			ah, _, end := drawn(m, i, 25)
			near.Abs(t, "ampere-hours", ah, i*battery.Peukert(100, 20, k, i), i/60+0.02, "the last minute, in which the current gives way")
			if k > 1 && i > 20 {
				// What was held back comes at a lower current.
				if _, f := m.Step(end, -12, 25, 1.0/12); f.PowerW == 0 {
					t.Errorf("exponent %g after %g A: nothing left for 1 A", k, i)
				}
			}
		}
	}
}

// In the cold a lead-acid bank gives the share of IEEE 485, and the rest once warm again.
func TestCold_LeadAcidShare(t *testing.T) {
	m := typical(t, battery.AGM, 12, 100, func(p *battery.Params) { p.RateExponent = 1; p.SelfPerMonth = 0 })
	warm, _, _ := drawn(m, 5, 25)
	cold, _, end := drawn(m, 5, 4.444)
	near.Rel(t, "share at 40 F", cold/warm, 1/1.30, 2e-3, "IEEE 485 table 1, from memory")
	if _, down := m.Limits(end, 25, 1.0/12); down < 50 {
		t.Errorf("warm again it gives only %g W", down)
	}
}

func TestNew_Refuses(t *testing.T) {
	good := battery.Typical(battery.LFP, 12.8, 100)
	if _, err := battery.New(good); err != nil {
		t.Fatal(err)
	}
	tried := 0
	for _, c := range []struct {
		name, says string
		spoil      func(*battery.Params)
	}{
		{"chemistry", "chemistry", func(p *battery.Params) { p.Chemistry = 0 }},
		{"series", "series", func(p *battery.Params) { p.Series = 0 }},
		{"parallel", "parallel", func(p *battery.Params) { p.Parallel = 0 }},
		{"cells", "cells", func(p *battery.Params) { p.Cells = 0 }},
		{"capacity", "capacity", func(p *battery.Params) { p.CapacityAh = math.NaN() }},
		{"endless capacity", "capacity", func(p *battery.Params) { p.CapacityAh = math.Inf(1) }},
		{"hours", "time", func(p *battery.Params) { p.RatedHours = 0.1 }},
		{"health", "health", func(p *battery.Params) { p.Health = 0.09 }},
		{"resistance", "resistance", func(p *battery.Params) { p.ResistanceOhm = 0 }},
		{"cells' part", "cells", func(p *battery.Params) { p.CellOhm = p.ResistanceOhm * 1.01 }},
		{"exponent", "exponent", func(p *battery.Params) { p.RateExponent = 0.99 }},
		{"efficiency", "efficiency", func(p *battery.Params) { p.Efficiency.Full = 1.01 }},
		{"absorption", "absorption", func(p *battery.Params) { p.AbsorptionV = 13.1 }},
		{"window", "charging", func(p *battery.Params) { p.ChargeBelowC = -1 }},
		{"taper of LFP", "taper", func(p *battery.Params) { p.TaperHours = 1 }},
		{"self-discharge", "self-discharge", func(p *battery.Params) { p.SelfPerMonth = -0.01 }},
	} {
		p := good
		c.spoil(&p)
		m, err := battery.New(p)
		if err == nil || m != (battery.Model{}) {
			t.Errorf("%s: accepted, or not a zero model: %v", c.name, err)
			continue
		}
		if !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v does not name it", c.name, err)
		}
		tried++
	}
	if tried != 16 {
		t.Errorf("only %d refusals seen", tried)
	}
	if _, err := battery.NewIdeal(battery.IdealParams{NominalV: 12, CapacityAh: 100, ChargeEff: 1.1, DischargeEff: 0, SoCMin: 0.5, SoCMax: 0.4}); err == nil {
		t.Error("a store that makes energy was accepted")
	} else if joined, many := err.(interface{ Unwrap() []error }); !many || len(joined.Unwrap()) != 3 {
		t.Errorf("want three faults at once, got %v", err)
	}
	if _, err := battery.NewThermal(battery.ThermalParams{MassKg: math.NaN(), KJPerKgK: 1}); err == nil || errors.Is(err, errors.ErrUnsupported) {
		t.Error("a mass that is no number was accepted")
	}
}

// Nothing put into a valid model makes it panic or answer with something that is no number.
func TestModel_Total(t *testing.T) {
	odd := []float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, math.Copysign(0, -1), -1, 1, 0.5, 1e300, -1e300, 1e-300, 25}
	calls := 0
	for _, c := range []battery.Chemistry{battery.LFP, battery.Flooded} {
		m := typical(t, c, 12, 100)
		for _, soc := range odd {
			for _, p := range odd {
				for _, tC := range odd {
					for _, dtH := range []float64{math.NaN(), 0, -1, math.Inf(1), 1e-300, 1e300, 0.1} {
						s, f := m.Step(battery.State{SoC: soc}, p, tC, dtH)
						up, down := m.Limits(battery.State{SoC: soc}, tC, dtH)
						pv, iv := m.ByVoltage(battery.State{SoC: soc}, math.Abs(p), tC, dtH)
						sum := f.PowerW + f.CurrentA + f.TerminalV + f.HeatW() + f.StoredW + up + down + pv + iv + m.VoltageAt(s, p, tC) + m.Voc(soc) + m.Energy(soc) +
							m.Resistance(soc, tC, p > 0) + m.SoCAtRest(p) + m.SoCAtVoltage(p, tC, 25)
						if math.IsNaN(sum) || math.IsInf(sum, 0) {
							t.Fatalf("%v soc %g, %g W, %g C, %g h: %+v, limits %g %g, by voltage %g %g, voltage %g", c, soc, p, tC, dtH, f, up, down, pv, iv, m.VoltageAt(s, p, tC))
						}
						calls++
					}
				}
			}
		}
	}
	if calls < 10000 {
		t.Fatalf("only %d calls", calls)
	}
}

// Where a load meets a cut-off, the voltage under that load is the cut-off.
func TestSoCAtVoltage_IsItsInverse(t *testing.T) {
	for _, c := range []battery.Chemistry{battery.LFP, battery.AGM} {
		m := typical(t, c, 12, 200)
		for _, load := range []float64{0, 100, 800} {
			v := 12.1
			soc := m.SoCAtVoltage(load, v, 20)
			if soc <= 0 || soc >= 1 {
				t.Fatalf("%v at %g W: %g", c, load, soc)
			}
			near.Abs(t, "voltage under load", m.VoltageAt(battery.State{SoC: soc}, -load, 20), v, 1e-6, "inverse")
		}
		if m.SoCAtVoltage(100, 1, 20) != 0 || m.SoCAtVoltage(100, 20, 20) != 1 {
			t.Error("beyond the ends: want 0 and 1")
		}
	}
}

// Heat flows by the textbook: halving the step changes nothing, and the end is the balance.
func TestThermal_Exact(t *testing.T) {
	b, err := battery.NewThermal(battery.ThermalParams{MassKg: 30, KJPerKgK: 1, LossWK: 1.5, HeaterW: 50})
	if err != nil {
		t.Fatal(err)
	}
	one, mean := b.Step(10, -5, 20, 2)
	half, mean1 := b.Step(10, -5, 20, 1)
	two, mean2 := b.Step(half, -5, 20, 1)
	near.Abs(t, "two halves", two, one, 1e-12, "identity")
	near.Abs(t, "mean of two halves", (mean1+mean2)/2, mean, 1e-12, "identity")
	near.Abs(t, "first law", b.WarmWh(10, one), (20-b.HoldW(mean, -5))*2, 1e-9, "heat in less heat lost is what warms")
	far, _ := b.Step(10, -5, 20, 1e6)
	near.Abs(t, "balance", far, -5+20/1.5, 1e-9, "where loss is the heat")
	w, end := b.Heat(0, -10, 0, 5, 0.5)
	if w != 50 || end >= 5 {
		t.Errorf("a heater too small gives %g W and reaches %g C", w, end)
	}
	if w, _ := b.Heat(6, -10, 0, 5, 0.01); w != 0 {
		t.Errorf("heated a warm bank with %g W", w)
	}
	insulated, err := battery.NewThermal(battery.ThermalParams{MassKg: 24, KJPerKgK: 1})
	if err != nil {
		t.Fatal(err)
	}
	end, _ = insulated.Step(-4, -20, 60, 1)
	near.Abs(t, "60 Wh into 24 kg", end, 5, 1e-9, "case M26")
}
