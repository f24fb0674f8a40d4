package weather

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"campwright/internal/near"
)

// The plain tables of the independent reference, real and invented, against the sums its description of each site prints.
func TestTablesAgainstReference(t *testing.T) {
	dir := filepath.Join(folder(t, "CAMPWRIGHT_REFERENCE", "REFERENCE ABSENT"), "oracle")
	for _, file := range []string{"chain.json", "chain_invented.json"} {
		for _, s := range referenceSites(t, filepath.Join(dir, file)) {
			t.Run(s.Site, func(t *testing.T) {
				y := readFile(t, filepath.Join(dir, s.Normalised), s.place())
				if len(y.Records) != s.Records || int(y.Step.Minutes()) != s.Minutes {
					t.Fatalf("%d records of %v, want %d of %d min", len(y.Records), y.Step, s.Records, s.Minutes)
				}
				o := sum(y)
				near.Printed(t, "GHI", o.ghi, s.SumGHI, 3, file)
				near.Printed(t, "mean air temperature", o.meanAir, s.MeanAir, 9, file)
				if file == "chain_invented.json" {
					return // gives no further sums
				}
				near.Printed(t, "DNI", o.dni, s.SumDNI, 4, file)
				near.Printed(t, "DHI", o.dhi, s.SumDHI, 4, file)
				near.Printed(t, "mean wind", o.meanWind, s.MeanWind, 9, file)
				near.Printed(t, "highest GHI", o.maxGHI, s.MaxGHI, 1, file)
				near.Printed(t, "lowest air temperature", o.minAir, s.MinAir, 1, file)
				near.Printed(t, "highest air temperature", o.maxAir, s.MaxAir, 1, file)
			})
		}
	}
}

// Raw files that are at hand, record by record against the reference's rendering of the same files: values, interval, sun's instant.
func TestRawAgainstNormalised(t *testing.T) {
	oracle := filepath.Join(folder(t, "CAMPWRIGHT_REFERENCE", "REFERENCE ABSENT"), "oracle")
	raw := folder(t, "CAMPWRIGHT_WEATHER", "WEATHER ABSENT")
	entries, err := os.ReadDir(raw)
	if err != nil {
		t.Fatal(err)
	}
	compared := 0
	for _, s := range referenceSites(t, filepath.Join(oracle, "chain.json")) {
		station := strings.NewReplacer("TYA.CSV", "", "_chicago.epw", "").Replace(s.RawFile)
		for _, e := range entries {
			if !strings.Contains(e.Name(), station) {
				continue
			}
			t.Run(e.Name(), func(t *testing.T) {
				got := readFile(t, filepath.Join(raw, e.Name()), nil)
				want := readFile(t, filepath.Join(oracle, s.Normalised), s.place())
				if len(got.Records) != len(want.Records) {
					t.Fatalf("%d records, want %d", len(got.Records), len(want.Records))
				}
				if got.Label != s.Label {
					t.Errorf("label %q, the reference says %q", got.Label, s.Label)
				}
				near.Abs(t, "latitude", got.Site.Latitude, s.Latitude, 1e-9, "both as printed in the file")
				near.Abs(t, "longitude", got.Site.Longitude, s.Longitude, 1e-9, "both as printed in the file")
				near.Abs(t, "elevation", got.Site.ElevationM, s.Elevation, 1e-9, "both as printed in the file")
				for i, g := range got.Records {
					w := want.Records[i]
					if !g.Start.Equal(w.Start) || !g.SunTime.Equal(w.SunTime) || g.GHI != w.GHI || g.DNI != w.DNI || g.DHI != w.DHI || g.AirC != w.AirC || g.WindMS != w.WindMS {
						t.Fatalf("record %d: %+v, the reference has %+v", i, g, w)
					}
					if mid := g.SunTime.Sub(g.Start); mid != time.Duration(s.MidOffset)*time.Minute {
						t.Fatalf("record %d: sun %v after the start, want %g min", i, mid, s.MidOffset)
					}
				}
				compared++
			})
		}
	}
	if compared < 2 {
		t.Fatalf("%d raw files compared, want at least the TMY3 and the EPW one", compared)
	}
}
