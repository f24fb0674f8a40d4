package design

import (
	"strings"
	"testing"

	"campwright/figure"
	"campwright/internal/near"
	"campwright/system"
)

// TestUnsizable: where no single cable bears what flows, the run is laid with its size not known and the reason told, and what hangs on it is
// joined. A 3.6 kW inverter takes some 390 A from 12 V lead-acid at its cut-off (power over voltage), a quarter more for its fuse, and the thickest cable of [CFR-183]
// table 5 bears 445 A.
func TestUnsizable(t *testing.T) {
	w := wiredText(t, `campwright: 1
name: too much for one cable
kind: motorhome
bank: {chemistry: flooded, blocks: 4, in series: 2, block: {voltage: 6 V, capacity: 230 Ah}, inverter off at: 10.5 V}
inverters: {big: {power: 3600 W}}
`)
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
	w := wiredText(t, `campwright: 1
name: blower
kind: motorhome
bank: {chemistry: flooded, blocks: 2, in series: 2, block: {voltage: 6 V, capacity: 230 Ah}}
controllers: {c: {survives: 100 V, output: 60 A}}
modules: {m: {power: 200 W, voc: 24 V, isc: 10.4 A, vmp: 20 V, imp: 10 A}}
arrays: [{name: roof, module: m, controller: c, strings: 3}]
appliances:
  - {name: furnace, kind: furnace, runs on: propane, propane: 40000 BTU/h, blower: 11 A}
  - {name: lights, runs on: dc, power: 30 W, on: 18:00-22:00}
`)
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
	w := wiredText(t, `campwright: 1
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
`)
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

// TestMainsCopper: behind a breaker on the AC side no thinner copper than [NEC] 240.4(D) and the 60 C column of table 310.16 allow (from memory:
// 15 A on 14 AWG, 20 on 12, 30 on 10, 50 on 6), whatever the book of the rest; a split generator's breaker is sized by its current on a leg, power
// over 240 V.
func TestMainsCopper(t *testing.T) {
	least := map[float64]float64{15: 2.08, 20: 3.31, 30: 5.26, 50: 13.3}
	looked := 0
	for _, book := range []string{"us-rv", "us-boat"} {
		for inlet, service := range map[string]float64{"30 A": 30, "50 A": 50} {
			w := wiredText(t, "campwright: 1\nname: ac\nkind: fifth wheel\nbook: "+book+`
bank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 200 Ah}}
inverters: {i: {power: 2000 W}}
generators: {g: {power: 5500 W, legs: split}}
shore: {inlet: `+inlet+"}\n")
			for i := range w.Proposal.Doc.Wiring.Runs {
				r := &w.Proposal.Doc.Wiring.Runs[i]
				if len(r.Devices) == 0 || r.Devices[0].Kind != "breaker" || r.Devices[0].Made != "ac" {
					continue
				}
				looked++
				amps, mm2 := r.Devices[0].Rating.Quantity.Base, r.Gauge.Quantity.Base
				for breaker, thin := range least {
					if amps >= breaker && mm2 < thin-0.02 {
						t.Errorf("%s, %s: %s behind %g A", book, r.Name, r.Gauge.Text(), amps)
					}
				}
				if r.Name == "inlet" && amps != service || r.Name == "generator g" && amps != 25 { // 5500 / 240 = 22.9
					t.Errorf("%s, %s: breaker of %g A", book, r.Name, amps)
				}
			}
		}
	}
	if looked < 8 {
		t.Errorf("%d runs were looked at", looked)
	}
}

// TestBarsBearTheirFuse: no proposed bar is rated below the main fuse before it (common practice, no source), and a load of two watts on 48 V has
// no fuse of thirty amps.
func TestBarsBearTheirFuse(t *testing.T) {
	for _, volts := range []string{"12.8 V", "51.2 V"} {
		w := wiredText(t, "campwright: 1\nname: bars\nkind: van\nbank: {chemistry: LFP, block: {voltage: "+volts+`, capacity: 200 Ah}}
inverters: {i: {power: 2000 W}}
appliances: [{name: detector, runs on: dc, power: 2 W, on: always}]
`)
		fuse, bars := 0.0, 0
		for i := range w.Net().Devices {
			if d := &w.Net().Devices[i]; d.Name == "main fuse" {
				fuse = d.RatingA
			}
		}
		wiring := w.Proposal.Doc.Wiring
		for _, b := range wiring.Bars {
			bars++
			if b.Rating.Quantity.Base < fuse {
				t.Errorf("%s: bar %s of %g A behind %g A", volts, b.Name, b.Rating.Quantity.Base, fuse)
			}
		}
		for _, block := range wiring.FuseBlocks {
			for _, b := range block.Branches {
				if a := b.Fuse.Quantity.Base; a > 10 {
					t.Errorf("%s: %s behind %g A", volts, b.Name, a)
				}
			}
		}
		if fuse == 0 || bars == 0 {
			t.Errorf("%s: fuse %g A, %d bars", volts, fuse, bars)
		}
	}
}

// TestFaultOfLikeBlocks: blocks with like leads meet a short alike, whichever of them is the first (Kirchhoff's laws), and a short behind the
// main fuse is what all of them drive together, four times what one drives in the others' place or a little less: the run itself is in the way.
func TestFaultOfLikeBlocks(t *testing.T) {
	w := wiredText(t, `campwright: 1
name: four
kind: fifth wheel
bank: {chemistry: LFP, blocks: 4, block: {voltage: 12.8 V, capacity: 300 Ah, resistance: 1.4 mohm}}
inverters: {i: {power: 3000 W}}
`)
	fault := map[string]float64{}
	for i := range w.Net().Devices {
		fault[w.Net().Devices[i].Name] = w.Faults[i].Amps
	}
	one := fault["block 1 fuse"]
	for _, name := range []string{"block 2 fuse", "block 3 fuse", "block 4 fuse"} {
		near.Rel(t, name, fault[name], one, 1e-6, "all blocks and leads are alike")
	}
	// 13.6 V behind 1.4 mohm in each block, its leads at their short end and cold, 0.38 mohm in plus with the fuse and 0.18 in minus, and 0.105 to the
	// short behind the main fuse: 13.6 / (1.96 / 4 + 0.105) mohm = 22.9 kA, worked by hand.
	near.Rel(t, "behind the main fuse", fault["main fuse"], 22900, 0.03, "fuses and lugs by common practice")
}
