package weather

import (
	"fmt"
	"strings"
)

// Columns of an EPW data line, counted from 0, and the fewest columns a line must have: [EPW], data dictionary.
const (
	epwYear, epwMonth, epwDay, epwHour, epwMinute = 0, 1, 2, 3, 4
	epwAir, epwGHI, epwDNI, epwDHI, epwWind       = 6, 13, 14, 15, 21
	epwColumns                                    = 22
)

// parseEPW reads the EnergyPlus weather format. Hours run from 1 to 24 in local standard time and name the end of the interval; the
// header says how many records an hour has.
func parseEPW(d *draft, t text) {
	d.format = EPW
	d.label = "hour 1..24, interval end, local standard time"
	at, perHour := d.epwHeader(t)
	if perHour == 0 {
		return
	}
	d.stepMin = 60 / perHour
	d.sunOffsetMin = float64(d.stepMin) / 2
	d.rows = make([]draftRow, 0, len(t.lines))
	lastHour, k := -1, 0
	for i := at; i < len(t.lines); i++ {
		if strings.TrimSpace(t.lines[i]) == "" {
			continue
		}
		line, f := i+1, fields(t.lines[i])
		if len(f) < epwColumns {
			d.faults.add(line, "%d columns below %d", len(f), epwColumns)
			continue
		}
		r := draftRow{line: line}
		if !d.date(&r, f[epwYear], f[epwMonth], f[epwDay]) {
			continue
		}
		hour, ok := d.integer(line, "hour", f[epwHour], 1, 24)
		if !ok {
			continue
		}
		if hour == lastHour {
			k++
		} else {
			lastHour, k = hour, 0
		}
		if k >= perHour {
			d.faults.add(line, "more than %d records in hour %d", perHour, hour)
			continue
		}
		r.minute = (hour-1)*60 + k*d.stepMin
		for c, at := range [columnCount]int{epwGHI, epwDNI, epwDHI, epwAir, epwWind} {
			r.v[c] = d.number(line, c, f[at], epwMissing[c])
		}
		d.rows = append(d.rows, r)
	}
}

// epwMissing tells the codes for missing values of each column: 9999 for irradiances, 99.9 for temperature and 999 for wind.
var epwMissing = [columnCount]func(float64) bool{
	colGHI:  func(v float64) bool { return v >= 9999 },
	colDNI:  func(v float64) bool { return v >= 9999 },
	colDHI:  func(v float64) bool { return v >= 9999 },
	colAir:  func(v float64) bool { return v >= 99.9 },
	colWind: func(v float64) bool { return v >= 999 },
}

// epwHeader reads the header and returns the index of the first data line and the number of records in an hour, or 0 when it is not
// in order.
func (d *draft) epwHeader(t text) (at, perHour int) {
	f := fields(t.lines[0])
	if len(f) < 10 {
		d.faults.add(1, "LOCATION has %d fields, below 10", len(f))
		return 0, 0
	}
	d.site.Name = joinName(f[1], f[2], f[3])
	d.place(1, f[6], f[7], f[8], f[9])
	source := strings.TrimSpace(f[4])
	if source != "" {
		d.notes = append(d.notes, fmt.Sprintf("source given in the file: %s", clip(source)))
	}
	d.typical = typicalSource(source)
	for i := 1; i < len(t.lines) && i < 40; i++ {
		if !strings.HasPrefix(t.lines[i], "DATA PERIODS") {
			continue
		}
		p := fields(t.lines[i])
		if len(p) < 3 {
			d.faults.add(i+1, "DATA PERIODS has %d fields, below 3", len(p))
			return 0, 0
		}
		if n, ok := d.integer(i+1, "number of data periods", p[1], 1, 366); !ok {
			return 0, 0
		} else if n != 1 {
			d.faults.add(i+1, "%d data periods, only 1 is read", n)
			return 0, 0
		}
		n, ok := d.integer(i+1, "records in an hour", p[2], 1, 60)
		if !ok {
			return 0, 0
		}
		if 60%n != 0 {
			d.faults.add(i+1, "%d records in an hour do not divide 60 minutes", n)
			return 0, 0
		}
		return i + 1, n
	}
	d.faults.add(0, "header has no DATA PERIODS line")
	return 0, 0
}

// typicalSource says whether the source named in a header is a kind of typical year.
func typicalSource(source string) bool {
	s := strings.ToUpper(source)
	for _, kind := range []string{"TMY", "CWEC", "IWEC", "TRY", "RMY", "WYEC", "CTZ", "ISHRAE", "CSWD", "SWEC", "IMGW", "INETI"} {
		if strings.Contains(s, kind) {
			return true
		}
	}
	return false
}

// joinName joins the parts of a place's name that say something.
func joinName(parts ...string) string {
	var kept []string
	for _, p := range parts {
		if p = strings.Join(strings.Fields(p), " "); p != "" && p != "-" {
			kept = append(kept, p)
		}
	}
	return strings.Join(kept, ", ")
}
