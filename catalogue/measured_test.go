package catalogue_test

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

	"campwright/catalogue"
	"campwright/internal/near"
	"campwright/internal/outside"
)

// recording is what one second-by-second day of a household appliance shows [TRACEBASE].
type recording struct {
	name              string
	runningW, dailyWh float64
	peakW             float64 // highest second
}

// recordings reads the recorded days.
func recordings(t *testing.T) []recording {
	t.Helper()
	var list []recording
	for _, path := range outside.Recordings(t) {
		list = append(list, record(t, path))
	}
	return list
}

// record reads one day. The running power is the middle one of the seconds above half of the 99th in a hundred, so that neither rest nor
// start counts.
func record(t *testing.T, path string) recording {
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
	var watts []float64
	var last time.Time
	energy, hours, before := 0.0, 0.0, 0.0
	for lines := bufio.NewScanner(unpacked); lines.Scan(); {
		fields := strings.Split(lines.Text(), ";")
		if len(fields) < 2 {
			continue
		}
		at, err1 := time.Parse("02/01/2006 15:04:05", fields[0])
		w, err2 := strconv.ParseFloat(fields[1], 64)
		if err1 != nil || err2 != nil {
			continue
		}
		if dt := at.Sub(last); !last.IsZero() && dt > 0 && dt <= time.Minute {
			energy, hours = energy+before*dt.Hours(), hours+dt.Hours()
		}
		last, before = at, w
		watts = append(watts, w)
	}
	slices.Sort(watts)
	high := 0.0
	if i := slices.IndexFunc(watts, func(w float64) bool { return w > 10 }); i >= 0 {
		on := watts[i:]
		high = on[len(on)*99/100]
		on = on[slices.IndexFunc(on, func(w float64) bool { return w >= high/2 }):]
		high = on[len(on)/2]
	}
	return recording{strings.TrimSuffix(filepath.Base(path), ".csv.gz"), high, energy / hours * 24, watts[len(watts)-1]}
}

// What runs in the catalogue stands where the recorded machines ran.
func TestMeasured_Running(t *testing.T) {
	stands := map[string]string{"Coffeemaker": "coffee maker", "Freezer": "freezer", "MicrowaveOven": "microwave", "PC-Laptop": "laptop",
		"Refrigerator": "household refrigerator", "Router": "cellular router", "TV-LCD": "television"}
	seen := map[string]int{}
	for _, r := range recordings(t) {
		kind, _, _ := strings.Cut(r.name, "__")
		a := find(t, stands[kind])
		seen[kind]++
		near.Within(t, r.name+" runs on", r.runningW, a.Power.Rate.Low, a.Power.Rate.High, "the span of "+a.Name)
	}
	if len(seen) != len(stands) {
		t.Fatalf("saw %v", seen)
	}
}

// Electric refrigerators: daily energy, duty, running power and start inside the range recorded of ten machines. The bounds are those
// published with the recordings; the start is read from them.
func TestMeasured_Refrigerators(t *testing.T) {
	const why = "range recorded of ten refrigerators"
	peak, freezer := 0.0, 0.0
	for _, r := range recordings(t) {
		switch {
		case strings.HasPrefix(r.name, "Refrigerator"):
			peak = max(peak, r.peakW)
		case strings.HasPrefix(r.name, "Freezer"):
			freezer = max(freezer, r.peakW)
		}
	}
	if peak < 600 || freezer < 600 {
		t.Fatalf("peaks of %g and %g W", peak, freezer)
	}
	seen := 0
	for _, a := range catalogue.Appliances() {
		if a.Kind != "compressor refrigerator" || a.Name == "ice maker" {
			continue
		}
		seen++
		_, typical, _ := a.DailyWh(a.Runs[0])
		near.Within(t, a.Name+": Wh a day", typical, 230, 1900, why)
		near.Within(t, a.Name+": duty", a.Power.Duty.Value, 0.15, 0.59, why)
		if a.Name != "compressor cool box" { // a chest is smaller than any of the ten
			near.Within(t, a.Name+": running", a.Power.Rate.Value, 60, 138, why)
		}
	}
	if seen != 4 {
		t.Fatalf("saw %d cold boxes", seen)
	}
	near.Within(t, "what the program takes of itself: duty", catalogue.CompressorDuty.Value, 0.15, 0.59, why)
	near.Within(t, "what the program takes of itself: Wh a day", catalogue.CompressorDuty.Value*catalogue.CompressorPower.Value*24, 230, 1900, why)
	if s := find(t, "household refrigerator").Surge; s.Value < peak {
		t.Errorf("a household refrigerator starts on %g W, recorded %g W in one second", s.Value, peak)
	}
	if s := find(t, "freezer").Surge; s.High < freezer {
		t.Errorf("a freezer starts on at most %g W, recorded %g W in one second", s.High, freezer)
	}
}
