package weather

import (
	"bytes"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Whatever bytes come in: no panic, the zero value on error, and on success nothing but finite numbers within limits. The seeds are
// small invented excerpts of every format.
func FuzzRead(f *testing.F) {
	seeds, err := filepath.Glob("testdata/seeds/*")
	if err != nil || len(seeds) == 0 {
		f.Fatalf("no seeds: %v", err)
	}
	seen := map[Format]bool{}
	for _, path := range seeds {
		raw, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		_, err = ReadAt(bytes.NewReader(raw), path, InventedSite)
		var faults *Faults
		if !errors.As(err, &faults) {
			f.Fatalf("%s: %v", path, err)
		}
		for _, one := range faults.List {
			if !strings.Contains(one.Text, "records missing") {
				f.Fatalf("%s: an excerpt has to be refused as incomplete and for nothing else: %v", path, err)
			}
		}
		seen[faults.Format] = true
		f.Add(raw)
	}
	if len(seen) != 6 {
		f.Fatalf("seeds of %d formats, want one of each of 6", len(seen))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		y, err := ReadAt(bytes.NewReader(raw), "fuzz", InventedSite)
		if err != nil {
			if len(y.Records) != 0 || y.Format != "" || y.Notes != nil {
				t.Fatalf("an error and a value: %v, %+v", err, y.Site)
			}
			return
		}
		for i, r := range y.Records {
			for _, v := range []float64{r.GHI, r.DNI, r.DHI, r.AirC, r.WindMS} {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("record %d: %+v", i, r)
				}
			}
		}
		if _, err := y.Columns(60); err != nil {
			t.Fatal(err)
		}
	})
}
