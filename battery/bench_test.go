package battery

import "testing"

func BenchmarkStep(b *testing.B) {
	m, _ := New(Typical(LFP, 12, 200))
	b.ReportAllocs()
	s := State{SoC: .523}
	for b.Loop() {
		s.SoC = .523
		s, _ = m.Step(s, -150, 18.3, 1./12)
	}
}

func BenchmarkLimits(b *testing.B) {
	m, _ := New(Typical(LFP, 12, 200))
	s := State{SoC: .523}
	for b.Loop() {
		m.Limits(s, 18.3, 1./12)
	}
}
