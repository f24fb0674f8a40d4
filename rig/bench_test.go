package rig

import (
	"bytes"
	"testing"
)

// The demo trailer, 285 lines, 160 values.
// Decode 2.1 ms, 1.1 MB, 16,500 allocations; Apply 2.5 ms, 1.4 MB, 22,300 allocations; Encode 0.49 ms, 0.19 MB, 2,900 allocations:
// 2 shared cores, Go 1.26.8, go test -bench . ./rig
func BenchmarkDecode(b *testing.B) {
	data := read(b, "../examples/desert-trailer.yaml")
	b.ReportAllocs()
	for b.Loop() {
		if _, faults := Decode(bytes.NewReader(data)); faults != nil {
			b.Fatal(faults)
		}
	}
}

func BenchmarkApply(b *testing.B) {
	data := read(b, "../examples/desert-trailer.yaml")
	edits := []Edit{{"bank/block/capacity", "100 Ah", "110 Ah"}}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Apply(data, edits); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkEncode(b *testing.B) {
	r := whole(b, string(read(b, "../examples/desert-trailer.yaml")))
	b.ReportAllocs()
	for b.Loop() {
		Encode(r)
	}
}
