package battery_test

import (
	"testing"

	"campwright/battery"
)

// Budget: a step in 40 ns, nothing allocated.
func BenchmarkStep(b *testing.B) {
	const dtH = 1.0 / 12
	for _, c := range []struct {
		name      string
		chemistry battery.Chemistry
		soc       float64
		powerW    float64
	}{
		{"LFP/inside a leg", battery.LFP, 0.523, -150},
		{"LFP/charging", battery.LFP, 0.523, 300},
		{"LFP/across a knot", battery.LFP, 0.551, -150},
		{"LFP/held at absorption", battery.LFP, 0.996, 900},
		{"flooded/inside a leg", battery.Flooded, 0.723, -150},
		{"flooded/at the rate limit", battery.Flooded, 0.2, -900},
	} {
		b.Run(c.name, func(b *testing.B) {
			m := typical(b, c.chemistry, 12, 200)
			b.ReportAllocs()
			for b.Loop() {
				_, _ = m.Step(battery.State{SoC: c.soc}, c.powerW, 18.3, dtH)
			}
		})
	}
}

// A bank living through days of 288 steps: drawn down at night, charged by day to its set-point. One operation is one step.
func BenchmarkStep_Days(b *testing.B) {
	for _, c := range []battery.Chemistry{battery.LFP, battery.AGM, battery.Flooded} {
		b.Run(c.String(), func(b *testing.B) {
			m := typical(b, c, 12, 200)
			powers := make([]float64, 288)
			for i := range powers {
				powers[i] = -70
				if i > 100 && i < 200 {
					powers[i] = 250
				}
			}
			s := battery.State{SoC: 0.6}
			b.ReportAllocs()
			i := 0
			for b.Loop() {
				s, _ = m.Step(s, powers[i], 18.3, 1.0/12)
				if i++; i == len(powers) {
					i = 0
				}
			}
		})
	}
}

func BenchmarkLimits(b *testing.B) {
	for _, c := range []struct {
		chemistry battery.Chemistry
		soc       float64
	}{{battery.LFP, 0.523}, {battery.Flooded, 0.723}, {battery.Flooded, 0.2}} {
		b.Run(c.chemistry.String(), func(b *testing.B) {
			m := typical(b, c.chemistry, 12, 200)
			b.ReportAllocs()
			for b.Loop() {
				_, _ = m.Limits(battery.State{SoC: c.soc}, 18.3, 1.0/12)
			}
		})
	}
}

func BenchmarkByVoltage(b *testing.B) {
	m := typical(b, battery.LFP, 12, 200)
	b.ReportAllocs()
	for b.Loop() {
		_, _ = m.ByVoltage(battery.State{SoC: 0.523}, 13.3, 18.3, 1.0/12)
	}
}
