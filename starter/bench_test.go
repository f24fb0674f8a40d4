package starter_test

import (
	"testing"

	"campwright/starter"
)

// A file out of six answers, its place looked up and its rig assembled three times.
//
//	2 shared cores, Go 1.26, go test -run - -bench Build ./starter
//	16.0 ms/op   5.5 MB/op   51,500 allocs/op
func BenchmarkBuild(b *testing.B) {
	a := starter.Answers{Today: today(b)}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := starter.Build(a); err != nil {
			b.Fatal(err)
		}
	}
}
