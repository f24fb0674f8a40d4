package weather

import (
	"fmt"
	"math"
	"strings"
	"time"
)

// tableHeader is the header line of a plain table of intervals.
var tableNames = []string{"interval_start_local", "duration_h", "sun_time_utc", "ghi_w_m2", "dni_w_m2", "dhi_w_m2", "air_temp_c", "wind_m_s"}

// parseTable reads a plain table of intervals: start in local standard time, length in hours, the instant at which the sun is to be
// taken, and the five values. It carries no site.
func parseTable(d *draft, t text) {
	d.format = Table
	d.label = "interval start, local standard time; the instant for the sun is given"
	if d.given == nil {
		d.noSite = true
		return
	}
	d.site = *d.given
	d.localOffsetH = d.site.UTCOffsetH
	d.checkGiven()
	header := fields(t.lines[0])
	at := find(header, tableNames...)
	for i, j := range at {
		if j < 0 {
			d.faults.add(1, "header has no column %q", tableNames[i])
		}
	}
	if d.faults.any() {
		return
	}
	d.rows = make([]draftRow, 0, len(t.lines))
	for i := 1; i < len(t.lines); i++ {
		if strings.TrimSpace(t.lines[i]) == "" {
			continue
		}
		line, f := i+1, fields(t.lines[i])
		if len(f) != len(header) {
			d.faults.add(line, "%d columns, the header has %d", len(f), len(header))
			continue
		}
		if r, ok := d.tableRow(line, f, at); ok {
			d.rows = append(d.rows, r)
		}
	}
}

// tableRow reads one line of a plain table.
func (d *draft) tableRow(line int, f []string, at []int) (draftRow, bool) {
	start, err := time.Parse("2006-01-02T15:04:05", strings.TrimSpace(f[at[0]]))
	if err != nil {
		d.faults.add(line, "interval start %q is not YYYY-MM-DDTHH:MM:SS", clip(f[at[0]]))
		return draftRow{}, false
	}
	sunTime, err := time.Parse(time.RFC3339Nano, strings.TrimSpace(f[at[2]]))
	if err != nil {
		d.faults.add(line, "sun time %q is not an ISO 8601 instant", clip(f[at[2]]))
		return draftRow{}, false
	}
	hours := d.real(line, "duration", f[at[1]], 1.0/60, 1)
	step := int(math.Round(hours * 60))
	if step == 0 {
		return draftRow{}, false
	}
	if d.stepMin == 0 {
		if 60%step != 0 || math.Abs(hours*60-float64(step)) > 1e-6 {
			d.faults.add(line, "duration %g h is not a whole part of an hour in minutes", hours)
			return draftRow{}, false
		}
		d.stepMin = step
	}
	if step != d.stepMin {
		d.faults.add(line, "duration %d min, the first record has %d min", step, d.stepMin)
		return draftRow{}, false
	}
	utc := start.Add(-time.Duration(d.site.UTCOffsetH * float64(time.Hour)))
	if lag := sunTime.Sub(utc); lag < -time.Hour || lag > time.Duration(step)*time.Minute+time.Hour {
		d.faults.add(line, "sun time is %.3g h after the start of its interval with a clock at UTC%+g h: outside -1 to %.3g", lag.Hours(), d.site.UTCOffsetH, float64(step)/60+1)
		return draftRow{}, false
	}
	r := draftRow{line: line, year: start.Year(), month: int(start.Month()), day: start.Day(), minute: start.Hour()*60 + start.Minute(), sun: sunTime}
	for c := range columnCount {
		r.v[c] = d.number(line, c, f[at[3+c]], never)
	}
	return r, true
}

// checkGiven refuses a site that cannot be one.
func (d *draft) checkGiven() {
	s := d.given
	d.place(0, fmt.Sprint(s.Latitude), fmt.Sprint(s.Longitude), fmt.Sprint(s.UTCOffsetH), fmt.Sprint(s.ElevationM))
}
