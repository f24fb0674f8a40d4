package system

import (
	"fmt"
	"math"
	"testing"

	"campwright/internal/near"
)

// legRig is a rig with a 50 A inlet; more is added to its parts.
const legRig = head + `
bank: {chemistry: LFP, blocks: 2, block: {capacity: 200 Ah}}
inverters: {main: {power: 3600 W%s}}
generators: {g: {power: 4800 W%s}}
shore: {inlet: 50 A%s}
appliances:
  - {name: kettle, runs on: ac, power: 1440 W, per day: 10 min%s}
  - {name: toaster, runs on: ac, power: 1320 W, per day: 10 min%s}
`

func feedOf(t *testing.T, n *Network, name string) ACFeed {
	t.Helper()
	for _, f := range n.ACFeeds() {
		if f.Name == name {
			return f
		}
	}
	t.Fatalf("no feed %q", name)
	return ACFeed{}
}

func legNet(t *testing.T, inverter, generator, shore, first, second string) *Network {
	t.Helper()
	return network(t, fmt.Sprintf(legRig, inverter, generator, shore, first, second), Nominal)
}

// M59: 12 and 11 A on two legs. Split, as shore has them, 1 A is left in the neutral; in phase, as an inverter of one leg feeds both, they add to 23 A
// (the practice list, case M59).
func TestACFeeds_M59(t *testing.T) {
	n := legNet(t, ", legs: in phase", ", legs: split", "", ", leg: L1", ", leg: L2")
	shore := feedOf(t, n, "shore")
	if len(shore.Legs) != 2 || len(shore.Untold) > 0 {
		t.Fatalf("%+v", shore)
	}
	near.Printed(t, "L1", shore.Legs[0].On.Nominal, 12, 1, "case M59")
	near.Printed(t, "L2", shore.Legs[1].On.Nominal, 11, 1, "case M59")
	near.Printed(t, "neutral, split", shore.Neutral.Nominal, 1, 1, "12 less 11")
	near.Printed(t, "neutral, in phase", feedOf(t, n, "inverter").Neutral.Nominal, 23, 1, "case M59")
	near.Printed(t, "breaker of a generator of 4,800 W on two legs", feedOf(t, n, "generator").Legs[0].BreakerA, 20, 1, "4,800 / 240")
}

// A breaker bears four fifths of its rating for hours, NEC 210.20(A); a generator its whole lasting rating.
func TestACFeeds_ForHours(t *testing.T) {
	for _, x := range []struct {
		hours, cord float64
		over        bool
	}{{40, 0, false}, {40.1, 0, true}, {35, 35, false}, {35.1, 35, true}} {
		l := ACLeg{Hours: Range{x.hours, x.hours, x.hours}, BreakerA: 50, LastsA: 40}
		if over, _, _ := l.ForHours(x.cord); over != x.over {
			t.Errorf("%g A for hours, cord %g A: over %v", x.hours, x.cord, over)
		}
	}
	n := legNet(t, "", ", legs: split", "", "", "")
	near.Printed(t, "hookup of 50 A", feedOf(t, n, "shore").Legs[0].LastsA, 40, 0, "NEC 210.20(A)")
	near.Printed(t, "generator", feedOf(t, n, "generator").Legs[0].LastsA, 20, 0, "4,800 / 240")
}

// A breaker written behind the inlet is what counts where it is the smaller: 30 A behind an inlet of 50 A bear 24 A for hours.
func TestACFeeds_Breaker(t *testing.T) {
	n := network(t, fmt.Sprintf(legRig, "", "", "", "", "")+`
wiring:
  runs:
    - {name: inlet, from: inlet, to: ac panel, gauge: 10 AWG, length: 3 m, devices: [{name: main, kind: breaker, made for: ac, rating: 30 A}]}
`, Nominal)
	l := feedOf(t, n, "shore").Legs[0]
	near.Printed(t, "breaker", l.BreakerA, 30, 0, "as written")
	near.Printed(t, "for hours", l.LastsA, 24, 0, "NEC 210.20(A)")
}

// What nobody told may hang on either leg: the ends are all of it and none of it, and nothing lies outside of them.
func TestACFeeds_Untold(t *testing.T) {
	n := legNet(t, "", "", "", ", leg: L1", "")
	f := feedOf(t, n, "shore")
	if len(f.Untold) != 1 || f.Untold[0] != "toaster" {
		t.Fatalf("untold %q", f.Untold)
	}
	near.Printed(t, "L1 at most", f.Legs[0].On.High, 23, 1, "12 + 11")
	near.Printed(t, "L1 at least", f.Legs[0].On.Low, 12, 1, "12")
	near.Printed(t, "L2 at most", f.Legs[1].On.High, 11, 1, "11")
	near.Printed(t, "neutral at least", f.Neutral.Low, 1, 1, "12 less 11")
	near.Printed(t, "neutral at most", f.Neutral.High, 23, 1, "12 + 11 on one leg")
}

// A limit of 8 A on each leg with make-up: of 12 and 11 A the battery makes up 4 and 3; without make-up the loads pass the limit.
func TestACFeeds_MakeUp(t *testing.T) {
	n := legNet(t, ", legs: split", "", ", limit: 8 A, battery make-up: yes", ", leg: L1", ", leg: L2")
	f := feedOf(t, n, "shore")
	for k, want := range []float64{4, 3} {
		near.Printed(t, "made up", f.Legs[k].MadeUpA, want, 1, "12 and 11 less 8")
		near.Printed(t, "from shore", f.Legs[k].On.Nominal, 8, 1, "the limit")
	}
	one := feedOf(t, legNet(t, ", legs: L1", "", ", limit: 8 A, battery make-up: yes", ", leg: L1", ", leg: L2"), "shore")
	near.Printed(t, "leg without an inverter", one.Legs[1].On.Nominal, 11, 1, "nothing makes up there")
	none := feedOf(t, legNet(t, ", legs: split", "", ", limit: 8 A, battery make-up: no", ", leg: L1", ", leg: L2"), "shore")
	near.Printed(t, "without make-up", none.Legs[0].On.Nominal, 12, 1, "loads do not give way")
	near.Printed(t, "leg of an inverter on one", feedOf(t, legNet(t, ", legs: L1", "", "", ", leg: L1", ", leg: L2"), "inverter").Legs[0].On.Nominal, 12, 1, "the other leg is dark")
}

// Two hundred and forty volts between the legs loads both alike and the neutral not at all; in phase it cannot run.
func TestACFeeds_Both(t *testing.T) {
	n := legNet(t, ", legs: in phase", "", "", ", leg: both", ", leg: L2")
	f := feedOf(t, n, "shore")
	near.Printed(t, "L1", f.Legs[0].On.Nominal, 6, 1, "1,440 / 240")
	near.Printed(t, "L2", f.Legs[1].On.Nominal, 17, 1, "6 + 11")
	near.Printed(t, "neutral", f.Neutral.Nominal, 11, 1, "the toaster alone")
	if v := feedOf(t, n, "inverter"); len(v.Left) != 1 || v.Left[0] != "kettle" {
		t.Errorf("left %q", v.Left)
	}
}

// Power is kept: over both legs at 120 V comes what all loads ask, whichever leg they hang on.
func TestACFeeds_PowerKept(t *testing.T) {
	looked := 0
	for _, a := range []string{"", ", leg: L1", ", leg: L2", ", leg: both"} {
		for _, b := range []string{"", ", leg: L1", ", leg: L2", ", leg: both"} {
			f := feedOf(t, legNet(t, "", "", "", a, b), "shore")
			watts := 0.0
			for _, l := range f.Legs {
				watts += 120 * l.On.Nominal
				if l.On.Low > l.On.Nominal || l.On.High < l.On.Nominal {
					t.Errorf("%q %q: %+v", a, b, l.On)
				}
			}
			looked++
			if math.Abs(watts-2760) > 1e-6 {
				t.Errorf("%q %q: %g W, wanted 2760", a, b, watts)
			}
		}
	}
	if looked != 16 {
		t.Fatalf("%d cases", looked)
	}
}
