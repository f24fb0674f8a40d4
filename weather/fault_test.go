package weather

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
)

// spoil changes one line of a text, counted from 1.
func spoil(text string, line int, change func(string) string) string {
	lines := strings.Split(text, "\n")
	lines[line-1] = change(lines[line-1])
	return strings.Join(lines, "\n")
}

// Each way a file can be broken, and what the fault says: the line, what is wrong, the value and the limit.
func TestFaults(t *testing.T) {
	epw := writeEPW(samples(stitched), 1)
	tmy3 := writeTMY3(samples(stitched))
	tmy2 := writeTMY2(samples(stitched))
	psm := writePSM(samples(in2017), 1, 30, -7)
	jrc := writeJRC(samples(stitched), "0.2")
	table := writeTable(samples(in2017), -7)
	drop := func(string) string { return "" }
	replace := func(a, b string) func(string) string {
		return func(s string) string {
			if !strings.Contains(s, a) {
				t.Fatalf("the line to spoil does not hold %q: %q", a, s)
			}
			return strings.Replace(s, a, b, 1)
		}
	}
	for _, c := range []struct {
		name, text string
		line       int
		says       string
	}{
		{"EPW few columns", spoil(epw, 100, func(s string) string { return s[:40] }), 100, "columns below 22"},
		{"EPW not a number", spoil(epw, 9, replace("?9?9,-8.3,", "?9?9,warm,")), 9, `air temperature: "warm" is not a number`},
		{"EPW hour", spoil(epw, 9, replace(",1,1,1,0,", ",1,1,25,0,")), 9, "hour 25 outside 1 to 24"},
		{"EPW month", spoil(epw, 9, replace(",1,1,1,0,", ",13,1,1,0,")), 9, "month 13 outside 1 to 12"},
		{"EPW missing hour", spoil(epw, 100, drop), 101, "1 records missing before this one: 4 Jan 19:00 to 4 Jan 20:00"},
		{"EPW short", strings.Join(strings.Split(epw, "\n")[:8000], "\n"), 0, "the file ends at 30 Nov 00:00: 768 of 8760 records missing"},
		{"EPW no data periods", strings.Replace(epw, "DATA PERIODS", "DATA PERIOD", 1), 0, "no DATA PERIODS"},
		{"EPW records in an hour", strings.Replace(epw, "DATA PERIODS,1,1", "DATA PERIODS,1,7", 1), 8, "7 records in an hour do not divide 60"},
		{"EPW twice the records", strings.Replace(epw, "DATA PERIODS,1,1", "DATA PERIODS,1,2", 1), 10, "1 records missing before this one"},
		{"EPW half the records", strings.Replace(writeEPW(samples(stitched), 2), "DATA PERIODS,1,2", "DATA PERIODS,1,1", 1), 10, "more than 1 records in hour 1"},
		{"EPW latitude", strings.Replace(epw, "39.10", "93.10", 1), 1, "latitude 93.1 outside -90 to 90"},
		{"EPW header short", strings.Replace(epw, ",39.10,-111.20,-7.0,1900.0", "", 1), 1, "LOCATION has 6 fields, below 10"},
		{"TMY3 column", strings.Replace(tmy3, "DHI (W/m^2)", "DHI", 1), 2, `no column "DHI (W/m^2)"`},
		{"TMY3 count", spoil(tmy3, 77, func(s string) string { return s + ",1" }), 77, "10 columns, the header has 9"},
		{"TMY3 date", spoil(tmy3, 3, replace("01/01/", "01-01-")), 3, "is not MM/DD/YYYY"},
		{"TMY3 time", spoil(tmy3, 3, replace("01:00", "24:01")), 3, `time "24:01" is past 24:00`},
		{"TMY3 twice", spoil(tmy3, 4, replace("02:00", "01:00")), 4, "a second time"},
		{"TMY2 short line", spoil(tmy2, 50, func(s string) string { return s[:60] }), 50, "60 characters below 98"},
		{"TMY2 number", spoil(tmy2, 50, func(s string) string { return s[:17] + "12x4" + s[21:] }), 50, `"12x4" is not a number`},
		{"TMY2 day", spoil(tmy2, 50, func(s string) string { return s[:5] + "32" + s[7:] }), 50, "day 32 outside 1 to 31"},
		{"PSM column", strings.Replace(psm, "DNI", "Clearsky DNI", 1), 3, `no column "DNI"`},
		{"PSM step", spoil(psm, 5, replace(",1,30,", ",1,43,")), 5, "step of 73 minutes"},
		{"PSM stamp", strings.ReplaceAll(psm, ",30,", ",7,"), 4, "first stamp 7 minutes past is neither start nor middle"},
		{"PSM latitude", strings.Replace(psm, "Latitude", "Lat", 1), 0, ""}, // no longer recognised
		{"PSM zone", strings.Replace(psm, "Time Zone,Elevation", "Zone,Elevation", 1), 2, `no value for "Time Zone"`},
		{"PSM order", spoil(psm, 60, replace(",3,8,30", ",1,8,30")), 60, "out of order"},
		{"JRC stamp", spoil(jrc, 20, replace(":0100", "-0100")), 20, "is not YYYYMMDD:HHMM"},
		{"JRC minute", spoil(jrc, 20, replace(":0100", ":0110")), 20, "minute 10, the first record has 0"},
		{"JRC column", strings.Replace(jrc, "Gb(n)", "Gb(i)", 1), 18, `no column "Gb(n)"`},
		{"JRC offset", strings.Replace(jrc, "(h): 0.2", "(h): 12", 1), 4, "irradiance time offset 12 outside -1 to 1"},
		{"JRC elevation", strings.Replace(jrc, "Elevation", "Height", 1), 18, "elevation missing"},
		{"table header", strings.Replace(table, "dhi_w_m2", "dhi", 1), 1, `no column "dhi_w_m2"`},
		{"table start", spoil(table, 2, replace("T00:00:00,", " 00:00:00,")), 2, "is not YYYY-MM-DDTHH:MM:SS"},
		{"table duration", spoil(table, 3, replace(",1.0,", ",0.5,")), 3, "duration 30 min, the first record has 60 min"},
		{"table duration odd", spoil(table, 2, replace(",1.0,", ",0.7,")), 2, "not a whole part of an hour"},
		{"table wrong clock", writeTable(samples(in2017), -4), 2, "sun time is -2.5 h after the start"},
		{"table years", spoil(table, 8761, replace("2017-12-31T23", "2018-12-31T23")), 0, ""},
		{"table infinite", spoil(table, 2, replace(",0,0,0,", ",Inf,0,0,")), 2, `"Inf" is not a number`},
		{"table NaN", spoil(table, 2, replace(",0,0,0,", ",NaN,0,0,")), 2, `"NaN" is not a number`},
	} {
		t.Run(c.name, func(t *testing.T) {
			y, err := read(strings.NewReader(c.text), "broken", &InventedSite)
			if err == nil {
				t.Fatal("read without a fault")
			}
			if len(y.Records) != 0 || y.Format != "" {
				t.Error("the year is not the zero value")
			}
			if c.says == "" {
				return
			}
			var f *Faults
			if !errors.As(err, &f) {
				t.Fatalf("not a list of faults: %v", err)
			}
			if !slices.ContainsFunc(f.List, func(f Fault) bool { return f.Line == c.line && strings.Contains(f.Text, c.says) }) {
				t.Errorf("no fault on line %d saying %q in: %v", c.line, c.says, err)
			}
		})
	}
}

// Faults are all reported, in the order of lines, up to twenty; the rest is counted.
func TestFaultsAreCollected(t *testing.T) {
	s := samples(stitched)
	for i := range 30 {
		s[100+i*10].ghi = 5000
	}
	_, err := Read(strings.NewReader(writeTMY3(s)), "many")
	var f *Faults
	if !errors.As(err, &f) {
		t.Fatal(err)
	}
	if len(f.List) != maxFaults || f.More != 10 {
		t.Fatalf("%d faults and %d more, want 20 and 10", len(f.List), f.More)
	}
	for i, one := range f.List {
		if one.Line != 103+i*10 {
			t.Errorf("fault %d on line %d, want %d", i, one.Line, 103+i*10)
		}
	}
	if !strings.HasSuffix(err.Error(), "; and 10 more") || !strings.HasPrefix(err.Error(), `weather file "many" (TMY3 CSV): line 103: `) {
		t.Error(err)
	}
}

func ExampleFaults() {
	text := "LOCATION,Somewhere,XX,ZZZ,TMY3,0,39.1,-111.2,-7,1900\nDATA PERIODS,1,1,Data,Sunday,1/1,12/31\n" +
		"1999,1,1,1,0,?,-5,0,50,80000,0,0,300,0,0,0,0,0,0,0,180,x\n"
	_, err := Read(strings.NewReader(text), "cut.epw")
	var f *Faults
	if errors.As(err, &f) {
		for _, one := range f.List {
			fmt.Println(one)
		}
	}
	// Output:
	// line 3: wind speed: "x" is not a number
	// the file ends at 1 Jan 01:00: 8759 of 8760 records missing
}
