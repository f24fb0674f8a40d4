package pv

import (
	"bufio"
	"compress/gzip"
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"campwright/internal/near"
	"campwright/sun"
)

// The bands of these tests are what a careful reference reached, widened once; the data are read from a folder and not kept here.

// measured opens a packed file of measurements, or skips the test.
func measured(t testing.TB, path ...string) *gzip.Reader {
	t.Helper()
	dir := os.Getenv("CAMPWRIGHT_MEASURED")
	if dir == "" {
		t.Skip("MEASURED ABSENT: set CAMPWRIGHT_MEASURED to the folder of measured data")
	}
	file, err := os.Open(filepath.Join(append([]string{dir}, path...)...))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { file.Close() })
	z, err := gzip.NewReader(file)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

// number returns a number, or one that is not a number for what is missing.
func number(text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// minute is what was measured in one minute of the day.
type minute struct {
	ghi, dni, dhi, air, wind float64 // W/m², °C, m/s
	back                     float64 // module temperature [°C]
	isc, pmp, vmp            float64 // from the curve, not a number where none was taken
}

// oneDay returns the measurements of one module, by the minute of the day at UTC-5.
func oneDay(t testing.TB) []minute {
	t.Helper()
	day := make([]minute, 1440)
	for k := range day {
		nan := math.NaN()
		day[k] = minute{nan, nan, nan, nan, nan, nan, nan, nan, nan}
	}
	read := func(name string, each func(head, row []string, m *minute)) {
		rows, err := csv.NewReader(measured(t, "module_one_day", name)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows[1:] {
			if at, err := time.Parse("2006-01-02 15:04:05", row[0][:19]); err != nil {
				t.Fatal(err)
			} else if at.Day() == 1 {
				each(rows[0], row, &day[at.Hour()*60+at.Minute()])
			}
		}
	}
	column := func(head []string, name string) int {
		for k, h := range head {
			if h == name {
				return k
			}
		}
		t.Fatalf("no column %q", name)
		return 0
	}
	read("onemin-WS_1-2015-07-01.csv.gz", func(head, row []string, m *minute) {
		m.ghi, m.dni = number(row[column(head, "Pyra1_Wm2_Avg")]), number(row[column(head, "Pyrh1_Wm2_Avg")])
		m.dhi = number(row[column(head, "Pyrad1_Wm2_Avg")])
		m.air, m.wind = number(row[column(head, "AirTemp_C_Avg")]), number(row[column(head, "WindSpeedAve_ms")])
	})
	read("onemin-WS_2-2015-07-01.csv.gz", func(head, row []string, m *minute) { m.back = number(row[column(head, "RTD_C_Avg_13")]) })
	read("ivcurves-Ground-108-2015-07-01.csv.gz", func(head, row []string, m *minute) {
		sum, n, most, points := 0.0, 0.0, 0.0, 0
		for k := 1; k < len(row); k++ {
			v, i := number(head[k]), number(row[k])
			if !(i >= 0) {
				continue
			}
			points++
			if v > 3 && v < 14 { // the flat part: the mean is the short-circuit current less 0.2 % through the shunt
				sum, n = sum+i, n+1
			}
			if v*i > most {
				most, m.vmp = v*i, v
			}
		}
		if points > 50 && n > 10 {
			m.isc, m.pmp = sum/n, most
		}
	})
	return day
}

// daySheet is the sheet of the module of that day.
var daySheet = Datasheet{VocV: 37, IscA: 8.6, VmpV: 30, ImpA: 7.84, Alpha: 0.00053, Beta: -0.00351, Gamma: -0.00485, Cells: 60}

// From the measured short-circuit current and module temperature to the greatest power, by a module known from its sheet alone.
func TestMeasured_moduleFromCurrent(t *testing.T) {
	f, err := Fit(daySheet)
	if err != nil {
		t.Fatal(err)
	}
	rated := f.Module.Rated().P
	n, squares, volts := 0.0, 0.0, 0.0
	for _, m := range oneDay(t) {
		if !(m.isc > 0.2 && m.back > -40) {
			continue
		}
		light := 1000 * m.isc / (daySheet.IscA * (1 + daySheet.Alpha*(m.back-25)))
		top := f.Module.At(light, m.back).MaxPower()
		n++
		squares += (top.P - m.pmp) * (top.P - m.pmp)
		volts += (top.V - m.vmp) * (top.V - m.vmp)
	}
	if n < 600 {
		t.Fatalf("%g curves, wanted a day of them", n)
	}
	off := math.Sqrt(squares/n) / rated
	t.Logf("%g curves: power %.2f %% of rated RMSE, voltage %.2f %% of Vmp", n, 100*off, 100*math.Sqrt(volts/n)/daySheet.VmpV)
	near.Within(t, "RMSE of power as a share of rated", off, 0, 0.015, "band of the measured data")
	near.Within(t, "RMSE of voltage as a share of Vmp", math.Sqrt(volts/n)/daySheet.VmpV, 0, 0.03, "ours; points of the curve are 0.34 V apart, and the top is flat")
}

// The same day from the horizontal components of light, air and wind: sun position, Perez, glass, Faiman, module.
func TestMeasured_moduleWholeChain(t *testing.T) {
	f, err := Fit(daySheet)
	if err != nil {
		t.Fatal(err)
	}
	day := oneDay(t)
	place := sun.Place{Latitude: 39.137, Longitude: -77.219, Elevation: 138}
	g, err := sun.Track(place.Observer(), sun.Steps{Start: time.Date(2015, 7, 1, 0, 0, 0, 0, time.FixedZone("", -5*3600)), Step: time.Minute,
		Count: 1440}, sun.Extra{Constant: sun.SolarConstantASTM})
	if err != nil {
		t.Fatal(err)
	}
	plane, err := g.OnPlane(sun.Plane{Tilt: 20, Azimuth: 180, Albedo: 0.2})
	if err != nil {
		t.Fatal(err)
	}
	light, parts := sun.NewLight(1440), sun.NewPlaneLight(1440)
	total, effective, cell, power := make([]float64, 1440), make([]float64, 1440), make([]float64, 1440), make([]float64, 1440)
	air, wind := make([]float64, 1440), make([]float64, 1440)
	for k, m := range day {
		light.GHI[k], light.DNI[k], light.DHI[k] = max(m.ghi, 0), max(m.dni, 0), max(m.dhi, 0)
		air[k], wind[k] = m.air, m.wind
	}
	if err := plane.Transpose(parts, light, sun.Perez); err != nil {
		t.Fatal(err)
	}
	glass, err := sun.NewPhysical(sun.PlainGlass)
	if err != nil {
		t.Fatal(err)
	}
	for k := range total {
		total[k] = parts.Beam[k] + parts.Sky[k] + parts.Ground[k]
	}
	if err := plane.Effective(effective, parts, &glass); err != nil {
		t.Fatal(err)
	}
	model, _, err := Raised.Model()
	if err != nil {
		t.Fatal(err)
	}
	if err := CellColumn(cell, total, air, wind, model); err != nil {
		t.Fatal(err)
	}
	if err := f.Module.PowerColumn(power, effective, cell); err != nil {
		t.Fatal(err)
	}
	// Hours of the curves that were taken; and quarters of an hour of temperature in daylight.
	var hour [24]struct{ n, model, real float64 }
	var quarter [96]struct{ n, model, real float64 }
	for k, m := range day {
		if m.pmp > 0 {
			h := &hour[k/60]
			h.n, h.model, h.real = h.n+1, h.model+power[k], h.real+m.pmp
		}
		if total[k] > 50 && m.back > -40 {
			q := &quarter[k/15]
			q.n, q.model, q.real = q.n+1, q.model+cell[k], q.real+m.back
		}
	}
	n, squares, modelled, real := 0.0, 0.0, 0.0, 0.0
	for _, h := range hour {
		if h.n < 30 {
			continue
		}
		d := (h.model - h.real) / h.n
		n, squares = n+1, squares+d*d
		modelled, real = modelled+h.model, real+h.real
	}
	if n < 10 {
		t.Fatalf("%g hours, wanted a day of them", n)
	}
	off := math.Sqrt(squares/n) / f.Module.Rated().P
	warm, warms := 0.0, 0.0
	for _, q := range quarter {
		if q.n < 10 {
			continue
		}
		d := (q.model - q.real) / q.n
		warm, warms = warm+1, warms+d*d
	}
	if warm < 40 {
		t.Fatalf("%g quarters of an hour, wanted a day of them", warm)
	}
	t.Logf("%g hours: %.2f %% of rated RMSE, day %+.2f %%; temperature %.2f K RMSE over %g quarters", n, 100*off, 100*(modelled/real-1),
		math.Sqrt(warms/warm), warm)
	near.Within(t, "hourly RMSE as a share of rated", off, 0, 0.035, "band of the measured data")
	near.Abs(t, "energy of the day", modelled/real, 1, 0.06, "band of the measured data; the reference came out 2.9 % above")
	near.Within(t, "temperature RMSE over quarters of an hour [K]", math.Sqrt(warms/warm), 0, 3, "band of the measured data")
}

// Eight modules in series over 103 days, from plane irradiance and air temperature, after one scale factor for all of it.
func TestMeasured_string103Days(t *testing.T) {
	f, err := Fit(Datasheet{PowerW: 230, VocV: 37, IscA: 8.26, VmpV: 29.8, ImpA: 7.72, Alpha: 0.0005, Beta: -0.0032, Gamma: -0.0043, Cells: 60})
	if err != nil {
		t.Fatal(err)
	}
	a, err := NewArray(ArrayParams{Module: f.Module, InSeries: 8, Strings: 1, Substrings: 3, DropV: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	var seconds, light, power, volts, air []float64
	lines := bufio.NewScanner(measured(t, "string_103_days", "string_15min.txt.gz"))
	for lines.Scan() {
		words := strings.Fields(lines.Text())
		if len(words) != 10 || strings.HasPrefix(words[0], "#") {
			continue
		}
		seconds = append(seconds, number(words[0]))
		light, power, volts, air = append(light, number(words[1])), append(power, number(words[5])), append(volts, number(words[6])), append(air, number(words[8])-273.15)
	}
	if len(light) != 5994 {
		t.Fatalf("%d rows, wanted 5994", len(light))
	}
	cell, got := make([]float64, len(light)), make([]float64, len(light))
	if err := CellColumn(cell, light, air, air, Ross{K: 1.0 / 25}); err != nil {
		t.Fatal(err)
	}
	if err := a.PowerColumn(got, light, cell); err != nil {
		t.Fatal(err)
	}
	type sum struct{ model, real float64 }
	days := map[int]sum{}
	var all sum
	for k := range got {
		// A row holds for the time to the next; longer gaps are not filled.
		step := 900.0
		if k+1 < len(seconds) {
			step = min(seconds[k+1]-seconds[k], 900)
		}
		d := days[int(seconds[k]/86400)]
		d.model, d.real = d.model+got[k]*step, d.real+power[k]*step
		all.model, all.real = all.model+got[k]*step, all.real+power[k]*step
		days[int(seconds[k]/86400)] = d
	}
	scale := all.real / all.model
	n, squares := 0.0, 0.0
	for _, d := range days {
		if d.real <= 0 {
			continue
		}
		n, squares = n+1, squares+(d.model*scale-d.real)*(d.model*scale-d.real)
	}
	if n < 60 {
		t.Fatalf("%g days", n)
	}
	daily := math.Sqrt(squares/n) / (all.real / n)
	m, offs := 0.0, 0.0
	for k := range got {
		if power[k] < 100 || volts[k] < 100 { // below a twentieth of rated the inverter does not track well
			continue
		}
		off := a.At(light[k]*scale, cell[k]).MaxPower().V/volts[k] - 1
		m, offs = m+1, offs+off*off
	}
	if m < 1000 {
		t.Fatalf("%g rows at work", m)
	}
	voltage := math.Sqrt(offs / m)
	t.Logf("scale %.3f; %g days: energy %.2f %% of a mean day RMSE; %g rows: voltage %.2f %% RMSE", scale, n, 100*daily, m, 100*voltage)
	near.Within(t, "daily energy RMSE", daily, 0, 0.05, "band of the measured data; the reference reached 2.7 %")
	near.Within(t, "working voltage RMSE", voltage, 0, 0.06, "band of the measured data")
}
