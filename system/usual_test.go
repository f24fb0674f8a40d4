package system

import (
	"strings"
	"testing"

	"campwright/figure"
	"campwright/rig"
)

// TestUsualHours completes appliances whose owner says no hours: one whose name tells them runs as it usually does, one whose name tells
// nothing runs all its hours, and what the owner says stands.
func TestUsualHours(t *testing.T) {
	doc, faults := rig.Decode(strings.NewReader(`campwright: 1
name: hours
kind: van
bank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 100 Ah}}
appliances:
  - {name: microwave, runs on: ac, power: 1200 W}
  - {name: humming thing, runs on: dc, power: 12 W}
  - {name: coffee maker, runs on: ac, power: 1000 W, per day: 9 min}
`))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	full, gaps := Complete(doc)
	if len(gaps) > 0 {
		t.Fatal(gaps)
	}
	a := full.Appliances
	if d := a[0].PerDay; d.State != figure.Default || d.Quantity.Base <= 0 || d.Quantity.Base > 1 || d.Why == "" {
		t.Errorf("a microwave runs %+v a day", d)
	}
	if a[1].PerDay.State != figure.Absent {
		t.Errorf("a thing that nobody knows was given %v", a[1].PerDay.Quantity)
	}
	if d := a[2].PerDay; d.State != figure.Plain {
		t.Errorf("what the owner says was replaced: %+v", d)
	}
}
