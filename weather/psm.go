package weather

import (
	"fmt"
	"math"
	"strings"
)

// psmNames are the names of the columns read; their order in the file is free: [NSRDB].
var psmNames = []string{"Year", "Month", "Day", "Hour", "Minute", "GHI", "DNI", "DHI", "Temperature", "Wind Speed"}

// psmMissing tells the codes for a missing value.
func psmMissing(v float64) bool { return v <= -999 || v >= 9999 }

// parsePSM reads the NSRDB format: two lines of names and values about the file, then a table. A stamp is an instant, in the zone the
// file's second line gives (local standard time, or UTC when it was asked for so), and the irradiances are those of that instant.
// Where stamps fall on the middle of a step, the record stands for the step around it; where they fall on its start, for the step
// that follows.
func parsePSM(d *draft, t text) {
	d.format = PSM
	if len(t.lines) < 3 {
		d.faults.add(0, "%d lines below 3: names, values and column names", len(t.lines))
		return
	}
	d.psmSite(fields(t.lines[0]), fields(t.lines[1]))
	header := fields(t.lines[2])
	at := find(header, psmNames...)
	for i, j := range at {
		if j < 0 {
			d.faults.add(3, "header has no column %q", psmNames[i])
		}
	}
	if d.faults.any() {
		return
	}
	d.rows = make([]draftRow, 0, len(t.lines))
	for i := 3; i < len(t.lines); i++ {
		if strings.TrimSpace(t.lines[i]) == "" {
			continue
		}
		line, f := i+1, fields(t.lines[i])
		if len(f) != len(header) {
			d.faults.add(line, "%d columns, the header has %d", len(f), len(header))
			continue
		}
		r := draftRow{line: line}
		if !d.date(&r, f[at[0]], f[at[1]], f[at[2]]) {
			continue
		}
		hour, ok1 := d.integer(line, "hour", f[at[3]], 0, 23)
		minute, ok2 := d.integer(line, "minute", f[at[4]], 0, 59)
		if !ok1 || !ok2 {
			continue
		}
		r.minute = hour*60 + minute
		for c := range columnCount {
			r.v[c] = d.number(line, c, f[at[5+c]], psmMissing)
		}
		d.rows = append(d.rows, r)
	}
	d.psmStamps()
}

// psmStamps finds the step and what a stamp means from the first two records, and turns stamps into starts of intervals.
func (d *draft) psmStamps() {
	if len(d.rows) < 2 {
		return
	}
	a, b := d.rows[0], d.rows[1]
	step := b.minute - a.minute
	if b.day != a.day || step <= 0 || 60%step != 0 {
		d.faults.add(b.line, "step of %d minutes from the first record to the second does not divide an hour", step)
		return
	}
	d.stepMin = step
	clock := "local standard time"
	if d.site.UTCOffsetH == 0 && d.localOffsetH != 0 {
		clock = "UTC"
	}
	switch past := a.minute % step; {
	case past == 0:
		d.label = fmt.Sprintf("instant, %s; each record represents the %d min starting at its stamp", clock, step)
	case 2*past == step:
		d.label = fmt.Sprintf("instant, %s; each record represents the %d min around its stamp", clock, step)
		d.sunOffsetMin = float64(step) / 2
		for i := range d.rows {
			d.rows[i].minute -= step / 2
		}
	default:
		d.faults.add(a.line, "first stamp %d minutes past is neither start nor middle of a step of %d minutes", past, step)
	}
}

// psmSite reads the two lines about the file.
func (d *draft) psmSite(names, values []string) {
	get := func(name string) string {
		if i := find(names, name)[0]; i >= 0 && i < len(values) {
			return values[i]
		}
		d.faults.add(2, "no value for %q", name)
		return "0"
	}
	optional := func(name string) string {
		if i := find(names, name)[0]; i >= 0 && i < len(values) {
			return values[i]
		}
		return ""
	}
	d.site.Name = joinName(optional("City"), optional("State"), optional("Country"))
	if d.site.Name == "" {
		d.site.Name = strings.TrimSpace("NSRDB cell " + optional("Location ID"))
	}
	d.place(2, get("Latitude"), get("Longitude"), get("Time Zone"), get("Elevation"))
	if local := optional("Local Time Zone"); local != "" {
		d.localOffsetH = d.real(2, "local time zone", local, -14, 14)
	}
	if d.site.UTCOffsetH == 0 && d.localOffsetH == 0 && math.Abs(d.site.Longitude) > 30 {
		d.localOffsetH = zoneByLongitude(d.site.Longitude)
		d.notes = append(d.notes, fmt.Sprintf("the file gives time zone 0 at longitude %.2f: stamps are taken as UTC and the local clock as UTC%+g", d.site.Longitude, d.localOffsetH))
	}
}

// zoneByLongitude returns the whole hour from UTC of the nominal zone at a longitude; a real zone may differ by an hour or two.
func zoneByLongitude(lonDeg float64) float64 { return math.Round(lonDeg/15) + 0 }
