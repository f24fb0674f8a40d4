package weather

import (
	"fmt"
	"strings"
)

// parseJRC reads the typical year of the JRC's photovoltaic service as CSV: site, the year each month was taken from, a table, a
// legend. Stamps are hours of UTC. An irradiance is the value at the stamp plus the offset given in the header; older files give
// none, and then it is taken at the stamp: [JRC-TMY].
func parseJRC(d *draft, t text) {
	d.format = JRC
	d.stepMin = 60
	d.typical = true
	at := d.jrcHeader(t)
	if at == 0 {
		return
	}
	header := fields(t.lines[at-1])
	col := find(header, "time(UTC)", "G(h)", "Gb(n)", "Gd(h)", "T2m", "WS10m")
	for i, j := range col {
		if j < 0 {
			d.faults.add(at, "header has no column %q", []string{"time(UTC)", "G(h)", "Gb(n)", "Gd(h)", "T2m", "WS10m"}[i])
		}
	}
	if d.faults.any() {
		return
	}
	d.rows = make([]draftRow, 0, len(t.lines))
	for i := at; i < len(t.lines); i++ {
		s := t.lines[i]
		if strings.TrimSpace(s) == "" {
			break // the legend follows
		}
		line, f := i+1, fields(s)
		if len(f) != len(header) {
			d.faults.add(line, "%d columns, the header has %d", len(f), len(header))
			continue
		}
		stamp := strings.TrimSpace(f[col[0]])
		if len(stamp) != 13 || stamp[8] != ':' {
			d.faults.add(line, "time %q is not YYYYMMDD:HHMM", clip(stamp))
			continue
		}
		r := draftRow{line: line}
		if !d.date(&r, stamp[0:4], stamp[4:6], stamp[6:8]) {
			continue
		}
		hour, ok1 := d.integer(line, "hour", stamp[9:11], 0, 23)
		minute, ok2 := d.integer(line, "minute", stamp[11:13], 0, 59)
		if !ok1 || !ok2 {
			continue
		}
		r.minute = hour * 60
		if len(d.rows) == 0 && minute > 0 {
			d.sunOffsetMin += float64(minute)
			d.stampMin = minute
		}
		if minute != d.stampMin {
			d.faults.add(line, "minute %d, the first record has %d", minute, d.stampMin)
			continue
		}
		for c := range columnCount {
			r.v[c] = d.number(line, c, f[col[1+c]], never)
		}
		d.rows = append(d.rows, r)
	}
}

// jrcHeader reads the lines before the table and returns the index of its first record, or 0 when the header is not in order.
func (d *draft) jrcHeader(t text) int {
	var lat, lon, elev string
	offset := false
	for i := 0; i < len(t.lines) && i < 40; i++ {
		s := t.lines[i]
		if strings.HasPrefix(s, "time(UTC)") {
			if lat == "" || lon == "" || elev == "" {
				d.faults.add(i+1, "latitude, longitude or elevation missing before the table")
				return 0
			}
			d.place(1, lat, lon, "0", elev)
			d.site.Name = fmt.Sprintf("JRC cell %s, %s", strings.TrimSpace(lat), strings.TrimSpace(lon))
			d.localOffsetH = zoneByLongitude(d.site.Longitude)
			d.notes = append(d.notes, fmt.Sprintf("stamps are UTC; the local clock is taken from the longitude as UTC%+g", d.localOffsetH))
			d.label = fmt.Sprintf("instant, UTC; irradiances %.4g min after the stamp", d.sunOffsetMin)
			if !offset {
				d.notes = append(d.notes, "the header gives no irradiance time offset: irradiances are taken at their stamps")
			}
			return i + 1
		}
		name, value, ok := strings.Cut(s, ":")
		if !ok {
			continue // the table of months and years
		}
		switch {
		case strings.HasPrefix(name, "Latitude"):
			lat = value
		case strings.HasPrefix(name, "Longitude"):
			lon = value
		case strings.HasPrefix(name, "Elevation"):
			elev = value
		case strings.HasPrefix(name, "Irradiance Time Offset"):
			d.sunOffsetMin = 60 * d.real(i+1, "irradiance time offset", value, -1, 1)
			offset = true
		}
	}
	d.faults.add(0, "no table with a column time(UTC) in the first 40 lines")
	return 0
}
