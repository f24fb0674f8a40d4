package weather

import (
	"compress/gzip"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"testing"
)

// folder returns the folder an environment variable names, or skips loudly.
func folder(t testing.TB, variable, absent string) string {
	t.Helper()
	dir := os.Getenv(variable)
	if dir == "" {
		t.Skipf("%s: %s is not set", absent, variable)
	}
	return dir
}

func readFile(t testing.TB, path string, site *Site) Year {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var r io.Reader = f
	if filepath.Ext(path) == ".gz" {
		if r, err = gzip.NewReader(f); err != nil {
			t.Fatal(err)
		}
	}
	y, err := read(r, filepath.Base(path), site)
	if err != nil {
		t.Fatal(err)
	}
	return y
}

// referenceSite is a site of chain.json or chain_invented.json.
type referenceSite struct {
	Site       string  `json:"site"`
	RawFile    string  `json:"raw_file"`
	Normalised string  `json:"normalised_file"`
	Latitude   float64 `json:"latitude_deg"`
	Longitude  float64 `json:"longitude_deg"`
	Elevation  float64 `json:"elevation_m"`
	Offset     float64 `json:"utc_offset_h"`
	MidOffset  float64 `json:"mid_offset_min"`
	Minutes    int     `json:"native_minutes"`
	Records    int     `json:"records"`
	Label      string  `json:"label"`
	SumGHI     float64 `json:"sum_ghi_kwh_m2"`
	SumDNI     float64 `json:"sum_dni_kwh_m2"`
	SumDHI     float64 `json:"sum_dhi_kwh_m2"`
	MeanAir    float64 `json:"mean_air_temp_c"`
	MeanWind   float64 `json:"mean_wind_m_s"`
	MaxGHI     float64 `json:"max_ghi_w_m2"`
	MinAir     float64 `json:"min_air_temp_c"`
	MaxAir     float64 `json:"max_air_temp_c"`
}

func (s referenceSite) place() *Site {
	return &Site{Name: s.Site, Latitude: s.Latitude, Longitude: s.Longitude, ElevationM: s.Elevation, UTCOffsetH: s.Offset}
}

func referenceSites(t testing.TB, path string) []referenceSite {
	t.Helper()
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Sites []referenceSite `json:"sites"`
	}
	if err := json.Unmarshal(raw, &file); err != nil {
		t.Fatal(err)
	}
	if len(file.Sites) == 0 {
		t.Fatalf("%s: no sites", path)
	}
	return file.Sites
}

// totals are the sums and extremes of a year, for comparison with published ones.
type totals struct {
	ghi, dni, dhi                                       float64 // kWh/m²
	meanAir, minAir, maxAir, meanWind, maxGHI, dayRange float64
	monthGHI                                            [12]float64 // kWh/m² a day
}

func sum(y Year) totals {
	var o totals
	o.minAir, o.maxAir = 1e9, -1e9
	var days [12]float64
	low, high, n, ranges := 1e9, -1e9, 0, 0.0
	for i, r := range y.Records {
		o.ghi += r.GHI * r.DurationH / 1000
		o.dni += r.DNI * r.DurationH / 1000
		o.dhi += r.DHI * r.DurationH / 1000
		o.meanAir += r.AirC
		o.meanWind += r.WindMS
		o.minAir, o.maxAir, o.maxGHI = min(o.minAir, r.AirC), max(o.maxAir, r.AirC), max(o.maxGHI, r.GHI)
		m := r.Start.Month() - 1
		o.monthGHI[m] += r.GHI * r.DurationH / 1000
		days[m] += r.DurationH / 24
		low, high = min(low, r.AirC), max(high, r.AirC)
		if i == len(y.Records)-1 || y.Records[i+1].Start.Day() != r.Start.Day() {
			ranges, n, low, high = ranges+high-low, n+1, 1e9, -1e9
		}
	}
	for m := range days {
		o.monthGHI[m] /= days[m]
	}
	o.dayRange = ranges / float64(n)
	o.meanAir /= float64(len(y.Records))
	o.meanWind /= float64(len(y.Records))
	return o
}
