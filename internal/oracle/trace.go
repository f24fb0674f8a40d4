package oracle

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// traceColumn takes the name of a trace's column apart: what it holds, the surface, the sky model, the module.
var traceColumn = regexp.MustCompile(`^(poa|cell_temp|dc)_([a-z]+)(\d*)_(perez|haydavies|isotropic)(?:_(.+))?_(w_m2|c|w)$`)

// judgeTrace compares every record of every column of a site's trace.
func judgeTrace(f *folder, s *sheet, site *chainSite, y *chainYear, set moduleSet, cases []chainCase) {
	name := "chain_trace_" + site.Site + ".csv"
	if !f.has(name) {
		// The trace of an invented site carries the word in its name and not in its site.
		if other := "chain_trace_invented_" + site.Site + ".csv"; f.has(other) {
			name = other
		}
	}
	t, err := f.csv(name)
	if err != nil {
		s.fault(site.Site, "%v", err)
		return
	}
	if len(t.stamps) != len(y.air) {
		s.fault(name, "%d records, the weather has %d", len(t.stamps), len(y.air))
		return
	}
	for i, stamp := range t.stamps {
		if want := y.weather.Records[i].Start.Format("2006-01-02T15:04:05"); stamp != want {
			s.fault(name, "record %d starts %s, the weather says %s", i+1, stamp, want)
			return
		}
	}
	for c, column := range t.names {
		switch column {
		case "interval_start_local":
			continue
		case "apparent_zenith_deg":
			for i, want := range t.cols[c] {
				s.see("trace apparent_zenith_deg", "", y.sun.Zenith(i), want, chainAngle, name+" "+t.stamps[i])
			}
			continue
		case "azimuth_deg":
			for i, want := range t.cols[c] {
				turn := math.Remainder(y.sun.Azimuth(i)-want, 360) * math.Sin(y.sun.Zenith(i)*math.Pi/180)
				s.see("trace azimuth_deg (times sin zenith)", "", want+turn, want, chainAngle, name+" "+t.stamps[i])
			}
			continue
		}
		got, field, limit, err := y.column(site, column, set, cases)
		if err != nil {
			s.fault(name, "%v", err)
			continue
		}
		for i, want := range t.cols[c] {
			s.see(field, "", got[i], want, limit, name+" "+column+" "+t.stamps[i])
		}
	}
}

// column works out what a column of a trace holds, by its name.
func (y *chainYear) column(site *chainSite, column string, set moduleSet, cases []chainCase) (got []float64, field string, limit Limit, err error) {
	m := traceColumn.FindStringSubmatch(column)
	if m == nil {
		return nil, "", Limit{}, fmt.Errorf("column %q is not known", column)
	}
	what, tilt, model, module := m[1], 0.0, m[4], m[5]
	if m[3] != "" {
		if tilt, err = strconv.ParseFloat(m[3], 64); err != nil {
			return nil, "", Limit{}, err
		}
	} else if m[2] != "flat" {
		return nil, "", Limit{}, fmt.Errorf("column %q: surface %q is not known", column, m[2])
	}
	// The surface's azimuth, and the module where the column names none, are those of the site's cases.
	i := slices.IndexFunc(cases, func(c chainCase) bool { return c.Site == site.Site && c.Tilt == tilt })
	if i < 0 {
		return nil, "", Limit{}, fmt.Errorf("column %q: no case of the site has a surface at %g degrees", column, tilt)
	}
	p, err := y.plane(tilt, cases[i].Azimuth, model)
	if err != nil {
		return nil, "", Limit{}, err
	}
	switch what {
	case "poa":
		return p.poa, "trace poa_*_w_m2", chainLight, nil
	case "cell_temp":
		return p.cell, "trace cell_temp_*_c", chainCell, nil
	}
	if module == "" {
		first := slices.IndexFunc(cases, func(c chainCase) bool { return c.Site == site.Site })
		module = cases[first].Module
	}
	unit, ok := set.byID[strings.TrimSpace(module)]
	if !ok {
		return nil, "", Limit{}, fmt.Errorf("column %q: module %q is not known", column, module)
	}
	got, err = y.power(p, unit, nil)
	return got, "trace dc_*_w", chainPower, err
}
