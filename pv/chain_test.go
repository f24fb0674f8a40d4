package pv

import (
	"encoding/csv"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"campwright/internal/near"
	"campwright/sun"
)

// readTable returns the columns of a comma-separated file by their names, numbers as text.
func readTable(t testing.TB, path string) map[string][]string {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	table := map[string][]string{}
	for j, name := range rows[0] {
		for _, row := range rows[1:] {
			table[name] = append(table[name], row[j])
		}
	}
	return table
}

// numbers returns a column as numbers.
func numbers(t testing.TB, table map[string][]string, name string) []float64 {
	t.Helper()
	if table[name] == nil {
		t.Fatalf("no column %q", name)
	}
	column := make([]float64, len(table[name]))
	for k, text := range table[name] {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatalf("column %q row %d: %v", name, k, err)
		}
		column[k] = v
	}
	return column
}

// weatherYear is a year of weather at a place with the sun along it.
type weatherYear struct {
	month     []int // of each step, 0 to 11
	stepHours float64
	light     sun.Light
	air, wind []float64
	geometry  *sun.Geometry
}

// readYear reads a year of normalised weather; sun instants must be evenly spaced.
func readYear(t testing.TB, path string, o sun.Observer, utcOffsetH float64) weatherYear {
	t.Helper()
	table := readTable(t, path)
	y := weatherYear{air: numbers(t, table, "air_temp_c"), wind: numbers(t, table, "wind_m_s")}
	y.light = sun.Light{GHI: numbers(t, table, "ghi_w_m2"), DNI: numbers(t, table, "dni_w_m2"), DHI: numbers(t, table, "dhi_w_m2")}
	hours := numbers(t, table, "duration_h")
	y.stepHours = hours[0]
	n := len(hours)
	var first, last time.Time
	for k, text := range table["sun_time_utc"] {
		at, err := time.Parse(time.RFC3339Nano, text)
		if err != nil {
			t.Fatal(err)
		}
		if k == 0 {
			first = at
		}
		last = at
		m, err := strconv.Atoi(table["interval_start_local"][k][5:7])
		if err != nil {
			t.Fatal(err)
		}
		y.month = append(y.month, m-1)
	}
	step := last.Sub(first) / time.Duration(n-1)
	if step != time.Duration(y.stepHours*float64(time.Hour)) {
		t.Fatalf("%s: steps of %v, but %g h said", path, step, y.stepHours)
	}
	g, err := sun.Track(o, sun.Steps{Start: first.In(time.FixedZone("local", int(utcOffsetH*3600))), Step: step, Count: n},
		sun.Extra{Constant: sun.SolarConstantASTM})
	if err != nil {
		t.Fatal(err)
	}
	y.geometry = g
	return y
}

type chainFile struct {
	Sites []struct {
		Site      string  `json:"site"`
		File      string  `json:"normalised_file"`
		Latitude  float64 `json:"latitude_deg"`
		Longitude float64 `json:"longitude_deg"`
		Elevation float64 `json:"elevation_m"`
		UTCOffset float64 `json:"utc_offset_h"`
	}
	Cases []struct {
		Case     string
		Site     string
		Module   string
		Tilt     float64   `json:"surface_tilt_deg"`
		Azimuth  float64   `json:"surface_azimuth_deg"`
		Sky      string    `json:"transposition"`
		IAM      string    `json:"iam"`
		Plane    float64   `json:"annual_poa_kwh_m2"`
		DC       float64   `json:"annual_dc_kwh"`
		Month    []float64 `json:"monthly_dc_kwh"`
		Max      float64   `json:"max_dc_w"`
		CellMean float64   `json:"poa_weighted_cell_temp_c"`
	}
}

// Whole years from weather to direct current, at real places and invented ones, hour by hour where the trace has it.
func TestChain_years(t *testing.T) {
	modules := oracleModules(t)
	cases := 0
	for _, name := range []string{"chain_invented.json", "chain.json"} {
		var file chainFile
		readJSON(t, reference(t, "oracle", name), &file)
		for _, site := range file.Sites {
			o := sun.Observer{Place: sun.Place{Latitude: site.Latitude, Longitude: site.Longitude, Elevation: site.Elevation},
				Pressure: sun.Pressure(site.Elevation) / 100, Temperature: 12, DeltaT: 67}
			year := readYear(t, reference(t, "oracle", site.File), o, site.UTCOffset)
			prefix := "chain_trace_"
			if name == "chain_invented.json" {
				prefix = "chain_trace_invented_"
			}
			trace := readTable(t, reference(t, "oracle", prefix+site.Site+".csv"))
			for _, k := range file.Cases {
				if k.Site != site.Site {
					continue
				}
				cases++
				sky, ok := map[string]sun.SkyModel{"perez": sun.Perez, "haydavies": sun.HayDavies}[k.Sky]
				if !ok {
					t.Fatalf("%s: sky %q", k.Case, k.Sky)
				}
				plane, err := year.geometry.OnPlane(sun.Plane{Tilt: k.Tilt, Azimuth: k.Azimuth, Albedo: 0.2})
				if err != nil {
					t.Fatal(err)
				}
				n := year.geometry.Len()
				parts := sun.NewPlaneLight(n)
				if err := plane.Transpose(parts, year.light, sky); err != nil {
					t.Fatal(err)
				}
				glass, err := sun.NewASHRAE(0.05)
				if err != nil {
					t.Fatal(err)
				}
				total, effective, cell, power := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
				for i := range n {
					total[i] = parts.Beam[i] + parts.Sky[i] + parts.Ground[i]
					effective[i] = total[i]
					if k.IAM != "none" && k.IAM != "" { // on the beam only
						effective[i] -= parts.Beam[i] * (1 - glass.At(plane.CosIncidence[i]))
					}
				}
				if err := CellColumn(cell, total, year.air, year.wind, Faiman{U0: 25, U1: 6.84}); err != nil {
					t.Fatal(err)
				}
				if err := modules[k.Module].PowerColumn(power, effective, cell); err != nil {
					t.Fatal(err)
				}
				var month [12]float64
				sum, light, warm, most := 0.0, 0.0, 0.0, 0.0
				for i := range n {
					month[year.month[i]] += power[i] * year.stepHours / 1000
					sum += power[i] * year.stepHours / 1000
					light += total[i] * year.stepHours / 1000
					warm += total[i] * cell[i]
					most = max(most, power[i])
				}
				const why = "the file accepts 0.5 % and expects 0.1 %; the sun's track is good to 0.0001 degrees"
				near.Rel(t, k.Case+" plane", light, k.Plane, 1e-5, why)
				near.Rel(t, k.Case+" energy", sum, k.DC, 1e-5, why)
				for j := range month {
					near.Rel(t, fmt.Sprint(k.Case, " month ", j+1), month[j], k.Month[j], 2e-5, why)
				}
				if k.Max != 0 {
					near.Rel(t, k.Case+" greatest", most, k.Max, 1e-5, why)
					near.Abs(t, k.Case+" warmth", warm/(light*1000/year.stepHours), k.CellMean, 1e-3, why)
				}
				checkTrace(t, trace, k.Case, k.Sky, k.Module, k.IAM, cell, power)
			}
		}
	}
	if cases != 16+40 {
		t.Fatalf("%d cases, wanted 56", cases)
	}
}

// checkTrace holds the columns of a case against the trace, where it has them.
func checkTrace(t *testing.T, trace map[string][]string, name, sky, module, iam string, cell, power []float64) {
	t.Helper()
	if sky != "perez" || iam != "none" && iam != "" {
		return
	}
	surface := strings.Split(name, "/")[2]
	if surface == "south25" {
		surface = "s25"
	}
	column := "dc_" + surface + "_perez_" + module + "_w"
	if trace[column] == nil {
		if column = "dc_" + surface + "_perez_w"; module != "GEN-100M36" {
			return
		}
	}
	dc, warm := near.Worst{What: "W"}, near.Worst{What: "°C"}
	for i, want := range numbers(t, trace, column) {
		dc.See(power[i], want, trace["interval_start_local"][i])
	}
	for i, want := range numbers(t, trace, "cell_temp_"+surface+"_perez_c") {
		warm.See(cell[i], want, trace["interval_start_local"][i])
	}
	near.Within(t, name+" trace, steps", float64(dc.Count), 8760, 17520, "a year")
	near.Abs(t, name+" trace of power, worst at "+dc.Place, dc.Off, 0, 0.02, "W of a module of 100 or 200 W; low sun moves fast")
	near.Abs(t, name+" trace of cell temperature, worst at "+warm.Place, warm.Off, 0, 0.01, "K, as the power")
}
