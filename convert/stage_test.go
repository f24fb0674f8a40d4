package convert

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"campwright/internal/near"
)

func makeSetpoints(t testing.TB, p SetpointsParams) Setpoints {
	t.Helper()
	s, err := NewSetpoints(p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Worked case M20 of the trade practice sheet: set to 14.2 V with -30 mV/C, the charger gives 14.8 V at 5 C and 13.6 V at 45 C.
func TestSetpoints_M20_CompensationLeftOn(t *testing.T) {
	s := makeSetpoints(t, SetpointsParams{AbsorptionV: 14.2, FloatV: 13.5, RestartV: 12.8, PerCV: -0.030})
	near.Printed(t, "cold", s.TargetV(Bulk, 5), 14.8, 1, "M20")
	near.Printed(t, "hot", s.TargetV(Absorption, 45), 13.6, 1, "M20")
	near.Abs(t, "at the reference temperature", s.TargetV(Absorption, 25), 14.2, 0, "definition")
	near.Abs(t, "float moves as much", s.TargetV(Float, 5)-13.5, 0.6, 1e-12, "all set-points move")
	near.Abs(t, "held below the lowest temperature", s.TargetV(Bulk, -40), s.TargetV(Bulk, -20), 0, "clamp")
	near.Abs(t, "held above the highest temperature", s.TargetV(Bulk, 70), s.TargetV(Bulk, 50), 0, "clamp")
	near.Abs(t, "temperature no number", s.TargetV(Bulk, math.NaN()), 14.2, 0, "none")
	near.Abs(t, "temperature infinite", s.TargetV(Bulk, math.Inf(1)), 14.2, 0, "none")
	lfp := makeSetpoints(t, SetpointsParams{AbsorptionV: 14.2})
	near.Abs(t, "LFP, no compensation", lfp.TargetV(Bulk, -10), 14.2, 0, "zero coefficient")
}

// Worked case W31 of the trade reference: the current falls as 20 A·e^(-t/1.2 h); a tail current of 2 A is reached after 2.7631 h.
func TestNext_W31_TailCurrent(t *testing.T) {
	s := makeSetpoints(t, SetpointsParams{AbsorptionV: 14.4, TailA: 2, FloatV: 13.5})
	const step = 1e-4
	state := ChargeState{Stage: Absorption}
	steps := 0
	for state.Stage == Absorption && steps < 1e6 {
		steps++
		state = s.Next(state, StageInput{BankV: 14.4, ChargeA: 20 * math.Exp(-float64(steps)*step/1.2), BankC: 25, StepH: step, Powered: true})
	}
	near.Abs(t, "time to the tail current", float64(steps)*step, 2.7631, 1.5*step, "one step, and half the last digit printed")
	if state.Stage != Float {
		t.Errorf("ends in %v", state.Stage)
	}
}

// Worked case M62: plugged in, a charger that waits for 12.8 V lets an LFP bank down to about a tenth. Rested LFP voltages of the trade
// reference, four cells in series: 50 % 13.112 V, 20 % 12.920 V, 10 % 12.752 V.
func TestNext_M62_RestartBelowRestVoltage(t *testing.T) {
	s := makeSetpoints(t, SetpointsParams{AbsorptionV: 14.2, AbsorbForH: 1, RestartV: 12.8})
	for _, k := range []struct {
		charge, cellV float64
		want          Stage
	}{{90, 3.322, Rest}, {80, 3.318, Rest}, {50, 3.278, Rest}, {20, 3.230, Rest}, {10, 3.188, Bulk}} {
		got := s.Next(ChargeState{Stage: Rest}, StageInput{BankV: 4 * k.cellV, BankC: 25, StepH: 1, Powered: true})
		if got.Stage != k.want {
			t.Errorf("at %v %%: %v, want %v", k.charge, got.Stage, k.want)
		}
	}
	if w := s.TargetV(Rest, 25); w != 0 {
		t.Errorf("a resting charger gives up to %v V", w)
	}
}

// Every arrow of the machine, just inside and just outside.
func TestNext_Arrows(t *testing.T) {
	const e = 1e-9
	p := SetpointsParams{AbsorptionV: 14.4, AbsorbForH: 2, TailA: 5, FloatV: 13.5, RestartV: 13.0, BandV: 0.05}
	floats, rests, short := makeSetpoints(t, p), p, p
	rests.FloatV = 0
	short.AbsorbForH, short.TailA = 0, 0
	resting, atOnce := makeSetpoints(t, rests), makeSetpoints(t, short)
	in := func(v, a float64) StageInput {
		return StageInput{BankV: v, ChargeA: a, BankC: 25, StepH: 0.25, Powered: true}
	}
	dark := in(14.4, 50)
	dark.Powered = false
	cases := []struct {
		name string
		s    Setpoints
		was  ChargeState
		in   StageInput
		want ChargeState
	}{
		{"bulk goes on", floats, ChargeState{}, in(14.35-e, 50), ChargeState{}},
		{"bulk ends", floats, ChargeState{}, in(14.35, 50), ChargeState{Stage: Absorption}},
		{"absorption counts", floats, ChargeState{Absorption, 1.5}, in(14.35, 5+e), ChargeState{Absorption, 1.75}},
		{"voltage not held", floats, ChargeState{Absorption, 1.5}, in(14.35-e, 1), ChargeState{Absorption, 1.5}},
		{"time is up", floats, ChargeState{Absorption, 1.75}, in(14.4, 50), ChargeState{Stage: Float}},
		{"tail reached", floats, ChargeState{Absorption, 0}, in(14.4, 5), ChargeState{Stage: Float}},
		{"no float", resting, ChargeState{Absorption, 0}, in(14.4, 5), ChargeState{Stage: Rest}},
		{"no absorption", atOnce, ChargeState{}, in(14.4, 50), ChargeState{Stage: Float}},
		{"float stays", floats, ChargeState{Stage: Float}, in(13.0, 0), ChargeState{Stage: Float}},
		{"restarts", floats, ChargeState{Stage: Float}, in(13.0-e, 0), ChargeState{}},
		{"rest stays", resting, ChargeState{Stage: Rest}, in(13.0, 0), ChargeState{Stage: Rest}},
		{"rest restarts", resting, ChargeState{Stage: Rest}, in(13.0-e, 0), ChargeState{}},
		{"source lost", floats, ChargeState{Absorption, 1}, dark, ChargeState{}},
		{"voltage no number", floats, ChargeState{Absorption, 1}, in(math.NaN(), 0), ChargeState{Absorption, 1}},
		{"float, voltage no number", floats, ChargeState{Stage: Float}, in(math.NaN(), 0), ChargeState{Stage: Float}},
	}
	for _, k := range cases {
		if got := k.s.Next(k.was, k.in); got != k.want {
			t.Errorf("%s: %+v, want %+v", k.name, got, k.want)
		}
	}
}

// Whatever the inputs, the stage is one of the four, time never runs back within a charge, and a target never passes absorption.
func TestNext_Properties(t *testing.T) {
	seen := map[Stage]bool{}
	draws(t, 2000, func(d draw) {
		p := SetpointsParams{AbsorptionV: d.between(13.8, 14.8), AbsorbForH: d.between(0, 3),
			TailA: pick(d, 0, 4.0), RestartV: 12.9}
		if d.yes() {
			p.FloatV = d.between(13.2, 13.8)
		}
		s, err := NewSetpoints(p)
		if err != nil {
			t.Fatal(err)
		}
		var state ChargeState
		for range 60 {
			in := StageInput{BankV: d.between(12.5, 15), ChargeA: d.between(-20, 60), BankC: 25,
				StepH: 0.25, Powered: d.IntN(20) > 0}
			next := s.Next(state, in)
			if again := s.Next(state, in); again != next {
				t.Fatal("not a pure function")
			}
			if next.Stage > Rest || next.Stage == Float && p.FloatV == 0 || next.Stage == Absorption && next.HeldH < state.HeldH {
				t.Fatalf("%+v after %+v", next, state)
			}
			if s.TargetV(next.Stage, 25) > p.AbsorptionV {
				t.Fatal("target above absorption")
			}
			seen[next.Stage] = true
			state = next
		}
	})
	if len(seen) != 4 {
		t.Errorf("stages met: %v, want all four", seen)
	}
}

func TestNewSetpoints_Refuses(t *testing.T) {
	good := SetpointsParams{Name: "converter", AbsorptionV: 14.2, FloatV: 13.5, RestartV: 13}
	for _, b := range []struct {
		name string
		edit func(*SetpointsParams)
	}{
		{"absorption", func(p *SetpointsParams) { p.AbsorptionV = math.NaN() }}, {"float", func(p *SetpointsParams) { p.FloatV = 14.3 }},
		{"restarts", func(p *SetpointsParams) { p.RestartV = 13.5 }}, {"restarts", func(p *SetpointsParams) { p.RestartV = 13.6 }},
		{"compensation", func(p *SetpointsParams) { p.PerCV = 0.01 }}, {"tail", func(p *SetpointsParams) { p.TailA = -1 }},
		{"absorbs", func(p *SetpointsParams) { p.AbsorbForH = 49 }}, {"band", func(p *SetpointsParams) { p.BandV = -0.1 }},
		{"lowest", func(p *SetpointsParams) { p.LowC, p.HighC = 30, 50 }},
	} {
		p := good
		b.edit(&p)
		s, err := NewSetpoints(p)
		if err == nil || s != (Setpoints{}) {
			t.Errorf("%s: accepted %+v", b.name, p)
		} else if !strings.Contains(err.Error(), b.name) {
			t.Errorf("%s: message %q does not name it", b.name, err)
		}
	}
}

func ExampleSetpoints_Next() {
	s, err := NewSetpoints(SetpointsParams{AbsorptionV: 14.2, AbsorbForH: 0.5, FloatV: 13.5, RestartV: 13.0})
	if err != nil {
		fmt.Println(err)
		return
	}
	var c ChargeState
	for _, volts := range []float64{13.4, 14.2, 14.2, 14.2, 13.4, 12.9} {
		c = s.Next(c, StageInput{BankV: volts, ChargeA: 20, BankC: 25, StepH: 0.25, Powered: true})
		fmt.Printf("%.1f V: %v\n", volts, c.Stage)
	}
	// Output:
	// 13.4 V: bulk
	// 14.2 V: absorption
	// 14.2 V: absorption
	// 14.2 V: float
	// 13.4 V: float
	// 12.9 V: bulk
}
