package weather

import (
	"fmt"
	"math"
	"slices"
	"time"
)

var nan = math.NaN()

// draft is a file being read: what its parser found, before it is checked as a whole.
type draft struct {
	given  *Site // the site given beside the file, if any
	noSite bool  // the file needs one and none was given

	format       Format
	label        string
	site         Site
	localOffsetH float64
	typical      bool // the file says, or its kind implies, that months come from several years
	stepMin      int
	sunOffsetMin float64 // from the start of a record to the instant for its sun
	stampMin     int     // minute past the hour of the first stamp, for formats that keep it constant
	rows         []draftRow
	belowZero    int // irradiances slightly below zero, set to zero
	notes        []string
	faults       Faults
}

// draftRow is one record as a parser found it.
type draftRow struct {
	line, year, month, day int
	minute                 int                  // start of the interval, minutes of the day in the file's clock
	sun                    time.Time            // the instant for the sun, where the file gives it
	v                      [columnCount]float64 // NaN where missing
}

// date reads and checks a calendar date.
func (d *draft) date(r *draftRow, year, month, day string) bool {
	y, ok1 := d.integer(r.line, "year", year, 1900, 2200)
	m, ok2 := d.integer(r.line, "month", month, 1, 12)
	if !ok1 || !ok2 {
		return false
	}
	n, ok := d.integer(r.line, "day", day, 1, daysIn(m, y))
	r.year, r.month, r.day = y, m, n
	return ok
}

// borrow moves a row whose start lies before midnight to the day before.
func (r *draftRow) borrow() {
	if r.minute >= 0 {
		return
	}
	t := time.Date(r.year, time.Month(r.month), r.day-1, 0, 0, 0, 0, time.UTC)
	r.year, r.month, r.day = t.Year(), int(t.Month()), t.Day()
	r.minute += 24 * 60
}

func leapYear(y int) bool { return y%4 == 0 && y%100 != 0 || y%400 == 0 }

// daysIn returns the number of days of a month.
func daysIn(month, year int) int {
	if month == 2 && leapYear(year) {
		return 29
	}
	return [...]int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}[month-1]
}

// dayOfYear returns the index of a date from 0 in a calendar with or without 29 February.
func dayOfYear(month, day int, leap bool) int {
	n := day - 1
	for m := 1; m < month; m++ {
		n += daysIn(m, 2001)
	}
	if leap && month > 2 {
		n++
	}
	return n
}

// year checks the draft as a whole and makes the Year of it.
func (d *draft) year() (Year, error) {
	d.faults.Format = d.format
	if len(d.rows) == 0 && !d.faults.any() {
		d.faults.add(0, "no records")
	}
	if d.faults.any() && len(d.rows) == 0 {
		return Year{}, &d.faults
	}
	leap := d.calendar()
	if d.stepMin > 0 {
		d.sequence(leap)
	} else if !d.faults.any() {
		d.faults.add(0, "%d records are too few to tell their step", len(d.rows))
	}
	if d.faults.any() {
		d.sortFaults()
		return Year{}, &d.faults
	}
	y := d.records(leap)
	if d.belowZero > 0 {
		y.Notes = append(y.Notes, fmt.Sprintf("%d irradiances between %d and 0 W/m2, as instruments show at night, set to 0", d.belowZero, zeroOffset))
	}
	d.fill(&y)
	if d.faults.any() {
		return Year{}, &d.faults
	}
	if note := closureNote(y); note != "" {
		y.Notes = append(y.Notes, note)
	}
	return y, nil
}

// calendar settles whether the year is a typical one, and its calendar: it returns whether 29 February is in it.
func (d *draft) calendar() (leap bool) {
	var years []int
	leapRows := 0
	for _, r := range d.rows {
		if !slices.Contains(years, r.year) {
			years = append(years, r.year)
		}
		if r.month == 2 && r.day == 29 {
			leapRows++
		}
	}
	slices.Sort(years)
	if len(years) > 1 && d.format != Table {
		d.typical = true
	}
	switch {
	case d.typical && len(years) > 1:
		d.notes = append(d.notes, fmt.Sprintf("typical year, stitched from months of %d years between %d and %d, relabelled %d", len(years), years[0], years[len(years)-1], LabelYear))
	case d.typical:
		d.notes = append(d.notes, fmt.Sprintf("typical year, relabelled %d; the file gives %d for every month", LabelYear, years[0]))
	case len(years) > 1:
		d.faults.add(d.rows[0].line, "records of %d different years, %d to %d", len(years), years[0], years[len(years)-1])
	}
	if d.typical && leapRows > 0 {
		d.rows = slices.DeleteFunc(d.rows, func(r draftRow) bool { return r.month == 2 && r.day == 29 })
		d.notes = append(d.notes, fmt.Sprintf("29 February left out (%d records): a typical year has 365 days", leapRows))
		leapRows = 0
	}
	if !d.typical && leapRows == 0 && leapYear(years[0]) {
		d.notes = append(d.notes, fmt.Sprintf("the file leaves out 29 February %d", years[0]))
	}
	return leapRows > 0
}

// sequence checks that records follow each other without gap or overlap from the first of the year to its last.
func (d *draft) sequence(leap bool) {
	perDay := 24 * 60 / d.stepMin
	total := 365 * perDay
	if leap {
		total += perDay
	}
	next := 0
	for _, r := range d.rows {
		if r.minute%d.stepMin != 0 {
			d.faults.add(r.line, "stamp at minute %d of the day does not fit a step of %d minutes", r.minute, d.stepMin)
			continue
		}
		at := dayOfYear(r.month, r.day, leap)*perDay + r.minute/d.stepMin
		switch {
		case at > next:
			d.faults.add(r.line, "%d records missing before this one: %s to %s", at-next, d.stamp(next, leap), d.stamp(at, leap))
		case at == next-1:
			d.faults.add(r.line, "record for %s a second time", d.stamp(at, leap))
		case at < next:
			d.faults.add(r.line, "record for %s out of order: %s was due", d.stamp(at, leap), d.stamp(next, leap))
		}
		next = max(next, at+1)
	}
	if next < total {
		d.faults.add(0, "the file ends at %s: %d of %d records missing", d.stamp(next, leap), total-next, total)
	}
}

// stamp words the start of the n-th record of the year.
func (d *draft) stamp(n int, leap bool) string {
	year := 2001
	if leap {
		year = 2000
	}
	return time.Date(year, 1, 1, 0, n*d.stepMin, 0, 0, time.UTC).Format("2 Jan 15:04")
}

// sortFaults puts faults in the order of their lines, those of the whole file last.
func (d *draft) sortFaults() {
	key := func(f Fault) int {
		if f.Line == 0 {
			return math.MaxInt
		}
		return f.Line
	}
	slices.SortStableFunc(d.faults.List, func(a, b Fault) int {
		switch ka, kb := key(a), key(b); {
		case ka < kb:
			return -1
		case ka > kb:
			return 1
		}
		return 0
	})
}

// records lays the rows out as records of the year.
func (d *draft) records(leap bool) Year {
	y := Year{
		Site: d.site, LocalOffsetH: d.localOffsetH, Format: d.format, Label: d.label, Step: time.Duration(d.stepMin) * time.Minute,
		Typical: d.typical, LeapDay: leap, Records: make([]Record, len(d.rows)), Notes: d.notes,
	}
	zone := y.Zone()
	toSun := time.Duration(math.Round(d.sunOffsetMin * float64(time.Minute)))
	for i, r := range d.rows {
		year := r.year
		if d.typical {
			year = LabelYear
		}
		start := time.Date(year, time.Month(r.month), r.day, 0, r.minute, 0, 0, zone)
		sunTime := start.Add(toSun).UTC()
		if !r.sun.IsZero() {
			sunTime = r.sun.UTC()
		}
		y.Records[i] = Record{
			Start: start, DurationH: float64(d.stepMin) / 60, SunTime: sunTime,
			GHI: r.v[colGHI], DNI: r.v[colDNI], DHI: r.v[colDHI], AirC: r.v[colAir], WindMS: r.v[colWind],
		}
	}
	return y
}

// Zone returns the fixed zone of the site's clock.
func (y Year) Zone() *time.Location {
	return time.FixedZone(fmt.Sprintf("UTC%+g", y.Site.UTCOffsetH), int(math.Round(y.Site.UTCOffsetH*3600)))
}
