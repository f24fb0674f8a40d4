package weather

import (
	"fmt"
	"strings"
)

// Positions in a TMY2 line, counted from 0, end excluded: [TMY2] tables 3-1 and 3-2.
var tmy2Fields = [columnCount]struct {
	from, to int
	scale    float64 // what one unit of the file is worth
	missing  float64
}{
	colGHI:  {17, 21, 1, 9999},
	colDNI:  {23, 27, 1, 9999},
	colDHI:  {29, 33, 1, 9999},
	colAir:  {67, 71, 0.1, 9999},
	colWind: {95, 98, 0.1, 999},
}

const (
	tmy2Header = 59 // length of a header line
	tmy2Record = 98 // shortest record that holds the wind speed
)

// looksLikeTMY2 says whether two lines are a TMY2 header and record.
func looksLikeTMY2(head, first string) bool {
	if len(head) < tmy2Header-3 || len(first) < tmy2Record {
		return false
	}
	ns, ew := head[37], head[45]
	if ns != 'N' && ns != 'S' || ew != 'W' && ew != 'E' {
		return false
	}
	return strings.Trim(first[1:21], "0123456789") == ""
}

// parseTMY2 reads the fixed-width TMY2 format. Hours run from 1 to 24 in local standard time and name the end of the hour.
func parseTMY2(d *draft, t text) {
	d.format = TMY2
	d.label = "hour 1..24, interval end, local standard time"
	d.stepMin = 60
	d.sunOffsetMin = 30
	d.typical = true
	d.tmy2Site(t.lines[0])
	d.rows = make([]draftRow, 0, len(t.lines))
	for i := 1; i < len(t.lines); i++ {
		s := t.lines[i]
		if strings.TrimSpace(s) == "" {
			continue
		}
		line := i + 1
		if len(s) < tmy2Record {
			d.faults.add(line, "%d characters below %d", len(s), tmy2Record)
			continue
		}
		r := draftRow{line: line}
		if !d.date(&r, "19"+s[1:3], s[3:5], s[5:7]) {
			continue
		}
		hour, ok := d.integer(line, "hour", s[7:9], 1, 24)
		if !ok {
			continue
		}
		r.minute = (hour - 1) * 60
		for c, f := range tmy2Fields {
			v := d.real(line, columns[c].name, s[f.from:f.to], -9999, 9999)
			if v == f.missing {
				r.v[c] = nan
				continue
			}
			r.v[c] = d.within(line, c, v*f.scale)
		}
		d.rows = append(d.rows, r)
	}
}

// tmy2Site reads the header: station, city, state, zone, latitude and longitude in degrees and minutes, elevation.
func (d *draft) tmy2Site(s string) {
	for len(s) < tmy2Header {
		s += " "
	}
	d.site.Name = joinName(s[7:29], s[30:32])
	degrees := func(what, deg, min string, high float64, negative bool) string {
		v := d.real(1, what, deg, 0, high) + d.real(1, what+" minutes", min, 0, 59)/60
		if negative {
			v = -v
		}
		return fmt.Sprint(v)
	}
	lat := degrees("latitude", s[39:41], s[42:44], 90, s[37] == 'S')
	lon := degrees("longitude", s[47:50], s[51:53], 180, s[45] == 'W')
	d.place(1, lat, lon, s[33:36], s[55:59])
}
