package load_test

import (
	"bufio"
	"compress/gzip"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"campwright/internal/near"
	"campwright/internal/outside"
	"campwright/load"
)

// unit is what one second-by-second day of one appliance shows.
type unit struct {
	name               string
	wattHours, hours   float64
	runningW, standbyW float64
	duty, peakW        float64
}

// judge reads a recording and splits it into running and not, by the two levels that its powers gather around.
func judge(t *testing.T, path string) unit {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	unpacked, err := gzip.NewReader(file)
	if err != nil {
		t.Fatal(err)
	}
	type piece struct{ w, h float64 }
	var list []piece
	var last time.Time
	var lastW float64
	lines := bufio.NewScanner(unpacked)
	for lines.Scan() {
		fields := strings.Split(lines.Text(), ";")
		if len(fields) < 2 {
			continue
		}
		at, err := time.Parse("02/01/2006 15:04:05", fields[0])
		if err != nil {
			continue
		}
		w, err := strconv.ParseFloat(fields[1], 64)
		if err != nil {
			continue
		}
		if dt := at.Sub(last); !last.IsZero() && dt > 0 && dt <= time.Minute {
			list = append(list, piece{lastW, dt.Hours()})
		}
		last, lastW = at, w
	}
	u := unit{name: strings.TrimSuffix(filepath.Base(path), ".csv.gz")}
	for _, p := range list {
		u.wattHours += p.w * p.h
		u.hours += p.h
		u.peakW = max(u.peakW, p.w)
	}
	split := u.wattHours / u.hours
	mean := func(above bool) (float64, float64) {
		var wh, h float64
		for _, p := range list {
			if (p.w > split) == above {
				wh, h = wh+p.w*p.h, h+p.h
			}
		}
		if h == 0 {
			return 0, 0
		}
		return wh / h, h
	}
	for range 20 {
		high, _ := mean(true)
		low, _ := mean(false)
		split = (high + low) / 2
	}
	var hours float64
	u.standbyW, _ = mean(false)
	_, hours = mean(true)
	u.duty = hours / u.hours
	// The running power is the middle one, so that the start does not count.
	slices.SortFunc(list, func(a, b piece) int {
		if a.w < b.w {
			return -1
		}
		return 1
	})
	passed := 0.0
	for _, p := range list {
		if p.w > split {
			if passed += p.h; passed >= hours/2 {
				u.runningW = p.w
				break
			}
		}
	}
	return u
}

func units(t *testing.T) []unit {
	t.Helper()
	var list []unit
	for _, path := range outside.Recordings(t) {
		list = append(list, judge(t, path))
	}
	return list
}

// A day's energy from running power, duty and standby is within 10 % of the recorded one, for every unit.
func TestMeasured_DailyEnergy(t *testing.T) {
	all := schedule(t, load.ScheduleParams{When: load.Always})
	for _, u := range units(t) {
		a := plain(t, load.PlainParams{RunningW: u.runningW, Duty: u.duty, StandbyW: u.standbyW, Schedule: all, SurgeVA: u.peakW})
		near.Rel(t, u.name, a.DailyWh(load.Sun{}), u.wattHours/u.hours*24, 0.10, "band of the measurement")
		if a.PeakVA() < u.peakW {
			t.Errorf("%s: peak %g below the highest second %g", u.name, a.PeakVA(), u.peakW)
		}
	}
}

// Typical boxes stand inside the measured range of refrigerators, as their daily energy in a room.
func TestMeasured_RefrigeratorRange(t *testing.T) {
	low, high, strong, seen := 1e9, 0.0, 0, 0
	for _, u := range units(t) {
		if !strings.HasPrefix(u.name, "Refrigerator") {
			continue
		}
		day := u.wattHours / u.hours * 24
		low, high = min(low, day), max(high, day)
		near.Within(t, u.name+" running", u.runningW, 60, 138, "range measured")
		near.Within(t, u.name+" duty", u.duty, 0.14, 0.59, "range measured, rounded")
		if u.peakW >= 600 {
			strong++
		}
		seen++
	}
	if seen != 9 || strong < 4 {
		t.Fatalf("%d refrigerators, %d with a strong start", seen, strong)
	}
	near.Within(t, "lowest", low, 230, 300, "range measured")
	near.Within(t, "highest", high, 900, 1900, "range measured")
	for name, p := range map[string]load.CoolerParams{"household": load.HouseholdRefrigerator(), "upright": load.UprightCompressor(), "chest": load.ChestCompressor()} {
		near.Within(t, name, 24*cooler(t, p).MeanW(25), 230, 1900, "range measured in rooms")
	}
}
