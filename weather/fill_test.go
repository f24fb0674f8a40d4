package weather

import (
	"errors"
	"strings"
	"testing"

	"campwright/internal/near"
)

// A short gap in temperature is bridged by a straight line, worked by hand: 10 and 16 with five missing between give 11 to 15.
func TestGapBridged(t *testing.T) {
	s := samples(in2017)
	s[1000].air, s[1006].air = 10, 16
	for i := 1001; i < 1006; i++ {
		s[i].air = -999
	}
	y := mustRead(t, writePSM(s, 1, 30, -7))
	for i := 1; i <= 5; i++ {
		near.Abs(t, "bridged temperature", y.Records[1000+i].AirC, 10+float64(i), 1e-12, "a straight line by hand")
	}
	if !noted(y, "air temperature: 5 missing values interpolated") {
		t.Error(y.Notes)
	}
}

// A gap over the year's end joins 31 December to 1 January.
func TestGapOverYearEnd(t *testing.T) {
	s := samples(in2017)
	n := len(s)
	s[n-3].air, s[2].air = 4, 9
	for _, i := range []int{n - 2, n - 1, 0, 1} {
		s[i].air = 9999
	}
	y := mustRead(t, writePSM(s, 1, 30, -7))
	for k, i := range []int{n - 2, n - 1, 0, 1} {
		near.Abs(t, "bridged temperature", y.Records[i].AirC, 5+float64(k), 1e-12, "a straight line by hand")
	}
}

// A gap of six hours is filled, one of seven refused, in every format's own code for missing.
func TestGapLimit(t *testing.T) {
	for _, f := range []struct {
		name           string
		write          func([]sample) string
		light, air, ms float64
		firstLine      int
	}{
		{"EPW", func(s []sample) string { return writeEPW(s, 1) }, 9999, 99.9, 999, 9},
		{"TMY3", writeTMY3, -9900, -9900, -9900, 3},
		{"TMY2", writeTMY2, 9999, 999.9, 99.9, 2},
		{"PSM", func(s []sample) string { return writePSM(s, 1, 30, -7) }, -9999, -999, 9999, 4},
	} {
		t.Run(f.name, func(t *testing.T) {
			for _, n := range []int{6, 7} {
				s := samples(stitched)
				for i := range n {
					s[3000+i].air = f.air
					s[4000+i].ms = f.ms
					s[5000+i].ghi, s[5000+i].dni, s[5000+i].dhi = f.light, f.light, f.light
				}
				y, err := Read(strings.NewReader(f.write(s)), "gaps")
				if n == 6 {
					if err != nil || !noted(y, "6 missing values") {
						t.Errorf("six hours: %v %v", err, y.Notes)
					}
					continue
				}
				var faults *Faults
				if !errors.As(err, &faults) || len(faults.List) != 5 || !strings.Contains(err.Error(), "7 values missing in a row, above limit 6") {
					t.Errorf("seven hours: %v", err)
				} else if faults.List[0].Line != 5000+f.firstLine || faults.List[3].Line != 3000+f.firstLine {
					t.Errorf("lines of the gaps: %v", err)
				}
			}
		})
	}
}

// Too many short gaps are refused as well.
func TestGapTotal(t *testing.T) {
	for _, n := range []int{maxMissingH, maxMissingH + 1} {
		s := samples(in2017)
		for i := range n {
			s[10+i*4].air = -999
		}
		_, err := Read(strings.NewReader(writePSM(s, 1, 30, -7)), "gaps")
		if (err == nil) != (n == maxMissingH) {
			t.Errorf("%d hours missing: %v", n, err)
		}
	}
}

// Light missing at noon comes back as the share of the light above the air that stood around it. On a day of constant share the gap
// is filled exactly; the invented year's clear days are near that.
func TestLightGap(t *testing.T) {
	y := Invented()
	s := samples(in2017)
	// Make 21 June a day of constant clearness: 0.7 of the cosine of zenith times 1000.
	first := 171 * 24
	for k := range 24 {
		s[first+k].ghi = 700 * lightAbove(&y, colGHI, first+k)
	}
	want := append([]sample(nil), s[first:first+24]...)
	for k := 10; k < 15; k++ {
		s[first+k].ghi = -999
	}
	got := mustRead(t, writePSM(s, 1, 30, -7))
	for k := 10; k < 15; k++ {
		near.Rel(t, "light in the gap", got.Records[first+k].GHI, want[k].ghi, 2e-3, "the file is of 2017, the share was laid with the sun of 2019: a quarter day of declination")
	}
	// In the dark the fill is zero.
	s = samples(in2017)
	s[first].ghi, s[first+1].dni = -999, -999
	got = mustRead(t, writePSM(s, 1, 30, -7))
	if got.Records[first].GHI != 0 || got.Records[first+1].DNI != 0 {
		t.Error("light at midnight")
	}
}

// A file without any wind gets a guess, noted as one; a file without any temperature is refused.
func TestNoWind(t *testing.T) {
	s := samples(stitched)
	for i := range s {
		s[i].ms = 999
	}
	y := mustRead(t, writeEPW(s, 1))
	if y.Records[77].WindMS != calmGuessMS || !noted(y, "knows no wind: 1.5 m/s taken, a guess") {
		t.Error(y.Records[77].WindMS, y.Notes)
	}
	for i := range s {
		s[i].air = 99.9
	}
	if _, err := Read(strings.NewReader(writeEPW(s, 1)), "x"); err == nil || !strings.Contains(err.Error(), "8760 hours missing, above limit 240") {
		t.Error(err)
	}
}
