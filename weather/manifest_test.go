package weather

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"campwright/internal/near"
)

// Every file of the weather folder, read and summed, against the folder's manifest: sums and extremes worked out from the same files
// with other tools.
func TestFilesAgainstManifest(t *testing.T) {
	dir := folder(t, "CAMPWRIGHT_WEATHER", "WEATHER ABSENT")
	f, err := os.Open(filepath.Join(dir, "manifest.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	head := map[string]int{}
	for i, name := range rows[0] {
		head[name] = i
	}
	read := 0
	for _, row := range rows[1:] {
		name := row[head["file"]]
		t.Run(name, func(t *testing.T) {
			y := readFile(t, filepath.Join(dir, name), nil)
			read++
			printed := func(column string, got float64) {
				t.Helper()
				s := row[head[column]]
				want, err := strconv.ParseFloat(s, 64)
				if err != nil {
					t.Fatal(err)
				}
				_, digits, _ := strings.Cut(s, ".")
				// The manifest writes 2.10 as 2.1: its columns have a fixed number of decimals.
				decimals := map[string]int{"ghi_annual_kwh_m2_day": 3, "dni_annual": 2, "dhi_annual": 2}[column]
				if strings.HasPrefix(column, "ghi_") && decimals == 0 {
					decimals = 2
				}
				near.Printed(t, column, got, want, max(decimals, len(digits)), "manifest.csv")
			}
			o := sum(y)
			printed("lat", y.Site.Latitude)
			printed("lon", y.Site.Longitude)
			printed("elev_m", y.Site.ElevationM)
			printed("tz_h", y.Site.UTCOffsetH)
			printed("rows", float64(len(y.Records)))
			printed("ghi_annual_kwh_m2_day", o.ghi/365)
			for m := range 12 {
				printed("ghi_"+strconv.Itoa(101 + m)[1:], o.monthGHI[m])
			}
			printed("dni_annual", o.dni/365)
			printed("dhi_annual", o.dhi/365)
			printed("t_mean", o.meanAir)
			printed("t_min", o.minAir)
			printed("t_max", o.maxAir)
			printed("dtr_mean", o.dayRange)
			printed("wind_mean", o.meanWind)
			if want := row[head["format"]]; !strings.HasPrefix(want, string(y.Format)) {
				t.Errorf("format %q, the manifest says %q", y.Format, want)
			}
			if !y.Typical || y.Records[0].Start.Year() != LabelYear {
				t.Errorf("not recognised as a typical year: %v, %v", y.Typical, y.Records[0].Start)
			}
			t.Log(y.Site.Name, y.Notes)
		})
	}
	if read == 0 {
		t.Fatal("the manifest names no file")
	}
}
