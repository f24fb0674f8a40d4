package system

import (
	"testing"

	"campwright/conductor"
	"campwright/internal/near"
)

// ambientNet is a network of one pair of 1/0 AWG by the building's book, with what is written behind it.
func ambientNet(t *testing.T, bays, run string) *Network {
	t.Helper()
	text := "campwright: 1\nname: warm\nkind: van\nbook: us-building\nbank: {chemistry: LFP, block: {capacity: 200 Ah}}\nwiring:\n" + bays +
		"  bus bars: {main: {rating: 250 A}}\n  runs:\n    - {name: main, from: bank, to: bus bar main, gauge: 1/0 AWG, length: 3 m" + run + "}\n"
	return network(t, text, Nominal)
}

// Air around a run, written at the run or at the bay of its end, enters what it may carry and what it loses; without it both are as the handbook's
// tables have them. Checked against NEC table 310.16 (1/0 AWG copper: 170 A at 90 °C), table 310.15(B)(1)(1) (0.71 at 56 to 60 °C for 90 °C insulation)
// and chapter 9 table 8 with its note, R2 = R1·[1 + 0.00323·(T2 − 75)].
func TestNetwork_Ambient(t *testing.T) {
	plain := ambientNet(t, "", "")
	r := plain.Runs[0]
	near.Within(t, "resistance of 3 m at 75 °C", r.Core[0].Ohms, 0.99*3*0.122e-3/0.3048, 1.01*3*0.122e-3/0.3048, "NEC chapter 9 table 8: 0.122 ohm for 1,000 ft of 1/0 AWG")
	for _, x := range []struct{ name, bays, run string }{
		{"at the run", "", ", ambient: 60 C"},
		{"at the bay", "  bays: {hot one: {hottest: 60 C, holds: [bus bar main]}}\n", ""},
		{"at the run before the bay", "  bays: {hot one: {hottest: 70 C, holds: [bus bar main]}}\n", ", ambient: 60 C"},
	} {
		hot := ambientNet(t, x.bays, x.run).Runs[0]
		rating, err := conductor.Ampacity(hot.Use)
		if err != nil {
			t.Fatal(err)
		}
		near.Printed(t, x.name+": may carry", rating.Amps, 0.71*170, 1, "NEC 310.16 and 310.15(B)(1)(1)")
		// 60 + 45 K is above the 90 °C that the insulation bears.
		near.Within(t, x.name+": resistance", hot.Core[0].Ohms/r.Core[0].Ohms, 1.0483, 1.0486, "NEC chapter 9 table 8, note: 1 + 0.00323 × 15")
	}
	if c := LoadedC(30, 90); c != 75 {
		t.Errorf("in air of 30 °C a loaded conductor is taken at %g °C, the handbook has 75", c)
	}
	if c := LoadedC(95, 90); c != 95 {
		t.Errorf("a conductor of %g °C in air of 95", c)
	}
}
