package system

import (
	"strings"
	"testing"

	"campwright/internal/near"
	"campwright/rig"
)

// TestHomeRunFromTheWiring says the same cable in every way a file can, and gets the resistance that a hand gets from NEC chapter 9 table 8:
// 10 AWG stranded copper, coated or not, is 1.24 ohm per kilofoot at 75 C, which is 1.117 at 45 C by that table's own rule
// R2 = R1 [1 + 0.00323 (T2 - 75)]; 2 x 30 ft of it are 0.0672 ohm.
func TestHomeRunFromTheWiring(t *testing.T) {
	const head = `campwright: 1
name: home run
kind: van
bank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 100 Ah}}
modules: {m: {power: 200 W, voc: 24 V, isc: 10.4 A, vmp: 20 V, imp: 10 A}}
controllers: {ridge: {survives: 100 V, output: 30 A}}
arrays: [{name: front, module: m, controller: ridge`
	const second = `, {name: rear, module: m, controller: ridge}`
	hand := 2 * 30 * 1.24 * (1 + 0.00323*(45-75)) / 1000
	for _, c := range []struct {
		what, text string
		ohm        float64
	}{
		{"with the array", head + ", run: {gauge: 10 AWG, length: 30 ft}}]\n", hand},
		{"in the wiring", head + "}]\nwiring: {runs: [{from: array front, to: controller ridge pv, gauge: 10 AWG, length: 30 ft}]}\n", hand},
		{"the other way round", head + "}]\nwiring: {runs: [{from: controller ridge pv, to: array front, gauge: 10 AWG, length: 30 ft}]}\n", hand},
		{"plus and minus apart", head + "}]\nwiring: {runs: [{from: array front +, to: controller ridge pv +, gauge: 10 AWG, length: 30 ft}, " +
			"{from: array front -, to: controller ridge pv -, gauge: 10 AWG, length: 30 ft}]}\n", hand},
		{"shared by two", head + "}" + second + "]\nwiring: {combiners: {box: {arrays: [front, rear]}}, runs: [{from: combiner box, to: controller ridge pv, gauge: 10 AWG, length: 30 ft}]}\n", 2 * hand},
		{"measured", head + "}]\nwiring: {runs: [{from: array front, to: controller ridge pv, gauge: unknown, resistance: 40 mohm measured}]}\n", 0.080},
		{"read at both ends", head + "}]\nwiring: {runs: [{from: array front, to: controller ridge pv, gauge: unknown, reading: {start: 20.0 V, end: 19.4 V, current: 6 A}}]}\n", 0.1},
	} {
		doc, faults := rig.Decode(strings.NewReader(c.text))
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
		near.Rel(t, c.what, sys.Arrays[0].LoopOhm, c.ohm, 0.03, "makers strand their copper a little differently")
	}
}
