package sun

import (
	"testing"
	"time"
)

// Recorded on a machine of 2 shared cores with go1.26, by
//
//	go test -run - -bench 'At|RiseSet' ./sun
//
//	At       2.4 µs, nothing allocated
//	RiseSet  46 µs, 8 kB
func BenchmarkAt(b *testing.B) {
	at, o, _ := spaExample(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := At(at, o); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRiseSet(b *testing.B) {
	day := time.Date(2026, 3, 20, 12, 0, 0, 0, time.FixedZone("", -7*3600))
	o := Place{39.742476, -105.1786, 1830.14}.Observer()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := RiseSet(day, o); err != nil {
			b.Fatal(err)
		}
	}
}
