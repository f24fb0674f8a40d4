package system

import (
	"testing"

	"campwright/internal/near"
)

// acRig is a panel with two legs: two roof units of 1,500 W by count, a dryer of 30 A between the legs, and a compressor of 600 W at a power factor of 0.6.
const acRig = head + `
bank: {chemistry: LFP, blocks: 4, block: {capacity: 200 Ah}}
inverters: {main: {power: 4800 W, legs: split}}
shore: {inlet: 50 A, limit: 20 A, battery make-up: yes, chargers: {wall: {output: 20 A, leg: L2}}}
appliances:
  - {name: roof unit, kind: air conditioner, runs on: ac, power: 1500 W, count: 2, leg: L1}
  - {name: dryer, runs on: ac, power: 30 A, leg: both, per day: 4 h}
  - {name: compressor, runs on: ac, power: 600 W, power factor: 60 %, leg: L2, per day: 4 h}
  - {name: water heater, kind: water heater, runs on: propane, electric: 1400 W, propane: 12000 BTU/h}
home: {place: 40 N 105 W, hookup: 30 A}
`

// A count multiplies, a power factor divides, a current between the legs flows in each of them, and what burns propane takes nothing: by hand 2 × 12.5 + 30 A on the
// first leg, 30 + 600 / 0.6 / 120 = 38.3 A on the second. The limit of 20 A leaves 35 and 18.3 A, of which half an inverter of 4,800 W gives 20 A and 18.3 A.
func TestACFeeds_Count(t *testing.T) {
	n := network(t, acRig, Nominal)
	f := feedOf(t, n, "shore")
	near.Printed(t, "L1 from shore", f.Legs[0].On.Nominal, 35, 1, "by hand: 55 less 20 made up")
	near.Printed(t, "L1 made up", f.Legs[0].MadeUpA, 20, 1, "2,400 / 120")
	near.Printed(t, "L2 from shore", f.Legs[1].On.Nominal, 20, 1, "the limit")
	near.Printed(t, "L2 made up", f.Legs[1].MadeUpA, 18.3, 1, "by hand: 38.3 less 20")
	// A post of 30 A has one leg: the dryer cannot run, and 25 + 8.3 A are asked of it. The limit leaves 13.3 A, within the 40 A of the inverter.
	one := feedOf(t, n, "shore 30 A")
	if len(one.Legs) != 1 || len(one.Left) != 1 || one.Left[0] != "dryer" {
		t.Fatalf("%+v", one)
	}
	near.Printed(t, "from the post", one.Legs[0].On.Nominal, 20, 1, "the limit")
	near.Printed(t, "breaker", one.Legs[0].BreakerA, 30, 0, "the post")
	near.Printed(t, "made up there", one.Legs[0].MadeUpA, 13.3, 1, "by hand: 33.3 less 20")
	// The state of the bank making up is that of the narrower: 13.3 A at 120 V.
	s, ok := n.State(StateMakeUp)
	if !ok {
		t.Fatal("no state of making up")
	}
	near.Printed(t, "made up by the bank", s.ACW, 1600, 0, "by hand: 13.33 A at 120 V")
}

// One leg on alone has nothing that cancels it: the neutral carries at most the fuller leg.
func TestACFeeds_NeutralAlone(t *testing.T) {
	n := legNet(t, "", ", legs: split", "", ", leg: L1", ", leg: L2")
	f := feedOf(t, n, "shore")
	near.Printed(t, "both on", f.Neutral.Low, 1, 1, "12 less 11")
	near.Printed(t, "the fuller leg alone", f.Neutral.High, 12, 1, "1,440 / 120")
}
