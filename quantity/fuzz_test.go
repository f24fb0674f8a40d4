package quantity

import (
	"bufio"
	"math"
	"os"
	"strings"
	"testing"
)

// seeds reads testdata/values.txt, one value a line.
func seeds(t testing.TB) []string {
	f, err := os.Open("testdata/values.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var lines []string
	for s := bufio.NewScanner(f); s.Scan(); {
		lines = append(lines, s.Text())
	}
	if len(lines) < 40 {
		t.Fatalf("only %d seeds found", len(lines))
	}
	return lines
}

// FuzzParse: whatever the text, there is no panic; on error there is no value; a value is finite, and what String writes reads back
// as exactly that value in the same unit, unless it takes two units together and more digits than they can give.
func FuzzParse(f *testing.F) {
	for _, s := range seeds(f) {
		f.Add(s, uint8(None))
		f.Add(s, uint8(Voltage))
		f.Add(s, uint8(TempDifference))
	}
	f.Fuzz(func(t *testing.T, text string, kind uint8) {
		var allowed []Kind
		if k := Kind(kind % uint8(len(kinds))); k != None {
			allowed = []Kind{k}
		}
		q, err := Parse(text, allowed...)
		if err != nil {
			if q != (Quantity{}) {
				t.Fatalf("%q: an error and a value %+v", text, q)
			}
			return
		}
		if math.IsNaN(q.Base) || math.IsInf(q.Base, 0) || len(allowed) == 1 && q.Kind != allowed[0] {
			t.Fatalf("%q reads as %+v", text, q)
		}
		for _, s := range []System{AsWritten, US, Metric} {
			if Format(q, s) == "" {
				t.Fatalf("%q: nothing shown", text)
			}
		}
		written := q.String()
		back, err := Parse(written, q.Kind)
		if err != nil || back.Base != q.Base || back.Unit != q.Unit && !strings.Contains(q.Unit, " ") {
			t.Fatalf("%q reads as %+v, is written %q, reads back as %+v, %v", text, q, written, back, err)
		}
	})
}

// One round reads the 63 lines of testdata/values.txt.
// 44 µs, 334 allocations: 2 shared cores, Go 1.26.8, go test -bench Parse ./quantity
func BenchmarkParse(b *testing.B) {
	all := seeds(b)
	b.ReportAllocs()
	for b.Loop() {
		for _, s := range all {
			_, _ = Parse(s)
		}
	}
}
