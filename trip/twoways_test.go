package trip

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"campwright/rig"
	"campwright/system"
)

// TestAnswer_TwoWays: a cable is the same cable whether it stands with its array and in the charge line or in the wiring, and the answer is the same
// to the last figure; a thinner one changes it. (An identity; no source.)
func TestAnswer_TwoWays(t *testing.T) {
	const head = `campwright: 1
name: two ways
kind: van
bank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 100 Ah}}
modules: {m: {power: 200 W, voc: 24 V, isc: 10.4 A, vmp: 20 V, imp: 10 A}}
controllers: {ridge: {survives: 100 V, output: 30 A}}
vehicle: {alternators: [{rated: 160 A}]}
appliances: [{name: x, power: 25 W, runs on: dc}]
trip: [{place: 39 N 95 W, from: 2027-06-01, nights: 2}, {drive: 2 h}, {place: 39 N 95 W, nights: 2}]
`
	const listed = `arrays: [{name: a, module: m, controller: ridge, run: {gauge: 14 AWG, length: 60 ft}}]
charge line: [{fuse: 60 A}, {run: {gauge: 10 AWG, length: 40 ft}}, {dc-dc: {output: 40 A}}]
`
	const wired = `arrays: [{name: a, module: m, controller: ridge}]
charge line: [{dc-dc: {output: 40 A}}]
wiring: {runs: [{from: array a, to: controller ridge pv, gauge: 14 AWG, length: 60 ft}, {from: vehicle, to: dc-dc in, gauge: 10 AWG, length: 40 ft, devices: [{kind: fuse, rating: 60 A}]}]}
`
	const thinner = `arrays: [{name: a, module: m, controller: ridge}]
charge line: [{dc-dc: {output: 40 A}}]
wiring: {runs: [{from: array a, to: controller ridge pv, gauge: 18 AWG, length: 60 ft}, {from: vehicle, to: dc-dc in, gauge: 10 AWG, length: 40 ft, devices: [{kind: fuse, rating: 60 A}]}]}
`
	told := func(text string) string {
		a := answered(t, head+text, 20)
		a.Basis.Defaults = 0 // what is filled in differs: a cable that is written in one place is left out in the other
		b, err := json.Marshal(a)
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	one, other := told(listed), told(wired)
	if one != other {
		t.Errorf("listed: %.900s\nwired: %.900s", one, other)
	}
	if one == told(thinner) {
		t.Error("a thinner cable changes nothing")
	}
}

// TestTeller_HomeRunMeasured: a reading of the cable from the roof, written into the wiring between two answers, counts in the second as in an answer
// that has nothing before it.
func TestTeller_HomeRunMeasured(t *testing.T) {
	const text = `campwright: 1
name: measured
kind: van
bank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 100 Ah}}
modules: {m: {power: 200 W, voc: 24 V, isc: 10.4 A, vmp: 20 V, imp: 10 A}}
controllers: {ridge: {survives: 100 V, output: 30 A}}
arrays: [{name: a, module: m, controller: ridge}]
appliances: [{name: x, power: 40 W, runs on: dc}]
wiring: {runs: [{from: array a, to: controller ridge pv, gauge: 14 AWG, length: 60 ft}]}
trip: [{place: 39 N 95 W, from: 2027-06-01, nights: 3}]
`
	sun := func(teller *Teller, text string) float64 {
		said, faults := rig.Decode(strings.NewReader(text))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		doc, gaps := system.Complete(said)
		if len(gaps) > 0 {
			t.Fatal(gaps)
		}
		a, err := teller.Answer(context.Background(), &doc)
		if err != nil {
			t.Fatal(err)
		}
		low := 0.0
		for _, d := range a.Days {
			low += d.BandLow
		}
		return low
	}
	o := Options{Members: 20, StepMin: 30}
	worse := strings.Replace(text, "length: 60 ft", "length: 60 ft, resistance: 400 mohm measured", 1)
	kept := NewTeller(o)
	before := sun(kept, text)
	after, fresh := sun(kept, worse), sun(NewTeller(o), worse)
	if after != fresh || after >= before {
		t.Errorf("lows of %v before, %v after the reading, %v by a new teller", before, after, fresh)
	}
}

// TestTeller_FirstDay: modules that are fitted after the first day of a trip, and a unit that was removed before it, take no part in what a teller says,
// just as they take none where the rig of that day is answered for.
func TestTeller_FirstDay(t *testing.T) {
	const text = `campwright: 1
name: fitted later
kind: van
bank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 100 Ah}}
modules: {m: {power: 200 W, voc: 24 V, isc: 10.4 A, vmp: 20 V, imp: 10 A}}
controllers: {ridge: {survives: 100 V, output: 30 A}}
arrays: [{name: a, module: m, controller: ridge}%s]
appliances: [{name: x, power: 40 W, runs on: dc}]
trip: [{place: 39 N 95 W, from: 2027-06-01, nights: 3}]
`
	sun := func(more string) (wh float64) {
		said, faults := rig.Decode(strings.NewReader(fmt.Sprintf(text, more)))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		doc, gaps := system.Complete(said)
		if len(gaps) > 0 {
			t.Fatal(gaps)
		}
		a, err := NewTeller(Options{Members: 10, StepMin: 30}).Answer(context.Background(), &doc)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range a.Ledger.Sources {
			if e.Name != "battery" {
				wh += e.Wh
			}
		}
		return wh
	}
	one, later, sooner := sun(""), sun(", {name: b, module: m, controller: ridge, fitted: 2027-08-01}"), sun(", {name: b, module: m, controller: ridge, fitted: 2027-05-01}")
	if one != later || sooner <= one {
		t.Errorf("%.0f Wh from one array, %.0f with one fitted later, %.0f with one fitted before", one, later, sooner)
	}
}
