package weather

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"campwright/internal/near"
)

// What a stamp means, format by format: the record for the hour from 12 to 13 on 3 March, its start and the instant for its sun.
// The meanings are those of the formats' handbooks, [EPW], [TMY3], [TMY2], [NSRDB], [JRC-TMY], as the independent reference words them.
func TestStampMeaning(t *testing.T) {
	mst := time.FixedZone("", -7*3600)
	for _, c := range []struct {
		name       string
		text       string
		format     Format
		index      int // of the record looked at
		start, sun time.Time
		step       time.Duration
		typical    bool
		offset     float64 // of the file's clock
	}{
		{"EPW hourly", writeEPW(samples(stitched), 1), EPW, 61*24 + 12, time.Date(2019, 3, 3, 12, 0, 0, 0, mst), time.Date(2019, 3, 3, 12, 30, 0, 0, mst), time.Hour, true, -7},
		{"EPW half-hourly of one year", writeEPW(samples(in2017), 2), EPW, (61*24 + 12) * 2, time.Date(2017, 3, 3, 12, 0, 0, 0, mst), time.Date(2017, 3, 3, 12, 15, 0, 0, mst), 30 * time.Minute, false, -7},
		{"TMY3", writeTMY3(samples(stitched)), TMY3, 61*24 + 12, time.Date(2019, 3, 3, 12, 0, 0, 0, mst), time.Date(2019, 3, 3, 12, 30, 0, 0, mst), time.Hour, true, -7},
		{"TMY2", writeTMY2(samples(stitched)), TMY2, 61*24 + 12, time.Date(2019, 3, 3, 12, 0, 0, 0, mst), time.Date(2019, 3, 3, 12, 30, 0, 0, mst), time.Hour, true, -7},
		{"PSM hourly, stamps in the middle", writePSM(samples(in2017), 1, 30, -7), PSM, 61*24 + 12, time.Date(2017, 3, 3, 12, 0, 0, 0, mst), time.Date(2017, 3, 3, 12, 30, 0, 0, mst), time.Hour, false, -7},
		{"PSM half-hourly, stamps at the start", writePSM(samples(in2017), 2, 0, -7), PSM, (61*24 + 12) * 2, time.Date(2017, 3, 3, 12, 0, 0, 0, mst), time.Date(2017, 3, 3, 12, 0, 0, 0, mst), 30 * time.Minute, false, -7},
		{"PSM in UTC", writePSM(samples(in2017), 2, 0, 0), PSM, (61*24 + 12) * 2, time.Date(2017, 3, 3, 12, 0, 0, 0, time.UTC), time.Date(2017, 3, 3, 12, 0, 0, 0, time.UTC), 30 * time.Minute, false, 0},
		{"PSM typical", writePSM(samples(stitched), 1, 30, -7), PSM, 61*24 + 12, time.Date(2019, 3, 3, 12, 0, 0, 0, mst), time.Date(2019, 3, 3, 12, 30, 0, 0, mst), time.Hour, true, -7},
		{"JRC with offset", writeJRC(samples(stitched), "0.1761"), JRC, 61*24 + 12, time.Date(2019, 3, 3, 12, 0, 0, 0, time.UTC), time.Date(2019, 3, 3, 12, 10, 33, 960e6, time.UTC), time.Hour, true, 0},
		{"JRC without offset", writeJRC(samples(stitched), ""), JRC, 61*24 + 12, time.Date(2019, 3, 3, 12, 0, 0, 0, time.UTC), time.Date(2019, 3, 3, 12, 0, 0, 0, time.UTC), time.Hour, true, 0},
		{"table", writeTable(samples(in2017), -7), Table, 61*24 + 12, time.Date(2017, 3, 3, 12, 0, 0, 0, mst), time.Date(2017, 3, 3, 12, 30, 0, 0, mst), time.Hour, false, -7},
	} {
		t.Run(c.name, func(t *testing.T) {
			y := mustRead(t, c.text)
			if y.Format != c.format || y.Step != c.step || y.Typical != c.typical || y.Site.UTCOffsetH != c.offset || y.LocalOffsetH != -7 {
				t.Errorf("got %q, step %v, typical %v, clock UTC%+g, local UTC%+g", y.Format, y.Step, y.Typical, y.Site.UTCOffsetH, y.LocalOffsetH)
			}
			if want := int(365 * 24 * time.Hour / c.step); len(y.Records) != want {
				t.Fatalf("%d records, want %d", len(y.Records), want)
			}
			r := y.Records[c.index]
			if !r.Start.Equal(c.start) || !r.SunTime.Equal(c.sun) || r.DurationH != c.step.Hours() {
				t.Errorf("record starts %v, sun %v, %g h; want %v, %v", r.Start, r.SunTime, r.DurationH, c.start, c.sun)
			}
			near.Abs(t, "latitude", y.Site.Latitude, 39.1, 1e-9, "as written")
			near.Abs(t, "longitude", y.Site.Longitude, -111.2, 1e-9, "as written")
			near.Abs(t, "elevation", y.Site.ElevationM, 1900, 0, "as written")
			// The values are those written: the TMY2 rounds to 1 W/m², 0.1 °C and 0.1 m/s.
			w := invented().Records[61*24+12]
			near.Abs(t, "GHI", r.GHI, w.GHI, 0.5, "the coarsest format's rounding")
			near.Abs(t, "DNI", r.DNI, w.DNI, 0.5, "the coarsest format's rounding")
			near.Abs(t, "DHI", r.DHI, w.DHI, 0.5, "the coarsest format's rounding")
			near.Abs(t, "air", r.AirC, w.AirC, 0.05+1e-9, "the coarsest format's rounding")
			near.Abs(t, "wind", r.WindMS, w.WindMS, 0.05+1e-9, "the coarsest format's rounding")
		})
	}
}

func TestQuotedNameAndOldText(t *testing.T) {
	y := mustRead(t, strings.Replace(writeTMY3(samples(stitched)), "INVENTED PLATEAU, NOWHERE", "\xcele d'invention, nowhere", 1))
	if y.Site.Name != "Île d'invention, nowhere, XX" {
		t.Errorf("name %q", y.Site.Name)
	}
	y = mustRead(t, "\ufeff"+strings.ReplaceAll(writeEPW(samples(stitched), 1), "\n", "\r\n"))
	if len(y.Records) != 8760 {
		t.Errorf("%d records behind a byte order mark and with long line ends", len(y.Records))
	}
}

// A measured leap year keeps its 29 February; a typical year drops it; a leap year whose file leaves it out is read and says so.
func TestLeapDay(t *testing.T) {
	leap := func(year func(int) int) []sample {
		var out []sample
		for _, s := range samples(year) {
			out = append(out, s)
			if s.month == 2 && s.day == 28 && s.hour == 23 {
				for h := range 24 {
					out = append(out, sample{year: s.year, month: 2, day: 29, hour: h, air: 1.5})
				}
			}
		}
		return out
	}
	y := mustRead(t, writePSM(leap(func(int) int { return 2020 }), 1, 30, -7))
	if len(y.Records) != 8784 || !y.LeapDay || y.Records[59*24].Start.Day() != 29 || y.Typical {
		t.Errorf("measured leap year: %d records, leap day %v, %v", len(y.Records), y.LeapDay, y.Records[59*24].Start)
	}
	y = mustRead(t, writePSM(leap(func(m int) int { return map[bool]int{true: 2004, false: 2003}[m == 2] }), 1, 30, -7))
	if len(y.Records) != 8760 || y.LeapDay || !y.Typical || !noted(y, "29 February left out (24 records)") {
		t.Errorf("typical year with a leap day: %d records, %v", len(y.Records), y.Notes)
	}
	y = mustRead(t, writePSM(samples(func(int) int { return 2020 }), 1, 30, -7))
	if len(y.Records) != 8760 || y.LeapDay || !noted(y, "leaves out 29 February 2020") {
		t.Errorf("leap year without its day: %d records, %v", len(y.Records), y.Notes)
	}
	if _, err := Read(strings.NewReader(writePSM(leap(in2017), 1, 30, -7)), "x"); err == nil || !strings.Contains(err.Error(), "day 29 outside 1 to 28") {
		t.Errorf("29 February 2017: %v", err)
	}
}

func noted(y Year, part string) bool {
	for _, n := range y.Notes {
		if strings.Contains(n, part) {
			return true
		}
	}
	return false
}

func TestNotAWeatherFile(t *testing.T) {
	for _, text := range []string{"", "hello", "a,b\n1,2\n", "%PDF-1.7\n", "PK\x03\x04\x00\x00", "{\"a\":1}"} {
		y, err := Read(strings.NewReader(text), "notes.txt")
		if !errors.Is(err, ErrFormat) || len(y.Records) != 0 {
			t.Errorf("%q: %v", text, err)
			continue
		}
		for _, f := range []Format{EPW, TMY3, TMY2, PSM, JRC} {
			if !strings.Contains(err.Error(), string(f)) {
				t.Errorf("%q: the error does not name %s: %v", text, f, err)
			}
		}
	}
	if _, err := Read(strings.NewReader(writeTable(samples(in2017), -7)), "x"); !errors.Is(err, ErrNoSite) {
		t.Errorf("a plain table without a site: %v", err)
	}
	if _, err := ReadAt(strings.NewReader(writeTable(samples(in2017), -7)), "x", Site{Latitude: math.NaN()}); err == nil {
		t.Error("a site that is not a number is taken")
	}
}

// Irradiances a little below zero are the night offset of instruments: set to zero, noted. Further below is a fault.
func TestNightOffset(t *testing.T) {
	s := samples(in2017)
	s[2].ghi, s[3].dhi = -3, zeroOffset
	y := mustRead(t, writePSM(s, 1, 30, -7))
	if y.Records[2].GHI != 0 || y.Records[3].DHI != 0 || !noted(y, "2 irradiances between -20 and 0") {
		t.Errorf("%+v %v", y.Records[2], y.Notes)
	}
	s[3].dhi = zeroOffset - 0.1
	if _, err := Read(strings.NewReader(writePSM(s, 1, 30, -7)), "x"); err == nil {
		t.Error("an irradiance of -20.1 W/m2 is taken")
	}
}

// Every limit has a value on it that passes and one beyond that does not.
func TestLimits(t *testing.T) {
	put := [columnCount]func(*sample, float64){
		colGHI:  func(s *sample, v float64) { s.ghi = v },
		colDNI:  func(s *sample, v float64) { s.dni = v },
		colDHI:  func(s *sample, v float64) { s.dhi = v },
		colAir:  func(s *sample, v float64) { s.air = v },
		colWind: func(s *sample, v float64) { s.ms = v },
	}
	for c, col := range columns {
		for _, v := range []struct {
			value float64
			good  bool
		}{{col.low, true}, {col.high, true}, {col.high + 0.1, false}, {min(col.low, -zeroOffset) - 30, false}} {
			s := samples(in2017)
			put[c](&s[5000], v.value)
			_, err := Read(strings.NewReader(writePSM(s, 1, 30, -7)), "x")
			if (err == nil) != v.good {
				t.Errorf("%s %g: %v", col.name, v.value, err)
			}
			var f *Faults
			if !v.good && (!errors.As(err, &f) || len(f.List) != 1 || f.List[0].Line != 5004 || !strings.Contains(err.Error(), fmt.Sprintf("%g to %g", col.low, col.high))) {
				t.Errorf("%s %g: line or limit not named: %v", col.name, v.value, err)
			}
		}
	}
}
