package weather

import (
	"strings"
)

// tmy3Names are the header's names of the five columns: [TMY3] table 1-3.
var tmy3Names = []string{"GHI (W/m^2)", "DNI (W/m^2)", "DHI (W/m^2)", "Dry-bulb (C)", "Wspd (m/s)"}

// parseTMY3 reads the comma-separated TMY3 format. Stamps run from 01:00 to 24:00 in local standard time and name the end of the
// hour. Missing values are -9900.
func parseTMY3(d *draft, t text) {
	d.format = TMY3
	d.label = "interval end, local standard time"
	d.stepMin = 60
	d.sunOffsetMin = 30
	f := fields(t.lines[0])
	if len(f) < 7 {
		d.faults.add(1, "station line has %d fields, below 7", len(f))
		return
	}
	d.site.Name = joinName(f[1], f[2])
	d.place(1, f[4], f[5], f[3], f[6])
	header := fields(t.lines[1])
	at := find(header, append([]string{"Date (MM/DD/YYYY)", "Time (HH:MM)"}, tmy3Names...)...)
	for i, j := range at {
		if j < 0 {
			d.faults.add(2, "header has no column %q", append([]string{"Date (MM/DD/YYYY)", "Time (HH:MM)"}, tmy3Names...)[i])
		}
	}
	if d.faults.any() {
		return
	}
	d.rows = make([]draftRow, 0, len(t.lines))
	for i := 2; i < len(t.lines); i++ {
		if strings.TrimSpace(t.lines[i]) == "" {
			continue
		}
		line, f := i+1, fields(t.lines[i])
		if len(f) != len(header) {
			d.faults.add(line, "%d columns, the header has %d", len(f), len(header))
			continue
		}
		r := draftRow{line: line}
		mdy := strings.Split(f[at[0]], "/")
		if len(mdy) != 3 {
			d.faults.add(line, "date %q is not MM/DD/YYYY", clip(f[at[0]]))
			continue
		}
		if !d.date(&r, mdy[2], mdy[0], mdy[1]) {
			continue
		}
		end, ok := d.clock(line, f[at[1]])
		if !ok {
			continue
		}
		r.minute = end - d.stepMin
		r.borrow()
		for c := range columnCount {
			r.v[c] = d.number(line, c, f[at[2+c]], func(v float64) bool { return v == -9900 })
		}
		d.rows = append(d.rows, r)
	}
}

// clock reads "HH:MM" from 00:00 to 24:00 as minutes of the day.
func (d *draft) clock(line int, s string) (int, bool) {
	h, m, ok := strings.Cut(s, ":")
	if !ok {
		d.faults.add(line, "time %q is not HH:MM", clip(s))
		return 0, false
	}
	hour, ok1 := d.integer(line, "hour", h, 0, 24)
	minute, ok2 := d.integer(line, "minute", m, 0, 59)
	if !ok1 || !ok2 {
		return 0, false
	}
	if hour == 24 && minute > 0 {
		d.faults.add(line, "time %q is past 24:00", clip(s))
		return 0, false
	}
	return hour*60 + minute, true
}
