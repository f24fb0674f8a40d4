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

// TestOpeningOrder: as a careful electrician goes about it (common practice, no source): AC away, engine stopped before its line is cut, an
// array broken by its disconnect and not by its string fuses, the bank by its switch and not by a fuse bolted to a post, and mains proved dead
// on an alternating range, as [NFPA 70E] asks for a meter made for the circuit (from memory).
func TestOpeningOrder(t *testing.T) {
	doc, faults := rig.Decode(strings.NewReader(`campwright: 1
name: order
kind: travel trailer
bank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 200 Ah}}
modules: {m: {power: 100 W, voc: 22.3 V, isc: 5.9 A, vmp: 18.6 V, imp: 5.38 A, fuse: 15 A}}
controllers: {c: {survives: 100 V, output: 40 A}}
arrays: [{name: roof, module: m, controller: c, strings: 4}]
inverters: {i: {power: 1000 W}}
vehicle: {alternators: [{rated: 160 A}]}
charge line: [{fuse: 60 A}, {run: {gauge: 4 AWG, length: 20 ft}}, {dc-dc: {output: 30 A}}]
shore: {inlet: 30 A, chargers: {c: {output: 40 A}}, cord: {gauge: 10 AWG, length: 25 ft}}
appliances: [{name: lights, runs on: dc, power: 30 W, on: 18:00-22:00}]
`))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	w, err := Wire(doc)
	if err != nil {
		t.Fatal(err)
	}
	at := func(device string) (order, prove string) {
		a, err := w.Live(device)
		if err != nil {
			t.Fatal(err)
		}
		return strings.Join(a.Order, "\n"), strings.Join(a.Prove, "\n")
	}
	house, proof := at("house feed fuse")
	before := ""
	for _, step := range []string{"unplug the shore cord", "stop the engine, then open charge line fuse", "open roof disconnect", "open main switch", "open house feed fuse last"} {
		_, rest, found := strings.Cut(house, step)
		if !found || before != "" && !strings.Contains(house[strings.Index(house, before):], step) {
			t.Errorf("%q does not come after %q in\n%s", step, before, house)
		}
		before, _ = step, rest
	}
	if strings.Contains(house, "string fuses") || !strings.Contains(proof, "direct-voltage range") {
		t.Errorf("order\n%s\nproof\n%s", house, proof)
	}
	roof, _ := at("roof disconnect")
	if open, fuses := strings.Index(roof, "open roof disconnect"), strings.Index(roof, "open string fuses"); open < 0 || fuses < open {
		t.Errorf("string fuses are pulled under load:\n%s", roof)
	}
	for _, device := range []string{"inlet breaker", "inverter i output breaker"} {
		if _, proof := at(device); !strings.Contains(proof, "alternating-voltage range") || strings.Contains(proof, "set the meter to a direct-voltage range") {
			t.Errorf("%s is proved dead by\n%s", device, proof)
		}
	}
}
