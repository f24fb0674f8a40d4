package trip

import (
	"context"
	"testing"
)

// BenchmarkAdvise tries what could be done about the stay of BenchmarkForecast: the answer of 200 members over 30 nights, and some thirty trials of 40.
//
// Result on 2 shared cores, go1.26.8, go test -run xxx -bench Advise -benchtime 3s ./trip: 0.55 s and 192 MB.
func BenchmarkAdvise(b *testing.B) {
	plan, doc := stayCase(b)
	f, err := NewForecast(plan, Options{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := f.Advise(context.Background(), &doc); err != nil {
			b.Fatal(err)
		}
	}
}
