package starter_test

import (
	"strings"
	"testing"

	"campwright/internal/near"
	"campwright/rig"
	"campwright/starter"
	"campwright/system"
)

// worthRig is a rig with three guesses on a day that can be summed by hand.
const worthRig = `campwright: 1
name: three guesses
kind: van
people: 2
bank: {chemistry: LFP, health: 100 %, block: {capacity: 200 Ah, voltage: 12.8 V}}
appliances:
  - {name: pump, power: about 50 W (40 W to 60 W), per day: 2 h}
  - {name: box, power: unknown}
  - {name: stove, runs on: propane, propane: 1 kW, per day: about 1 h (30 min to 90 min)}
stores: {propane: 1 x 5 kg, fresh water: 100 L, water per person: 10 L/d to 20 L/d}
`

// By hand: the pump moves 20 W x 2 h = 40 Wh of 200 Ah x 12.8 V x 80 % = 2,048 Wh; the box, 1 to 40 W, 39 W x 24 h = 936 Wh; the stove one
// kilowatt-hour of 5 kg x 0.98 at 13.93 kWh/kg (21,548 BTU/lb); the water 20 of 100 L.
func TestWorthMeasuring_ByHand(t *testing.T) {
	doc, faults := rig.Decode(strings.NewReader(worthRig))
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	full, gaps := system.Complete(doc)
	if len(gaps) > 0 {
		t.Fatal(gaps)
	}
	list, around := starter.WorthMeasuring(&full)
	by := map[string]starter.Worth{}
	last := 1e9
	for _, w := range list {
		by[w.Path] = w
		if w.PerDay > last || w.PerDay <= 0 || w.Name == "" || w.Reading == "" || w.Store == "" {
			t.Errorf("%+v after %g", w, last)
		}
		last = w.PerDay
	}
	if around == "" {
		t.Error("not said where")
	}
	const kWhPerKg = 21548 * 0.29307107 / 1000 / 0.45359237
	near.Rel(t, "box", by["appliances/box/power/rate"].PerDay, 936.0/2048, 1e-6, "sum by hand")
	near.Rel(t, "pump", by["appliances/pump/power/rate"].PerDay, 40.0/2048, 1e-6, "sum by hand")
	near.Rel(t, "stove", by["appliances/stove/per day"].PerDay, 1/(5*0.98*kWhPerKg), 0.005, "sum by hand; heat of propane as published, three digits")
	near.Rel(t, "water", by["stores/water per person"].PerDay, 20.0/100, 1e-6, "sum by hand")
	if list[0].Path != "appliances/box/power/rate" || list[0].Store != "battery" || by["stores/water per person"].Store != "fresh water" {
		t.Errorf("first is %+v", list[0])
	}
}

// The demo rigs name at least three readings each, in no time.
func TestWorthMeasuring_Start(t *testing.T) {
	full, _ := system.Complete(build(t, starter.Answers{}).Rig)
	list, around := starter.WorthMeasuring(&full)
	if len(list) < 10 || around != "Quartzsite, AZ, US in December" {
		t.Errorf("%d readings around %q", len(list), around)
	}
}
