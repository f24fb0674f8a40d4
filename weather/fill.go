package weather

import (
	"fmt"
	"math"
)

// Limits for filling missing values; ours: six hours are half a short winter day, over which neither temperature nor clearness can be
// told from their ends, and 240 hours are under 3 % of a year.
const (
	maxGapH     = 6
	maxMissingH = 240
)

// calmGuessMS stands in where a file knows no wind at all [m/s]. A guess, and noted as one.
const calmGuessMS = 1.5

// lowLight is the share of full overhead sun under which a record is too dark to tell how clear the sky was.
const lowLight = 0.05

// fill interpolates short gaps in every column of the year and notes how many values that were. Temperature and wind are
// interpolated in time; irradiances as shares of the light above the air, so that a gap at noon is not filled with morning light.
// Long gaps are faults.
func (d *draft) fill(y *Year) {
	if wind := column(y, colWind); missing(wind) == len(wind) {
		for i := range y.Records {
			y.Records[i].WindMS = calmGuessMS
		}
		y.Notes = append(y.Notes, fmt.Sprintf("the file knows no wind: %g m/s taken, a guess", calmGuessMS))
	}
	for c := range columnCount {
		values := column(y, c)
		n := missing(values)
		if n == 0 {
			continue
		}
		if hours := float64(n*d.stepMin) / 60; hours > maxMissingH {
			d.faults.add(0, "%s: %.4g hours missing, above limit %d", columns[c].name, hours, maxMissingH)
			continue
		}
		if c > colDHI {
			d.eachGap(c, values, func(i, j int) { d.bridge(values, i, j) })
		} else {
			d.fillLight(y, c, values)
		}
		for i, v := range values {
			set(&y.Records[i], c, v)
		}
		y.Notes = append(y.Notes, fmt.Sprintf("%s: %d missing values interpolated", columns[c].name, n))
	}
}

// eachGap calls mend for every run of missing values, from i up to j, and reports runs that are too long. The ends of the year join.
func (d *draft) eachGap(c int, values []float64, mend func(i, j int)) {
	n := len(values)
	most := maxGapH * 60 / d.stepMin
	known := 0
	for known < n && math.IsNaN(values[known]) {
		known++
	}
	// Starting behind a known value, a run over the year's end is met whole: indices run past n and are taken modulo n.
	for i := known + 1; i < known+n; i++ {
		if !math.IsNaN(values[i%n]) {
			continue
		}
		j := i
		for math.IsNaN(values[j%n]) {
			j++
		}
		if j-i > most {
			d.faults.add(d.rows[i%n].line, "%s: %d values missing in a row, above limit %d (%d h)", columns[c].name, j-i, most, maxGapH)
		} else {
			mend(i, j)
		}
		i = j
	}
}

// bridge lays a straight line over the gap from i up to j.
func (d *draft) bridge(values []float64, i, j int) {
	n := len(values)
	left, right := values[(i-1)%n], values[j%n]
	for k := i; k < j; k++ {
		values[k%n] = left + (right-left)*float64(k-i+1)/float64(j-i+1)
	}
}

// fillLight fills gaps in an irradiance. The share of the light above the air is taken from the nearest light within a day on either
// side and drawn over the gap; in the dark the irradiance is zero.
func (d *draft) fillLight(y *Year, c int, values []float64) {
	n := len(values)
	day := 24 * 60 / d.stepMin
	above := func(k int) float64 { return lightAbove(y, c, k%n) }
	share := func(from, step int) float64 {
		for k, tried := from, 0; tried < day; k, tried = k+step, tried+1 {
			at := (k + n) % n
			if a := above(at); a > lowLight && !math.IsNaN(values[at]) {
				return values[at] / a
			}
		}
		return nan
	}
	d.eachGap(c, values, func(i, j int) {
		left, right := share(i-1, -1), share(j, 1)
		if math.IsNaN(left) {
			left = right
		}
		if math.IsNaN(right) {
			right = left
		}
		for k := i; k < j; k++ {
			a := above(k)
			v := a * (left + (right-left)*float64(k-i+1)/float64(j-i+1))
			switch {
			case a <= 0:
				v = 0
			case math.IsNaN(v):
				d.faults.add(d.rows[k%n].line, "%s missing, and no light within a day of it to tell how clear the sky was", columns[c].name)
				v = 0
			}
			values[k%n] = min(v, columns[c].high)
		}
	})
}

// lightAbove returns the mean over a record of the sun's cosine of zenith, for beam the share of the time that it is up.
func lightAbove(y *Year, c, k int) float64 {
	p, err := pathAt(y.Site, y.Records[k].SunTime)
	if err != nil {
		return 0
	}
	half := y.Step.Minutes() / 2
	if c == colDNI {
		return (p.up(half) - p.up(-half)) / (2 * half * radPerMin)
	}
	return (p.light(half) - p.light(-half)) / (2 * half * radPerMin)
}

// column returns a copy of one quantity of all records.
func column(y *Year, c int) []float64 {
	out := make([]float64, len(y.Records))
	for i := range out {
		r := &y.Records[i]
		out[i] = [columnCount]float64{r.GHI, r.DNI, r.DHI, r.AirC, r.WindMS}[c]
	}
	return out
}

// set puts one quantity into a record.
func set(r *Record, c int, v float64) {
	switch c {
	case colGHI:
		r.GHI = v
	case colDNI:
		r.DNI = v
	case colDHI:
		r.DHI = v
	case colAir:
		r.AirC = v
	case colWind:
		r.WindMS = v
	}
}

// missing counts the missing values of a column.
func missing(values []float64) int {
	n := 0
	for _, v := range values {
		if math.IsNaN(v) {
			n++
		}
	}
	return n
}
