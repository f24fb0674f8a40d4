package system

import (
	"strings"
	"testing"

	"campwright/internal/near"
	"campwright/rig"
)

// TestChargeLineFromTheWiring says the same line in every way a file can. By hand from NEC chapter 9 table 8: 4 AWG stranded copper is
// 0.308 ohm per kilofoot at 75 C, which is 0.273 at 40 C by R2 = R1 [1 + 0.00323 (T2 - 75)]; 2 x 40 ft of it are 0.0219 ohm. A fuse and a
// plug add what common practice gives them, the same in every way.
func TestChargeLineFromTheWiring(t *testing.T) {
	const head = "campwright: 1\nname: line\nkind: van\nbank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 100 Ah}}\nvehicle: {alternators: [{rated: 160 A}]}\n"
	const unit = "dc-dc: {output: 30 A}"
	ohm := func(what, text string) float64 {
		doc, faults := rig.Decode(strings.NewReader(head + text))
		if len(faults) > 0 {
			t.Fatal(what, faults)
		}
		full, gaps := Complete(doc)
		if len(gaps) > 0 {
			t.Fatal(what, gaps)
		}
		sys, err := Assemble(&full, Draw{}, 60)
		if err != nil {
			t.Fatal(what, err)
		}
		return sys.Supply.LineOhm
	}
	hand := 2 * 40 * 0.308 * (1 + 0.00323*(40-75)) / 1000
	near.Rel(t, "listed", ohm("listed", "charge line: [{run: {gauge: 4 AWG, length: 40 ft}}, {"+unit+"}]\n"), hand, 0.03, "makers strand their copper a little differently")
	listed := ohm("all listed", "charge line: [{fuse: 60 A}, {run: {gauge: 4 AWG, length: 25 ft}}, {plug: 50 A}, {run: {gauge: 4 AWG, length: 15 ft}}, {"+unit+"}]\n")
	for what, text := range map[string]string{
		"wired": "charge line: [{" + unit + "}]\nwiring: {bus bars: {tongue: {rating: 100 A}}, runs: [" +
			"{from: vehicle, to: bus bar tongue, gauge: 4 AWG, length: 25 ft, devices: [{kind: fuse, rating: 60 A}, {kind: plug, rating: 50 A}]}, " +
			"{from: bus bar tongue, to: dc-dc in, gauge: 4 AWG, length: 15 ft}]}\n",
		"wired, plus and minus apart": "charge line: [{fuse: 60 A}, {" + unit + "}]\nwiring: {runs: [" +
			"{from: vehicle +, to: dc-dc in +, gauge: 4 AWG, length: 40 ft, devices: [{kind: plug, rating: 50 A}]}, " +
			"{from: vehicle -, to: dc-dc in -, gauge: 4 AWG, length: 40 ft}]}\n",
	} {
		near.Rel(t, what, ohm(what, text), listed, 1e-9, "the same cable, fuse and plug")
	}
	near.Rel(t, "measured", ohm("measured", "charge line: [{"+unit+"}]\nwiring: {runs: [{from: vehicle, to: dc-dc in, gauge: unknown, resistance: 11 mohm measured}]}\n"), 0.022, 1e-9, "there and back")
	if got := ohm("no cable", "charge line: [{"+unit+"}]\n"); got != 0 {
		t.Errorf("a line of which nothing is said has %g ohm", got)
	}
}

// TestReplacedUnit: a file that keeps a unit which was replaced is the rig with the one that stands there now, in numbers and as a network, in
// whichever order they are written. (An identity; no source.)
func TestReplacedUnit(t *testing.T) {
	const head = "campwright: 1\nname: line\nkind: van\nbank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 100 Ah}}\nvehicle: {alternators: [{rated: 160 A}]}\n" +
		"wiring: {runs: [{from: dc-dc out, to: block 1, gauge: 6 AWG, length: 3 ft}]}\ncharge line:\n  - run: {gauge: 4 AWG, length: 40 ft}\n"
	const past, now, later = "  - dc-dc: {output: 30 A, removed: 2025-05-01}\n", "  - dc-dc: {output: 50 A, fitted: 2025-05-01}\n", "  - dc-dc: {output: 50 A, fitted: 2025-05-01, removed: 2027-01-01}\n"
	for _, c := range []struct {
		what, line string
		amps       float64
	}{
		{"alone", "  - dc-dc: {output: 50 A}\n", 50},
		{"the old one first", past + now, 50},
		{"the old one last", now + past, 50},
		{"both go", past + later, 50},
	} {
		doc, faults := rig.Decode(strings.NewReader(head + c.line))
		if len(faults) > 0 {
			t.Fatal(c.what, faults)
		}
		full, gaps := Complete(doc)
		if len(gaps) > 0 {
			t.Fatal(c.what, gaps)
		}
		sys, err := Assemble(&full, Draw{}, 60)
		if err != nil {
			t.Fatal(c.what, err)
		}
		near.Rel(t, c.what+": the unit's output", sys.Supply.Unit.Params().OutputA, c.amps, 1e-12, "as written")
		n, err := NewNetwork(&full, sys, Draw{}, Nominal)
		if err != nil {
			t.Fatal(c.what, err)
		}
		cruise, ok := n.State(StateCruise)
		if !ok {
			t.Fatalf("%s: no state with the engine at cruise", c.what)
		}
		got := n.Solve(cruise)
		p, ok := got.Part("dc-dc out")
		if got.Problem != "" || !ok {
			t.Errorf("%s: %s, part there: %v", c.what, got.Problem, ok)
		}
		near.Rel(t, c.what+": what it gives", -p.Amps, c.amps, 0.01, "its limit, rounded at the corner")
	}
}
