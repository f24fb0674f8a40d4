package weather

import (
	"math"
	"strconv"
	"strings"
)

// The five quantities kept of each record, in the order of draftRow.v.
const (
	colGHI = iota
	colDNI
	colDHI
	colAir
	colWind
	columnCount
)

// columns holds name, unit and physical limits of the five quantities. Values outside the limits are refused. The limits are wide on
// purpose: they catch a shifted column or a wrong unit, not an odd day. Irradiances: broken cloud lifts global irradiance above the
// extraterrestrial 1415 W/m² for minutes, never the beam. Temperatures: the records of [WMO-EXTREMES] are -89.2 and 56.7 °C.
var columns = [columnCount]struct {
	name, unit string
	low, high  float64
}{
	colGHI:  {"global horizontal irradiance", "W/m2", 0, 1700},
	colDNI:  {"direct normal irradiance", "W/m2", 0, 1500},
	colDHI:  {"diffuse horizontal irradiance", "W/m2", 0, 1200},
	colAir:  {"air temperature", "C", -90, 60},
	colWind: {"wind speed", "m/s", 0, 100},
}

// zeroOffset is how far below zero an irradiance may lie and still be taken for the night offset of a pyranometer [W/m²]; common
// practice, no source.
const zeroOffset = -20

// number reads one value of column c; missing tells a code for a missing value. A missing value comes back as NaN. Faults are added
// to the draft.
func (d *draft) number(line, c int, text string, missing func(float64) bool) float64 {
	text = strings.TrimSpace(text)
	col := &columns[c]
	if text == "" {
		return math.NaN()
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		d.faults.add(line, "%s: %q is not a number", col.name, clip(text))
		return math.NaN()
	}
	if missing(v) {
		return math.NaN()
	}
	return d.within(line, c, v)
}

// within returns v when it is within the limits of column c, zero for the small negative irradiances that instruments show at night,
// and NaN with a fault otherwise.
func (d *draft) within(line, c int, v float64) float64 {
	col := &columns[c]
	switch {
	case v >= col.low && v <= col.high:
		return v + 0 // turns a negative zero into zero
	case c <= colDHI && v < 0 && v >= zeroOffset:
		d.belowZero++
		return 0
	}
	d.faults.add(line, "%s %g %s outside %g to %g", col.name, v, col.unit, col.low, col.high)
	return math.NaN()
}

// integer reads a whole number between low and high.
func (d *draft) integer(line int, what, text string, low, high int) (int, bool) {
	text = strings.TrimSpace(text)
	v, err := strconv.Atoi(text)
	if err != nil {
		d.faults.add(line, "%s: %q is not a whole number", what, clip(text))
		return 0, false
	}
	if v < low || v > high {
		d.faults.add(line, "%s %d outside %d to %d", what, v, low, high)
		return 0, false
	}
	return v, true
}

// real reads a number between low and high.
func (d *draft) real(line int, what, text string, low, high float64) float64 {
	text = strings.TrimSpace(text)
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		d.faults.add(line, "%s: %q is not a number", what, clip(text))
		return 0
	}
	if v < low || v > high {
		d.faults.add(line, "%s %g outside %g to %g", what, v, low, high)
		return 0
	}
	return v
}

// place reads and checks the figures of a site.
func (d *draft) place(line int, lat, lon, zone, elev string) {
	d.site.Latitude = d.real(line, "latitude", lat, -90, 90)
	d.site.Longitude = d.real(line, "longitude", lon, -180, 180)
	d.site.UTCOffsetH = d.real(line, "time zone", zone, -14, 14)
	d.site.ElevationM = d.real(line, "elevation", elev, -450, 6000)
	d.localOffsetH = d.site.UTCOffsetH
}

// clip keeps messages short when a file is not what it seemed.
func clip(s string) string {
	if len(s) > 24 {
		return s[:24] + "..."
	}
	return s
}

func never(float64) bool { return false }
