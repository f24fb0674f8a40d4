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
