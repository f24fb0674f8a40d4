package design

import (
	"strings"
	"testing"

	"campwright/figure"
	"campwright/rig"
	"campwright/system"
)

// TestUnsizable: where no single cable bears what flows, the run is laid with its size not known and the reason told, and what hangs on it is
// joined. A 3.6 kW inverter takes some 390 A from 12 V lead-acid at its cut-off (power over voltage), a quarter more for its fuse, and the thickest cable of [CFR-183]
// table 5 bears 445 A.
func TestUnsizable(t *testing.T) {
	doc, faults := rig.Decode(strings.NewReader(`campwright: 1
name: too much for one cable
kind: motorhome
bank: {chemistry: flooded, blocks: 4, in series: 2, block: {voltage: 6 V, capacity: 230 Ah}, inverter off at: 10.5 V}
inverters: {big: {power: 3600 W}}
`))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	w, err := Wire(doc)
	if err != nil {
		t.Fatal(err)
	}
	a := w.Answer()
	unknown := 0
	for i := range w.Proposal.Doc.Wiring.Runs {
		if w.Proposal.Doc.Wiring.Runs[i].Gauge.State == figure.Unknown {
			unknown++
		}
	}
	if unknown == 0 || !strings.Contains(strings.Join(a.Problems, "\n"), "no single cable does") {
		t.Errorf("%d runs of unknown size, problems %v", unknown, a.Problems)
	}
	for _, l := range a.Loose {
		if strings.Contains(l.Part, "inverter") {
			t.Errorf("the inverter is left in the air: %+v", l)
		}
	}
	for i := range a.States {
		if s := &a.States[i]; s.Name == "full inverter" && (s.BankA == nil || *s.BankA > -300) {
			t.Errorf("at full load the bank gives %v A, wanted more than 300", s.BankA)
		}
	}
}

// TestBranchesStayThin: no branch of a fuse block is made thicker than 10 AWG only for the sake of fewer kinds of cable. By hand, for 16.5 ft one
// way and [NEC] chapter 9 table 8: an 11 A blower within 3.5 % of 12 V may meet 38 mohm, and 8 AWG gives 26, 10 AWG 41.
func TestBranchesStayThin(t *testing.T) {
	doc, faults := rig.Decode(strings.NewReader(`campwright: 1
name: blower
kind: motorhome
bank: {chemistry: flooded, blocks: 2, in series: 2, block: {voltage: 6 V, capacity: 230 Ah}}
controllers: {c: {survives: 100 V, output: 60 A}}
modules: {m: {power: 200 W, voc: 24 V, isc: 10.4 A, vmp: 20 V, imp: 10 A}}
arrays: [{name: roof, module: m, controller: c, strings: 3}]
appliances:
  - {name: furnace, kind: furnace, runs on: propane, propane: 40000 BTU/h, blower: 11 A}
  - {name: lights, runs on: dc, power: 30 W, on: 18:00-22:00}
`))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	w, err := Wire(doc)
	if err != nil {
		t.Fatal(err)
	}
	looked := 0
	for i := range w.Proposal.Doc.Wiring.FuseBlocks {
		for _, b := range w.Proposal.Doc.Wiring.FuseBlocks[i].Branches {
			looked++
			if mm2 := b.Gauge.Quantity.Base; b.Name == "furnace" && (mm2 < 8.3 || mm2 > 8.5) || b.Name == "lights" && mm2 > 5.3 {
				t.Errorf("%s: %s", b.Name, b.Gauge.Text())
			}
		}
	}
	if looked != 2 {
		t.Errorf("%d branches", looked)
	}
}

// TestLiveSentenceWithoutBank: what the bank no longer feeds is not said to stay on without saying on what it stays.
func TestLiveSentenceWithoutBank(t *testing.T) {
	for _, c := range []struct {
		dark, unsteady []string
		want           string
	}{
		{nil, nil, "nothing goes dark; both"},
		{nil, []string{"lights", "pump"}, "nothing goes dark while sun, engine or hookup feeds; without them what does is lights, pump; both"},
		{nil, make([]string, 12), "without them 12 things do"},
		{[]string{"furnace"}, []string{"lights"}, "what goes dark is furnace, and without sun, engine or hookup what does is lights as well; both"},
	} {
		if got := liveSentence("main fuse", &system.Live{Dark: c.dark, Unsteady: c.unsteady}); !strings.Contains(got, c.want) {
			t.Errorf("%q, wanted %q in it", got, c.want)
		}
	}
}
