package battery_test

import (
	"math"
	"testing"

	"campwright/battery"
	"campwright/internal/near"
)

// A bank reports what its blocks add up to.
func TestBank_Ratings(t *testing.T) {
	m := typical(t, battery.AGM, 12, 100, func(p *battery.Params) { p.Series, p.Parallel, p.Health = 2, 3, 0.8 })
	near.Abs(t, "capacity", m.CapacityAh(), 240, 1e-9, "3 x 100 Ah x 0.8")
	near.Abs(t, "nominal", m.NominalV(), 24, 1e-9, "2 x 6 cells of 2 V")
	near.Abs(t, "absorption", m.AbsorptionV(), 28.8, 1e-9, "2 x 14.4 V")
	near.Abs(t, "float", m.FloatV(), 27.2, 0.01, "2 x 13.6 V")
	near.Abs(t, "resistance", m.Resistance(0.5, 25, false), 2.0/3*0.004, 1e-12, "4 milliohm blocks")
	if m.Resistance(0.95, 25, true) < 2*m.Resistance(0.5, 25, true) {
		t.Error("lead-acid should resist charging more and more towards full")
	}
	near.Rel(t, "energy", m.Energy(1), 240*24.5, 0.01, "capacity times a rest voltage of 12.25 V in the middle")
}

// Self-discharge takes its share in a month of 730.5 h, in one step or in many, and stops at empty.
func TestSelfDischarge_Month(t *testing.T) {
	m := typical(t, battery.Flooded, 12, 100, func(p *battery.Params) { p.SelfPerMonth = 0.06 })
	s, f := m.Step(battery.State{SoC: 0.83}, 0, 20, 730.5)
	near.Abs(t, "after a month", s.SoC, 0.77, 1e-12, "6 % of the capacity")
	near.Rel(t, "energy lost", f.SelfDischargeW*730.5, m.Energy(0.83)-m.Energy(0.77), 1e-9, "what the store lost")
	many := battery.State{SoC: 0.83}
	for range 1461 {
		many, _ = m.Step(many, 0, 20, 0.5)
	}
	near.Abs(t, "in half hours", many.SoC, s.SoC, 1e-12, "identity")
	if empty, _ := m.Step(battery.State{SoC: 0.01}, 0, 20, 730.5); empty.SoC != 0 {
		t.Errorf("an old bank stands at %g, want empty", empty.SoC)
	}
}

// A bank with so much resistance that the most it gives lies inside its limit of current: voltage squared over four times resistance.
func TestLimits_MostPower(t *testing.T) {
	m := typical(t, battery.LFP, 12.8, 100, func(p *battery.Params) {
		p.ResistanceOhm, p.DischargeLimitA, p.PolarisationV = 0.2, 1000, 0
	})
	s := battery.State{SoC: 0.523}
	v, r := m.Voc(s.SoC), m.Resistance(s.SoC, 25, false)
	const dtH = 1e-5
	_, down := m.Limits(s, 25, dtH)
	near.Rel(t, "most", down, v*v/4/r, 1e-6, "V squared over 4 R, in a step too short to move the curve")
	_, f := m.Step(s, -2*down, 25, dtH)
	near.Rel(t, "taken", -f.PowerW, down, 1e-9, "cut to the most")
	near.Rel(t, "voltage there", f.TerminalV, v/2, 1e-4, "half the rest voltage")
	if f.Limit != battery.Power {
		t.Errorf("limit %q", f.Limit)
	}
	near.Rel(t, "what a meter would read", m.VoltageAt(s, -3*down, 25), v/2, 1e-12, "half the rest voltage")
	near.Rel(t, "under half of it", m.VoltageAt(s, -down/2, 25), v*(1+math.Sqrt(0.5))/2, 1e-6, "the upper root")
}

func TestThermal_MeanWithoutLoss(t *testing.T) {
	b, err := battery.NewThermal(battery.ThermalParams{MassKg: 36, KJPerKgK: 1})
	if err != nil {
		t.Fatal(err)
	}
	end, mean := b.Step(10, 0, 100, 1)
	near.Abs(t, "end", end, 20, 1e-12, "100 Wh into 10 Wh/K")
	near.Abs(t, "mean", mean, 15, 1e-12, "a straight line")
	slow, err := battery.NewThermal(battery.ThermalParams{MassKg: 36, KJPerKgK: 1, LossWK: 0.002})
	if err != nil {
		t.Fatal(err)
	}
	end, mean = slow.Step(10, 10, 100, 1)
	near.Abs(t, "hardly any loss, end", end, 20, 0.002, "continuous with none")
	near.Abs(t, "hardly any loss, mean", mean, 15, 0.002, "continuous with none")
}

func TestHandbookFormulas_OutOfRange(t *testing.T) {
	for i, v := range []float64{
		battery.Peukert(100, 20, 1.2, 0), battery.Peukert(100, 20, 0.9, 5), battery.Peukert(-100, 20, 1.2, 5), battery.Peukert(100, math.NaN(), 1.2, 5),
		battery.PeukertOneHour(0, 1.2, 5), battery.PeukertOneHour(100, 1.6, 5), battery.TaperTimeH(2, 20, 1), battery.TaperTimeH(20, 0, 1),
		battery.BoltedFaultA(13, 0), battery.BoltedFaultA(math.NaN(), 1), battery.WangLoss(-5, 1, 25), battery.WangLoss(5, math.NaN(), 25),
	} {
		if v != 0 {
			t.Errorf("case %d: got %g, want 0", i, v)
		}
	}
	if a := battery.Age(battery.LFP, battery.Use{}); a.Likely != 1 || a.Low != 1 || a.High != 1 {
		t.Errorf("unused: %+v", a)
	}
}
