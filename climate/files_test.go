package climate

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// folder returns a folder of reference data named by an environment variable, or skips the test loudly.
func folder(t testing.TB, variable, what string) string {
	t.Helper()
	dir := os.Getenv(variable)
	if dir == "" {
		t.Skipf("%s ABSENT: set %s to the folder to run this check", what, variable)
	}
	return dir
}

// rows reads a table with a header line; a missing file is a failure.
func rows(t testing.TB, path string) []map[string]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, line := range all[1:] {
		m := map[string]string{}
		for i, name := range all[0] {
			m[name] = line[i]
		}
		out = append(out, m)
	}
	if len(out) == 0 {
		t.Fatalf("%s: no rows", path)
	}
	return out
}

func number(t testing.TB, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// year is a weather file by days: light on the horizontal [Wh/m²] and mean temperature of 365 days.
type year struct {
	name                string
	latitude, longitude float64
	elevation           float64
	light               []float64
	temperature         []float64
}

// month returns the days of a month, from 0, as indices.
func monthDays(month int) (from, to int) {
	lengths := []int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}
	for _, n := range lengths[:month] {
		from += n
	}
	return from, from + lengths[month]
}

// years reads the public weather files of the weather folder and the normalised years of the reference folder.
func years(t testing.TB) []year {
	weather := folder(t, "CAMPWRIGHT_WEATHER", "WEATHER")
	reference := folder(t, "CAMPWRIGHT_REFERENCE", "REFERENCE")
	var all []year
	for _, r := range rows(t, filepath.Join(weather, "manifest.csv")) {
		y := year{name: r["station"], latitude: number(t, r["lat"]), longitude: number(t, r["lon"]), elevation: number(t, r["elev_m"])}
		skip, ghi, temp := 8, 13, 6
		if strings.HasSuffix(r["file"], ".CSV") {
			skip, ghi, temp = 2, 4, 31
		}
		y.read(t, filepath.Join(weather, r["file"]), skip, ghi, temp, 1)
		all = append(all, y)
	}
	var chain struct {
		Sites []struct {
			Site, Name    string
			Normalised    string  `json:"normalised_file"`
			Latitude      float64 `json:"latitude_deg"`
			Longitude     float64 `json:"longitude_deg"`
			Elevation     float64 `json:"elevation_m"`
			NativeMinutes float64 `json:"native_minutes"`
		}
	}
	text, err := os.ReadFile(filepath.Join(reference, "oracle", "chain.json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &chain); err != nil {
		t.Fatal(err)
	}
	for _, s := range chain.Sites {
		if s.Site == "chicago_il" || s.Site == "greensboro_nc" {
			continue // the same files as in the weather folder
		}
		y := year{name: s.Name, latitude: s.Latitude, longitude: s.Longitude, elevation: s.Elevation}
		y.read(t, filepath.Join(reference, "oracle", s.Normalised), 1, 3, 6, s.NativeMinutes/60)
		all = append(all, y)
	}
	if len(all) < 11 {
		t.Fatalf("only %d weather files", len(all))
	}
	return all
}

func (y *year) read(t testing.TB, path string, skip, ghi, temp int, hours float64) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(text)), "\n")[skip:]
	perDay := int(24 / hours)
	if len(lines) < 365*perDay {
		t.Fatalf("%s: %d records, want %d", path, len(lines), 365*perDay)
	}
	y.light, y.temperature = make([]float64, 365), make([]float64, 365)
	for i, line := range lines[:365*perDay] {
		f := strings.Split(line, ",")
		y.light[i/perDay] += number(t, f[ghi]) * hours
		y.temperature[i/perDay] += number(t, f[temp]) / float64(perDay)
	}
}
