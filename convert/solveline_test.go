package convert

import (
	"fmt"
	"testing"

	"campwright/internal/near"
)

// The slow twin of the cycling unit: the same unit lived through in steps, started, ramped, tripped and started again, many times over.
func livedThrough(u *DCDC, in LineInput, want, step float64, cycles int) (outW, sourceW, onShare float64) {
	p := u.Params()
	var total, out, source, on float64
	for range cycles {
		for since, below := 0.0, 0.0; ; since += step {
			w := want
			if p.RampS > 0 {
				w = min(want, want*since/p.RampS)
			}
			v, a, ok := constantPower(in.SourceV, in.LoopOhm, u.Loss().In(w))
			if lim := p.InputLimitA; lim > 0 && (!ok || a > lim) {
				v, a, ok = in.SourceV-in.LoopOhm*lim, lim, true
				w = u.Loss().Out(v * a)
			}
			if !ok {
				break
			}
			if v < p.CutsOutV {
				if below += step; below > p.CutDelayS {
					break
				}
			}
			total, on = total+step, on+step
			out += w * step
			source += in.SourceV * a * step
		}
		total += p.OffS
	}
	return out / total, source / total, on / total
}

// A unit that cuts out and restarts: the closed form against living through it in steps of a millisecond.
func TestSolveLine_CyclingAgainstSlowTwin(t *testing.T) {
	for _, k := range []struct {
		name string
		p    DCDCParams
		ohms float64
	}{
		{"ramp to collapse", DCDCParams{RampS: 10, OffS: 30}, 0.1116},
		{"ramp to the cut-out", DCDCParams{CutsOutV: 12, RampS: 10, OffS: 30}, 0.06},
		{"cut-out with delay, feasible", DCDCParams{CutsOutV: 12, RampS: 4, CutDelayS: 20, OffS: 15}, 0.04419},
		{"cut-out with delay, collapses", DCDCParams{CutsOutV: 12, RampS: 8, CutDelayS: 20, OffS: 15}, 0.1116},
		{"held by its limit below the cut-out", DCDCParams{CutsOutV: 12, RampS: 6, CutDelayS: 5, OffS: 15, InputLimitA: 25}, 0.1116},
		{"no ramp, delay, feasible", DCDCParams{CutsOutV: 12, CutDelayS: 7, OffS: 15}, 0.04419},
		{"no time off", DCDCParams{CutsOutV: 12, RampS: 5}, 0.06},
	} {
		p := k.p
		p.OutputA, p.BankV, p.Peak, p.Curve = 40, 14.4, 0.88, TypicalCurve()
		if p.CutsOutV == 0 {
			p.CutsOutV = 1
		}
		u := makeDCDC(t, p)
		in := onLine(13.8, k.ohms)
		in.BusV = 14.4
		pt := SolveLine(&u, in)
		if pt.State != Cycles {
			t.Errorf("%s: %v", k.name, pt.State)
			continue
		}
		out, source, on := livedThrough(&u, in, pt.WantedW, 1e-3, 3)
		near.Rel(t, k.name+": output", pt.OutputW, out, 2e-3, "steps of a millisecond")
		near.Rel(t, k.name+": from the source", pt.SourceW, source, 2e-3, "steps of a millisecond")
		near.Rel(t, k.name+": share of time on", pt.OnShare, on, 2e-3, "steps of a millisecond")
		near.Rel(t, k.name+": energy", pt.SourceW, pt.OutputW+pt.UnitLossW+pt.LineLossW, 1e-5, "integrals by Simpson's rule, each for itself")
	}
	bare := makeDCDC(t, DCDCParams{OutputA: 40, BankV: 14.4, Peak: 0.88, Curve: FlatCurve(), CutsOutV: 12})
	if pt := SolveLine(&bare, onLine(13.8, 0.1116)); pt.State != Cycles || pt.OutputW != 0 || pt.SourceW != 0 {
		t.Errorf("neither ramp nor delay: %+v, want a cycling unit that delivers nothing", pt)
	}
}

func drawDCDC(d draw) DCDCParams {
	p := DCDCParams{OutputA: d.between(5, 80), BankV: 13.6, Peak: d.between(0.8, 1),
		Curve:    Curve{PeakAt: d.between(0.2, 1), FixedShare: d.between(0, 0.5)},
		CutsOutV: pick(d, 0, 10.5, 12), RampS: pick(d, 0, 8.0),
		OffS: pick(d, 0, 20.0)}
	if d.yes() {
		p.InputLimitA = d.between(5, 80)
	}
	if d.yes() {
		p.FoldsV = d.between(12.1, 13)
	}
	return p
}

// Properties: energy closes; the point lies on the line; more volts or fewer ohms never deliver less; no unit draws more than its limits.
func TestSolveLine_Properties(t *testing.T) {
	states := map[LineState]int{}
	draws(t, 2000, func(d draw) {
		p := drawDCDC(d)
		u, err := NewDCDC(p)
		if err != nil {
			t.Fatal(err)
		}
		in := onLine(d.between(9, 15), d.between(0, 0.2))
		pt := SolveLine(&u, in)
		states[pt.State]++
		what := fmt.Sprintf("%+v on %+v", p, in)
		near.Abs(t, what+": energy", pt.OutputW+pt.UnitLossW+pt.LineLossW, pt.SourceW, 1e-4*max(1, pt.SourceW), "closes; Simpson's rule where it cycles")
		if pt.A > 0 {
			near.Abs(t, what+": voltage", pt.V, in.SourceV-in.LoopOhm*pt.A, 1e-6, "Ohm's law")
		}
		if pt.State != Cycles {
			near.Abs(t, what+": energy", pt.OutputW+pt.UnitLossW+pt.LineLossW, pt.SourceW, 1e-9*max(1, pt.SourceW), "closes")
		}
		if p.InputLimitA > 0 && pt.A > p.InputLimitA*(1+1e-9) || pt.OutputW > pt.WantedW*(1+1e-9) {
			t.Fatalf("%s: a limit passed: %+v", what, pt)
		}
		if p.FoldsV > 0 && pt.State == Folds && in.SourceV > p.FoldsV && pt.V != p.FoldsV {
			t.Fatalf("%s: folds at %v V", what, pt.V)
		}
		better := in
		better.LoopOhm *= d.between(0, 1)
		if more := SolveLine(&u, better); more.OutputW < pt.OutputW*(1-1e-6) {
			t.Fatalf("%s: fewer ohms, less power: %+v then %+v", what, pt, more)
		}
		better = in
		better.SourceV *= d.between(1, 1.2)
		if more := SolveLine(&u, better); more.OutputW < pt.OutputW*(1-1e-6) {
			t.Fatalf("%s: more volts, less power: %+v then %+v", what, pt, more)
		}
	})
	for _, s := range []LineState{Runs, Limited, Folds, Cycles, CutsOut, NoPoint} {
		if states[s] == 0 {
			t.Errorf("%v never met: %v", s, states)
		}
	}
}
