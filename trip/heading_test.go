package trip

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"campwright/internal/near"
)

// tilted is a rig with one steep array in December, at 33.6 north: the sun rises in the southeast, stands in the south at noon and sets in the southwest.
const tilted = `campwright: 1
name: tilted
kind: van
modules: {field: {power: 200 W, voc: 24.3 V, isc: 10.4 A, vmp: 20.4 V, imp: 9.8 A}}
controllers: {c: {survives: 100 V, output: 30 A}}
arrays: [{name: roof, module: field, controller: c, soiling: 0 %%, mismatch: 0 %%, shade: 0 %%%s}]
bank: {chemistry: LFP, blocks: 10, block: {voltage: 12.8 V, capacity: 200 Ah}, starts at: 50 %%}
appliances: [{name: fan, power: 100 W}]
trip: [{place: 33.6 N 114.2 W, from: 2027-12-10, nights: 4%s}]
`

// harvest returns what the typical run takes from the array before and after solar noon, 12:37 by the clock at 114.2 W in Mountain time [Wh].
func harvest(t *testing.T, array, stop string) (before, after float64) {
	t.Helper()
	a := answered(t, fmt.Sprintf(tilted, array, stop), 8)
	for i, w := range a.Trace.SolarW {
		at := a.Trace.Start.Add(a.forecast.course.instant(i).Sub(a.forecast.course.Start))
		if 60*at.Hour()+at.Minute() < 12*60+37 {
			before += float64(w) * a.forecast.course.StepH
		} else {
			after += float64(w) * a.forecast.course.StepH
		}
	}
	if before+after < 100 {
		t.Fatalf("only %.0f Wh were taken", before+after)
	}
	return before, after
}

// The heading turns an array that is written relative to the rig: one that faces ahead takes far more with the rig's front to the south than to the north; one
// that faces right takes more before noon when the rig heads north, since its right is then east, and more after noon when it heads south. Written by
// the compass it does not turn at all; a flat one does not either.
func TestHeading(t *testing.T) {
	total := func(array, stop string) float64 {
		before, after := harvest(t, array, stop)
		return before + after
	}
	south, north := total(", tilt: 45 deg, faces on rig: 0 deg", ", heading: 180 deg"), total(", tilt: 45 deg, faces on rig: 0 deg", ", heading: 0 deg")
	if south < 2.5*north {
		t.Errorf("facing the winter sun it takes %.0f Wh, turned from it %.0f", south, north)
	}
	near.Abs(t, "ahead, heading south, against by the compass", south, total(", tilt: 45 deg, faces: 180 deg", ", heading: 70 deg"), 1e-9, "the same plane")
	near.Abs(t, "to the left, heading west", total(", tilt: 45 deg, faces on rig: 270 deg", ", heading: 270 deg"), south, 1e-9, "270 and 270 are 180")
	east := func(before, after float64) bool { return before > 1.3*after }
	if b, a := harvest(t, ", tilt: 45 deg, faces on rig: 90 deg", ", heading: 0 deg"); !east(b, a) {
		t.Errorf("right of a rig that heads north is east: %.0f Wh before noon, %.0f after", b, a)
	}
	if b, a := harvest(t, ", tilt: 45 deg, faces on rig: 90 deg", ", heading: 180 deg"); !east(a, b) {
		t.Errorf("right of a rig that heads south is west: %.0f Wh before noon, %.0f after", b, a)
	}
	near.Abs(t, "flat, whatever the heading", total(", faces on rig: 90 deg", ", heading: 0 deg"), total("", ", heading: 180 deg"), 1e-9, "a level plane has no side")

	doc := answered(t, fmt.Sprintf(tilted, ", tilt: 45 deg, faces on rig: 90 deg", ""), 4)
	if !strings.Contains(strings.Join(doc.Remarks, "\n"), "which way the rig stands is not said") {
		t.Errorf("nothing is said of the missing heading: %v", doc.Remarks)
	}
	near.Abs(t, "without a heading", total(", tilt: 45 deg, faces on rig: 90 deg", ""), south, 1e-9, "taken to face the equator")
}

// TestRemarks_NoVehicle: a charge line before which no vehicle stands gives nothing, and the answer says so.
func TestRemarks_NoVehicle(t *testing.T) {
	const text = `campwright: 1
name: line of nothing
kind: van
bank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 100 Ah}}
%scharge line: [{run: {gauge: 4 AWG, length: 20 ft}}, {dc-dc: {output: 30 A}}]
trip: [{place: 39 N 95 W, from: 2027-06-01, nights: 2, drive: 2 h}]
`
	for vehicle, want := range map[string]bool{"": true, "vehicle: {alternators: [{rated: 160 A}]}\n": false} {
		a := answered(t, fmt.Sprintf(text, vehicle), 4)
		if got := strings.Contains(strings.Join(a.Remarks, "\n"), "no vehicle before it"); got != want {
			t.Errorf("vehicle %q: told %v, wanted %v", vehicle, got, want)
		}
		row := slices.ContainsFunc(a.Ledger.Sources, func(e Entry) bool { return e.Name == "vehicle, none in the file" && e.Wh == 0 })
		if row != want {
			t.Errorf("vehicle %q: a row of nothing %v, wanted %v: %v", vehicle, row, want, a.Ledger.Sources)
		}
	}
}
