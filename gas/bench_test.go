package gas_test

import (
	"testing"

	"campwright/gas"
)

func BenchmarkDrawLimitW(b *testing.B) {
	c := gas.Cylinders()[3]
	b.ReportAllocs()
	for b.Loop() {
		_ = c.DrawLimitW(0.4, -7)
	}
}
