package battery_test

import (
	"encoding/json"
	"testing"

	"campwright/battery"
	"campwright/internal/near"
)

// example returns one worked example of the handbook sheet: inputs and expected numbers.
func example(t *testing.T, id string) (in, want map[string]float64, tol float64) {
	t.Helper()
	var all []struct {
		ID        string                     `json:"id"`
		Inputs    map[string]json.RawMessage `json:"inputs"`
		Expect    map[string]json.RawMessage `json:"expect"`
		Tolerance float64                    `json:"tolerance"`
	}
	if err := json.Unmarshal(reference(t, "trade", "worked_examples.json"), &all); err != nil {
		t.Fatal(err)
	}
	numbers := func(raw map[string]json.RawMessage) map[string]float64 {
		out := map[string]float64{}
		for name, r := range raw {
			var v float64
			if json.Unmarshal(r, &v) == nil {
				out[name] = v
			}
		}
		return out
	}
	for _, e := range all {
		if e.ID == id {
			return numbers(e.Inputs), numbers(e.Expect), e.Tolerance
		}
	}
	t.Fatalf("no worked example %s", id)
	return nil, nil, 0
}

func TestPeukert_W18(t *testing.T) {
	in, want, tol := example(t, "W18")
	h := battery.Peukert(in["C"], in["H"], in["k"], in["I"])
	near.Abs(t, "hours", h, want["t_h"], tol, "worked example W18")
	near.Abs(t, "ampere-hours", h*in["I"], want["Ah"], 10*tol/2, "worked example W18, two digits printed")
}

func TestPeukertOneHour_W19(t *testing.T) {
	in, want, tol := example(t, "W19")
	near.Abs(t, "hours", battery.PeukertOneHour(in["C"], in["k"], in["I"]), want["t_h"], tol, "worked example W19")
}

// A public table gives 65 Ah for 100 Ah at 50 A with exponent 1.1; the law gives 79.4.
func TestPeukert_WrongPublicTable(t *testing.T) {
	near.Printed(t, "ampere-hours", 50*battery.Peukert(100, 20, 1.1, 50), 79.4, 1, "handbook spot check")
}

// M70 of the list of mistakes: 210 Ah counted whole at 60 A.
func TestPeukert_M70(t *testing.T) {
	h := battery.Peukert(210, 20, 1.2, 60)
	near.Printed(t, "hours", h, 2.47, 2, "case M70")
	near.Printed(t, "ampere-hours", h*60, 148, 0, "case M70")
}

func TestBoltedFault_W25(t *testing.T) {
	in, want, tol := example(t, "W25")
	near.Abs(t, "four cells and links", battery.BoltedFaultA(in["V"], 4*0.0005+0.001), want["A"], tol, "worked example W25")
	near.Abs(t, "VRLA block", battery.BoltedFaultA(12, 0.005), 2400, 1e-9, "worked example W25, remark")
}

func TestTaper_W31(t *testing.T) {
	_, want, tol := example(t, "W31")
	near.Abs(t, "hours", battery.TaperTimeH(20, 2, 1.2), want["h"], tol, "worked example W31")
}

// The current of a lead-acid bank held at absorption voltage falls as the trade's exponential, with 0.5 to 1.5 h.
func TestTaper_BankFollowsPractice(t *testing.T) {
	for _, c := range leadKinds {
		m := typical(t, c, 12, 200)
		s := battery.State{SoC: 0.7}
		const dtH = 1.0 / 60
		// From the start of the taper, once below the limit of current, to a tenth of it.
		var start, end, hours float64
		for step := 0; step < 3000; step++ {
			p, i := m.ByVoltage(s, m.AbsorptionV(), 25, dtH)
			s, _ = m.Step(s, p, 25, dtH)
			if s.SoC > 0.92 && start == 0 {
				start = i
			}
			if start > 0 {
				hours += dtH
				if end = i; end < start/5 {
					break
				}
			}
		}
		if start == 0 || end >= start/5 {
			t.Fatalf("%v: the current did not fall: %g to %g A", c, start, end)
		}
		tau := hours / battery.TaperTimeH(start, end, 1)
		near.Within(t, c.String()+" time constant", tau, 0.5, 1.6, "common practice, no source: 0.5 to 1.5 h; a tenth for the mesh")
	}
}

// Warming a bank: case M26, 24 kg by 9 K at 1.0 kJ/kgK; scenario S3, a 280 Ah bank of 32 kg from -2 to 5 C.
func TestThermal_M26AndS3(t *testing.T) {
	block, err := battery.NewThermal(battery.ThermalParams{MassKg: 24, KJPerKgK: 1})
	if err != nil {
		t.Fatal(err)
	}
	near.Abs(t, "M26", block.WarmWh(-4, 5), 60, 1e-9, "case M26")
	bank, err := battery.NewThermal(battery.ThermalParams{MassKg: 32, KJPerKgK: 1, LossWK: 1, HeaterW: 40})
	if err != nil {
		t.Fatal(err)
	}
	near.Printed(t, "S3", bank.WarmWh(-2, 5), 62, 0, "scenario S3; the mass is ours, 280 Ah of LFP at 112 Wh/kg")
	// Held at 5 C through twelve hours at -6 C: about 130 Wh, scenario S3; the loss of the box is ours.
	wh, tC := 0.0, 5.0
	for range 144 {
		w, end := bank.Heat(tC, -6, 0, 5, 1.0/12)
		wh, tC = wh+w/12, end
	}
	near.Rel(t, "overnight", wh, 132, 1e-9, "12 h x 1 W/K x 11 K")
	near.Abs(t, "temperature held", tC, 5, 1e-9, "the heater suffices")
	near.Abs(t, "hold", bank.HoldW(5, -6), 11, 1e-12, "1 W/K x 11 K")
}

// Scenario S6 and cases M72 and M73: standing drains on 200 Ah.
func TestStandingDrain_S6(t *testing.T) {
	m := typical(t, battery.LFP, 12.8, 200, func(p *battery.Params) { p.DischargeAboveC = -30 })
	days := func(drainA, from, floor float64) float64 {
		s := battery.State{SoC: from}
		for hour := 0; hour < 24*400; hour++ {
			if s.SoC <= floor {
				return float64(hour) / 24
			}
			s, _ = m.Step(s, -drainA*m.Voc(s.SoC), 5, 1)
		}
		return 400
	}
	near.Abs(t, "0.27 A from 60 to 10 %", days(0.27, 0.6, 0.1), 15, 0.7, "scenario S6, whole days, self-discharge besides")
	near.Abs(t, "0.27 A from full", days(0.27, 1, 0.001), 31, 1.1, "case M72, self-discharge besides")
	near.Abs(t, "75 mA from 60 to 10 %", days(0.075, 0.6, 0.1), 56, 5, "scenario S6, which leaves self-discharge of 4 Ah a month out")
	s := battery.State{SoC: 0.6}
	for range 5 * 731 {
		s, _ = m.Step(s, 0, 5, 1)
	}
	near.Abs(t, "five months at the post", s.SoC, 0.5, 0.01, "scenario S6")
}

// Energy out over energy in of a whole cycle lies in the handbook's ranges, from memory.
func TestRoundTrip_Handbook(t *testing.T) {
	for _, c := range []struct {
		chemistry   battery.Chemistry
		perHour     float64 // current over capacity
		low, high   float64
		top, bottom float64
	}{
		{battery.LFP, 0.2, 0.94, 0.98, 0.95, 0.1},
		{battery.LFP, 0.5, 0.92, 0.96, 0.95, 0.1},
		{battery.Flooded, 0.1, 0.70, 0.85, 0.98, 0.3},
		{battery.AGM, 0.1, 0.80, 0.90, 0.98, 0.3},
	} {
		m := typical(t, c.chemistry, 12, 100, func(p *battery.Params) { p.ChargeLimitA = 60 })
		s := battery.State{SoC: c.top}
		w := c.perHour * 100 * m.NominalV()
		const dtH = 1.0 / 60
		var out, in float64
		for s.SoC > c.bottom {
			next, f := m.Step(s, -w, 25, dtH)
			if f.Limit != battery.None {
				t.Fatalf("%v: %v while discharging", c.chemistry, f.Limit)
			}
			out, s = out-f.PowerW*dtH, next
		}
		steps := 0
		for ; s.SoC < c.top && steps < 6000; steps++ {
			next, f := m.Step(s, w, 25, dtH)
			in, s = in+f.PowerW*dtH, next
		}
		if steps == 6000 {
			t.Fatalf("%v: not charged again", c.chemistry)
		}
		near.Within(t, c.chemistry.String()+" round trip", out/in, c.low, c.high, "handbook range, from memory")
	}
}
