package conductor

import "testing"

// Results of "go test -bench . -run xxx ./conductor" on 2 shared cores, Go 1.26.8: BenchmarkSize 3.4 µs, 28 allocations;
// BenchmarkAmpacity 0.13 µs, 2 allocations.

// BenchmarkSize walks from 18 AWG to the size that suffices.
func BenchmarkSize(b *testing.B) {
	n := Need{Use: Use{Book: USRV, Side: Vehicle, InsulationC: 105, AmbientC: 40, Together: 2}, System: AWG,
		Lasting: 32, Fuse: 60, OneWayM: 7.6, Volts: 13.8, DropAmps: 32, DropShare: 0.05, DropC: 60}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Size(n); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkAmpacity rates one conductor.
func BenchmarkAmpacity(b *testing.B) {
	g, _ := OfAWG(6)
	u := Use{Book: USBoat, Side: Battery, Gauge: g, InsulationC: 105, AmbientC: 30, Together: 5, EngineSpace: true}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Ampacity(u); err != nil {
			b.Fatal(err)
		}
	}
}
