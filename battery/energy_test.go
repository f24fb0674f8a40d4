package battery_test

import (
	"flag"
	"math"
	"testing"

	"campwright/battery"
	"pgregory.net/rapid"
)

// Properties are tried 2,000 times from one seed, which a flag may change; a failing case is not kept as a file: it is printed whole.
func TestMain(m *testing.M) {
	for name, value := range map[string]string{"rapid.checks": "2000", "rapid.seed": "20270105", "rapid.nofailfile": "true"} {
		if err := flag.Set(name, value); err != nil {
			panic(err)
		}
	}
	m.Run()
}

// draw returns any bank that New accepts, within reason, real or ideal.
func draw(t *rapid.T) battery.Model {
	if rapid.Float64Range(0, 1).Draw(t, "ideal") < 0.15 {
		low := rapid.Float64Range(0, 0.4).Draw(t, "low")
		m, err := battery.NewIdeal(battery.IdealParams{
			NominalV: 12.8, CapacityAh: rapid.Float64Range(10, 1000).Draw(t, "Ah"),
			ChargeEff: rapid.Float64Range(0.7, 1).Draw(t, "charge"), DischargeEff: rapid.Float64Range(0.7, 1).Draw(t, "discharge"),
			MaxChargeW: 3000, MaxDischargeW: 4000, SoCMin: low, SoCMax: rapid.Float64Range(0.6, 1).Draw(t, "high"),
		})
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	c := rapid.SampledFrom([]battery.Chemistry{battery.LFP, battery.Flooded, battery.AGM, battery.Gel}).Draw(t, "chemistry")
	p := battery.Typical(c, rapid.SampledFrom([]float64{12, 24, 48}).Draw(t, "volts"), rapid.Float64Range(20, 400).Draw(t, "Ah"))
	p.Series = rapid.IntRange(1, 3).Draw(t, "series")
	p.Parallel = rapid.IntRange(1, 6).Draw(t, "parallel")
	p.Health = rapid.Float64Range(0.5, 1.2).Draw(t, "health")
	p.RateExponent = rapid.SampledFrom([]float64{1, 1.02, 1.2, 1.35}).Draw(t, "exponent")
	p.ChargeLimitA *= rapid.Float64Range(0.2, 4).Draw(t, "charge limit")
	p.DischargeLimitA *= rapid.Float64Range(0.2, 4).Draw(t, "discharge limit")
	m, err := battery.New(p)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func drawState(t *rapid.T, m battery.Model) battery.State {
	s := battery.State{SoC: rapid.Float64Range(0, 1).Draw(t, "soc")}
	switch rapid.IntRange(0, 5).Draw(t, "special") {
	case 0:
		s.SoC = math.Round(s.SoC*200) / 200 // a knot of the curve
	case 1:
		s.CeilingV = m.NominalV() * rapid.Float64Range(0.95, 1.2).Draw(t, "ceiling")
	case 2:
		s.FloorV = m.NominalV() * rapid.Float64Range(0.7, 1.02).Draw(t, "floor")
	}
	return s
}

// within is near.Abs for a property, whose failing case is to be made small; the reason stands beside the call.
func within(t *rapid.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Fatalf("%s: got %.12g, want %.12g, off by %.3g, allowed %.3g", what, got, want, got-want, tol)
	}
}

// Energy at the terminals is what is stored and what is lost, each worked out by itself, and the store holds what the flow says.
func TestStep_EnergyCloses(t *testing.T) {
	moved := 0
	rapid.Check(t, func(t *rapid.T) {
		m := draw(t)
		s := drawState(t, m)
		tC := rapid.Float64Range(-20, 50).Draw(t, "temperature")
		dtH := rapid.SampledFrom([]float64{1.0 / 360, 1.0 / 12, 0.5, 1, 6}).Draw(t, "step")
		p := m.CapacityAh() * m.NominalV() * rapid.Float64Range(-3, 3).Draw(t, "rate")
		after, f := m.Step(s, p, tC, dtH)
		scale := math.Abs(f.PowerW) + math.Abs(f.StoredW) + f.HeatW()
		if got := f.StoredW + f.ResistiveLossW + f.PolarisationLossW + f.CoulombicLossW; math.Abs(f.PowerW-got) > 1e-12*scale {
			t.Fatalf("power %v, but stored and lost %v: off by %g of %g", f.PowerW, got, f.PowerW-got, scale)
		}
		if got := f.CurrentA * f.TerminalV; math.Abs(f.PowerW-got) > 1e-12*scale {
			t.Fatalf("power %v, but current times voltage %v", f.PowerW, got)
		}
		change := m.Energy(after.SoC) - m.Energy(s.SoC)
		want := (f.StoredW - f.SelfDischargeW) * dtH
		if tol := 1e-12 * (m.Energy(1) + math.Abs(want)); math.Abs(change-want) > tol {
			t.Fatalf("store changed by %v, flow says %v: off by %g, allowed %g", change, want, change-want, tol)
		}
		for _, loss := range []float64{f.ResistiveLossW, f.PolarisationLossW, f.CoulombicLossW, f.SelfDischargeW} {
			if !(loss >= 0) {
				t.Fatalf("a loss of %v: %+v", loss, f)
			}
		}
		if !(after.SoC >= 0 && after.SoC <= 1) {
			t.Fatalf("state of charge %v", after.SoC)
		}
		if f.PowerW*p < 0 || math.Abs(f.PowerW) > math.Abs(p)*(1+1e-12) {
			t.Fatalf("took %v of %v", f.PowerW, p)
		}
		if f.Limit == battery.None && f.PowerW != p && math.Abs(p) > 1e-6 {
			t.Fatalf("took %v of %v without a limit", f.PowerW, p)
		}
		if f.PowerW != 0 {
			moved++
		}
	})
	if moved < 500 {
		t.Fatalf("only %d of 2,000 steps moved anything", moved)
	}
}

// A power inside the limits passes whole, one beyond is cut to them, and the limits are those of the step.
func TestLimits_BothSides(t *testing.T) {
	cut := 0
	rapid.Check(t, func(t *rapid.T) {
		m := draw(t)
		s := drawState(t, m)
		tC := rapid.Float64Range(-25, 50).Draw(t, "temperature")
		dtH := rapid.SampledFrom([]float64{1.0 / 360, 1.0 / 12, 1}).Draw(t, "step")
		up, down := m.Limits(s, tC, dtH)
		if !(up >= 0 && down >= 0) || math.IsInf(up+down, 0) {
			t.Fatalf("limits %v and %v", up, down)
		}
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		tol := 1e-9 * m.CapacityAh() * m.NominalV()
		for _, most := range []float64{up, -down} {
			_, f := m.Step(s, most*share, tC, dtH)
			if math.Abs(f.PowerW-most*share) > tol && math.Abs(most*share) > 1e-6 {
				t.Fatalf("%v of a limit of %v came out as %v (%v)", most*share, most, f.PowerW, f.Limit)
			}
			direction := 1.0
			if most < 0 || most == 0 && math.Signbit(most) {
				direction = -1
			}
			_, f = m.Step(s, most+direction*(1+math.Abs(most)*0.01), tC, dtH)
			if math.Abs(f.PowerW-most) > tol {
				t.Fatalf("beyond a limit of %v came %v (%v)", most, f.PowerW, f.Limit)
			}
			if f.Limit == battery.None {
				t.Fatalf("cut to %v without a reason", f.PowerW)
			}
			cut++
		}
	})
	if cut < 2000 {
		t.Fatalf("only %d cuts", cut)
	}
}

// A second way: the same current in 4,000 small pieces along the printed curve and resistance.
func TestStep_AgainstFinePieces(t *testing.T) {
	compared := 0
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom([]battery.Chemistry{battery.LFP, battery.AGM}).Draw(t, "chemistry")
		p := battery.Typical(c, 12, 100)
		p.SelfPerMonth = 0
		p.Efficiency = battery.Coulombic{Bulk: 0.97, Late: 0.97, Full: 0.97}
		m, err := battery.New(p)
		if err != nil {
			t.Fatal(err)
		}
		soc := rapid.Float64Range(0.15, 0.9).Draw(t, "soc")
		tC := rapid.Float64Range(5, 40).Draw(t, "temperature")
		const dtH, pieces = 0.5, 4000
		after, f := m.Step(battery.State{SoC: soc}, rapid.Float64Range(-500, 200).Draw(t, "power"), tC, dtH)
		if math.Abs(f.CurrentA) < 0.01 {
			return
		}
		eff, polV := 1.0, -6*p.PolarisationV
		if c == battery.LFP {
			polV = -4 * p.PolarisationV
		}
		if f.CurrentA > 0 {
			eff, polV = 0.97, -polV
		}
		x, wh := soc, 0.0
		for range pieces {
			mid := x + f.CurrentA*eff*dtH/pieces/2/m.CapacityAh()
			wh += f.CurrentA * (m.Voc(mid) + polV + f.CurrentA*m.Resistance(mid, tC, f.CurrentA > 0)) * dtH / pieces
			x += f.CurrentA * eff * dtH / pieces / m.CapacityAh()
		}
		// Resistance jumps between legs, and a piece across a jump is half wrong: one piece of 4,000 for each leg crossed.
		within(t, "state of charge", after.SoC, x, 1e-9)
		within(t, "energy", f.PowerW*dtH, wh, 2e-4*math.Abs(wh))
		compared++
	})
	if compared < 500 {
		t.Fatalf("compared only %d", compared)
	}
}

// Holding a voltage draws the power that a step with it confirms, at that mean voltage.
func TestByVoltage_IsAStep(t *testing.T) {
	held := 0
	rapid.Check(t, func(t *rapid.T) {
		m := draw(t)
		soc := rapid.Float64Range(0.02, 0.98).Draw(t, "soc")
		tC := rapid.Float64Range(5, 40).Draw(t, "temperature")
		holdV := m.NominalV() * rapid.Float64Range(0.9, 1.15).Draw(t, "volts")
		const dtH = 1.0 / 12
		p, i := m.ByVoltage(battery.State{SoC: soc}, holdV, tC, dtH)
		s := battery.State{SoC: soc, CeilingV: 10 * m.NominalV()}
		_, f := m.Step(s, p, tC, dtH)
		within(t, "current", f.CurrentA, i, 1e-9*m.CapacityAh())
		p2, i2 := m.ByVoltage(battery.State{SoC: soc}, holdV+0.01*m.NominalV(), tC, dtH)
		if p2 < p-1e-9*math.Abs(p) || i2 < i-1e-9*math.Abs(i) {
			t.Fatalf("more volts, less current: %v then %v A", i, i2)
		}
		if f.Limit == battery.None && i != 0 {
			if gap := (f.TerminalV - holdV) * i; gap > 1e-9*math.Abs(p) {
				t.Fatalf("terminals at %v passed %v", f.TerminalV, holdV)
			}
			if math.Abs(f.TerminalV-holdV) < 1e-9*holdV {
				held++
			}
		}
	})
	if held < 100 {
		t.Fatalf("only %d times was the voltage really held", held)
	}
}

// More power, more charge; more resistance in the cold, less voltage under load; what can be had falls with the cold.
func TestStep_Monotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := draw(t)
		s := drawState(t, m)
		tC := rapid.Float64Range(0, 40).Draw(t, "temperature")
		p := m.CapacityAh() * m.NominalV() * rapid.Float64Range(-1, 1).Draw(t, "rate")
		more := m.CapacityAh() * m.NominalV() * rapid.Float64Range(0.001, 0.3).Draw(t, "more")
		const dtH = 1.0 / 12
		a, fa := m.Step(s, p, tC, dtH)
		b, fb := m.Step(s, p+more, tC, dtH)
		if b.SoC < a.SoC-1e-12 || fb.CurrentA < fa.CurrentA-1e-9*m.CapacityAh() {
			t.Fatalf("%v W to %v, %v W to %v", p, a.SoC, p+more, b.SoC)
		}
		_, down := m.Limits(s, tC, dtH)
		_, coldDown := m.Limits(s, tC-5, dtH)
		if coldDown > down+1e-9*m.CapacityAh()*m.NominalV() {
			t.Fatalf("colder by 5 K lets more out: %v after %v", coldDown, down)
		}
		load := m.CapacityAh() * m.NominalV() / 20
		if m.VoltageAt(s, -load, tC-5) > m.VoltageAt(s, -load, tC)+1e-12 || m.VoltageAt(s, -load, tC) > m.Voc(s.SoC) || m.VoltageAt(s, load, tC) < m.Voc(s.SoC) {
			t.Fatal("voltage under load does not fall with cold, or stands on the wrong side of rest")
		}
	})
}

// Blocks in parallel share the current, blocks in series the voltage: the bank is the block, many times.
func TestBank_IsItsBlocks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom([]battery.Chemistry{battery.LFP, battery.Flooded, battery.AGM}).Draw(t, "chemistry")
		p := battery.Typical(c, 12, 100)
		one, err := battery.New(p)
		if err != nil {
			t.Fatal(err)
		}
		p.Series, p.Parallel = rapid.IntRange(1, 4).Draw(t, "series"), rapid.IntRange(1, 8).Draw(t, "parallel")
		bank, err := battery.New(p)
		if err != nil {
			t.Fatal(err)
		}
		n := float64(p.Series * p.Parallel)
		s := battery.State{SoC: rapid.Float64Range(0, 1).Draw(t, "soc")}
		w := rapid.Float64Range(-1500, 800).Draw(t, "power")
		if math.Abs(w) < 1e-3 {
			return // so little is taken as rest, by its own limit
		}
		a, fa := one.Step(s, w, 20, 0.1)
		b, fb := bank.Step(s, n*w, 20, 0.1)
		within(t, "state of charge", b.SoC, a.SoC, 1e-12)
		within(t, "power", fb.PowerW, n*fa.PowerW, 1e-9*n*1500)
		within(t, "voltage", fb.TerminalV, float64(p.Series)*fa.TerminalV, 1e-9)
	})
}
