package trip

import (
	"strings"
	"testing"
	"time"

	"campwright/internal/near"
	"campwright/rig"
	"campwright/sun"
	"campwright/system"
)

// TestRelayTwin holds the swift run against the booked one for a bank that a relay ties to the alternator: what flows is the difference of
// their voltages over milliohms, so that a bank far from its usual charge takes far more or less than one voltage for all would say.
func TestRelayTwin(t *testing.T) {
	for _, start := range []string{"20 %", "50 %", "90 %"} {
		text := `campwright: 1
name: tied
kind: van
bank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 300 Ah}, starts at: ` + start + `}
vehicle: {alternators: [{rated: 130 A, hot idle: 60 A, hot cruise: 130 A}], own load: 30 A, volts: 14.4 V}
charge line: [{resistance: 12.3 mohm}, {relay: {rated: 150 A}}]
`
		doc, faults := rig.Decode(strings.NewReader(text))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		full, gaps := system.Complete(doc)
		if len(gaps) > 0 {
			t.Fatal(gaps)
		}
		sys, err := system.Assemble(&full, system.Draw{}, 5)
		if err != nil {
			t.Fatal(err)
		}
		site := Site{Place: sun.Place{Latitude: 39, Longitude: -95}, Zone: time.UTC, Sky: "roofed", Nights: 1}
		next := site
		next.DriveH = 1
		c, err := newCourse(time.Date(2027, 5, 1, 0, 0, 0, 0, time.UTC), []Site{site, next}, 5)
		if err != nil {
			t.Fatal(err)
		}
		dark := Weather{GHI: make([]float64, c.N), DNI: make([]float64, c.N), DHI: make([]float64, c.N), AirC: make([]float64, c.N), WindMS: make([]float64, c.N)}
		booked := newRunner(sys, c, true).run(dark)
		out := outcome{lows: make([]float32, 2), gas: make([]float32, 2)}
		newSwift(sys, c, newSchedule(sys, c), true).run(make([]float32, c.N), nil, make([]float32, c.N), &out)
		end := float64(booked.SoC[c.N-1])
		if gained := end - float64(booked.SoC[0]); gained < 0.04 {
			t.Fatalf("from %s the bank gained %.3f", start, gained)
		}
		near.Abs(t, "charge after an hour of driving from "+start, out.endSoC, end, 0.002, "the same relay on the same bank")
	}
}
