package system

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"campwright/internal/near"
	"campwright/rig"
)

// This file holds the network against cases that practitioners meet, M.. of a list of common mistakes whose arithmetic was recomputed by hand.
// Each is a whole rig file.

// network decodes, completes, assembles and builds.
func network(t testing.TB, text string, lean Lean) *Network {
	t.Helper()
	doc, faults := rig.Decode(strings.NewReader(text))
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	full, gaps := Complete(doc)
	if len(gaps) > 0 {
		t.Fatal(gaps)
	}
	sys, err := Assemble(&full, Draw{}, 60)
	if err != nil {
		t.Fatal(err)
	}
	n, err := NewNetwork(&full, sys, Draw{}, lean)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// solved solves one state and demands its proof.
func solved(t testing.TB, n *Network, name string) Solved {
	t.Helper()
	s, ok := n.State(name)
	if !ok {
		t.Fatalf("no state %q", name)
	}
	out := n.Solve(s)
	if out.Problem != "" {
		t.Fatalf("%s: %s", name, out.Problem)
	}
	if !(out.Proof.Imbalance <= 1e-9) || !(out.Proof.Stiffness > 0) {
		t.Errorf("%s: proof %+v", name, out.Proof)
	}
	return out
}

const head = "campwright: 1\nname: test\nkind: van\n"

// M27: two blocks of 3 mΩ on leads of 0.4 and 2.4 mΩ share 200 A as 122.7 and 77.3 A. The lead's ohms are put on the plus side, the load is an
// inverter that draws what makes 200 A.
func TestNetwork_M27(t *testing.T) {
	n := network(t, head+`
bank: {chemistry: LFP, blocks: 2, block: {capacity: 100 Ah, resistance: 3 mohm}}
appliances: [{name: heavy, runs on: dc, power: 200 A}]
wiring:
  bus bars: {main: {rating: 300 A}}
  fuse blocks: {board: {branches: [{feeds: [heavy], fuse: 200 A, gauge: 4/0 AWG, length: 1 ft}]}}
  runs:
    - {from: block 1 +, to: bus bar main +, resistance: 0.4 mohm}
    - {from: block 2 +, to: bus bar main +, resistance: 2.4 mohm}
    - {from: block 1 -, to: bus bar main -, resistance: 0 mohm}
    - {from: block 2 -, to: bus bar main -, resistance: 0 mohm}
    - {from: bus bar main, to: fuse block board, gauge: 4/0 AWG, length: 1 ft}
`, Nominal)
	s := solved(t, n, StateLoads)
	total := s.Blocks[0].Amps + s.Blocks[1].Amps
	near.Abs(t, "block 1 share of 200 A", 200*s.Blocks[0].Amps/total, 122.7, 0.1, "M27; the minus leads of a microohm are inside the tolerance")
	near.Abs(t, "block 2 share of 200 A", 200*s.Blocks[1].Amps/total, 77.3, 0.1, "M27")
}

// M28: four blocks of 2 mΩ on links of 0.3 mΩ, taken off at one end, diagonally, and by equal leads to bus bars.
func TestNetwork_M28(t *testing.T) {
	links := func(minusAt int) string {
		var b strings.Builder
		for i := 1; i < 4; i++ {
			fmt.Fprintf(&b, "    - {from: block %d +, to: block %d +, resistance: 0.3 mohm}\n    - {from: block %d -, to: block %d -, resistance: 0.3 mohm}\n", i, i+1, i, i+1)
		}
		fmt.Fprintf(&b, "    - {from: block 1 +, to: bus bar main +, gauge: 4/0 AWG, length: 2 ft}\n    - {from: block %d -, to: bus bar main -, gauge: 4/0 AWG, length: 2 ft}\n", minusAt)
		return b.String()
	}
	bars := ""
	for i := 1; i <= 4; i++ {
		bars += fmt.Sprintf("    - {from: block %d, to: bus bar main, gauge: 2 AWG, length: 2 ft}\n", i)
	}
	for _, c := range []struct {
		name, runs string
		want       [4]float64
	}{
		{"same end", links(1), [4]float64{86.6, 52.6, 34.4, 26.4}},
		{"diagonal", links(4), [4]float64{56.5, 43.5, 43.5, 56.5}},
		{"bus bars", bars, [4]float64{50, 50, 50, 50}},
	} {
		n := network(t, head+`
bank: {chemistry: LFP, blocks: 4, block: {capacity: 100 Ah, resistance: 2 mohm}}
appliances: [{name: heavy, runs on: dc, power: 200 A}]
wiring:
  bus bars: {main: {rating: 300 A}}
  fuse blocks: {board: {branches: [{feeds: [heavy], fuse: 200 A, gauge: 4/0 AWG, length: 1 ft}]}}
  runs:
    - {from: bus bar main, to: fuse block board, gauge: 4/0 AWG, length: 1 ft}
`+c.runs, Nominal)
		s := solved(t, n, StateLoads)
		total := 0.0
		for _, b := range s.Blocks {
			total += b.Amps
		}
		for i, want := range c.want {
			near.Abs(t, fmt.Sprintf("%s, block %d", c.name, i+1), 200*s.Blocks[i].Amps/total, want, 0.06, "M28, which reproduces a table published in a forum")
		}
	}
}

// M32: three blocks of 3 mΩ and 0.5 mΩ of path drive 9,067 A at 13.6 V.
func TestNetwork_M32(t *testing.T) {
	n := network(t, head+`
bank: {chemistry: LFP, blocks: 3, block: {capacity: 100 Ah, resistance: 3 mohm}}
wiring:
  bus bars: {bank: {rating: 500 A}, stud: {rails: plus, rating: 500 A}, main: {rating: 500 A}}
  runs:
    - {from: block 1, to: bus bar bank, resistance: 0 mohm}
    - {from: block 2, to: bus bar bank, resistance: 0 mohm}
    - {from: block 3, to: bus bar bank, resistance: 0 mohm}
    - {name: path, from: bus bar bank +, to: bus bar stud +, resistance: 0.5 mohm}
    - {name: main, from: bus bar stud +, to: bus bar main +, resistance: 0 mohm, devices: [{name: main fuse, kind: fuse, family: strip limiter fuse, rating: 300 A, resistance: 0 mohm}]}
    - {from: bus bar bank -, to: bus bar main -, resistance: 0 mohm}
`, Nominal)
	faults, err := n.Faults()
	if err != nil {
		t.Fatal(err)
	}
	d, ok := n.FindDevice("main fuse")
	if !ok {
		t.Fatal("no main fuse")
	}
	volts := n.FaultVolts()
	near.Abs(t, "voltage from which faults count", volts, 13.6, 1e-9, "3.4 V a cell")
	near.Abs(t, "through the main fuse", faults[d].Amps, 9067, 30, "M32; a few microohms stand where it has none")
	if faults[d].Short != "behind it" {
		t.Errorf("the worst short lies %s", faults[d].Short)
	}
}

// TestFault_LeadAcid: a full lead-acid block hardly takes a charge and gives a fault all that its ohms let through. Two blocks of 3 mΩ and 0.5 mΩ
// of path from a full rest voltage of 12.6 to 12.9 V (common practice, no source): Ohm's law gives 6,300 to 6,450 A.
func TestFault_LeadAcid(t *testing.T) {
	for _, chemistry := range []string{"flooded", "AGM", "gel"} {
		n := network(t, head+`
bank: {chemistry: `+chemistry+`, blocks: 2, block: {capacity: 200 Ah, resistance: 3 mohm}}
wiring:
  bus bars: {bank: {rating: 500 A}, stud: {rails: plus, rating: 500 A}, main: {rating: 500 A}}
  runs:
    - {from: block 1, to: bus bar bank, resistance: 0 mohm}
    - {from: block 2, to: bus bar bank, resistance: 0 mohm}
    - {name: path, from: bus bar bank +, to: bus bar stud +, resistance: 0.5 mohm}
    - {name: main, from: bus bar stud +, to: bus bar main +, resistance: 0 mohm, devices: [{name: main fuse, kind: fuse, family: class T fuse, rating: 300 A, resistance: 0 mohm}]}
    - {from: bus bar bank -, to: bus bar main -, resistance: 0 mohm}
`, Nominal)
		faults, err := n.Faults()
		if err != nil {
			t.Fatal(err)
		}
		d, ok := n.FindDevice("main fuse")
		if !ok {
			t.Fatal("no main fuse")
		}
		near.Within(t, chemistry+", volts from which faults count", n.FaultVolts(), 12.6, 12.95, "a full lead-acid block at rest")
		near.Rel(t, chemistry+", through the main fuse", faults[d].Amps, n.FaultVolts()/(0.003/2+0.0005), 0.01, "Ohm's law; a few microohms stand where it has none")
	}
}

// M41: 3,000 W through 12 ft of 2 AWG loses 9.9 % in cable, and 0.41 V in 8 ft of 2/0. The case takes a fixed 266.7 A; the network solves for a
// load of constant power, so the comparison is of the loop's ohms times the current it finds.
func TestNetwork_M41(t *testing.T) {
	for _, c := range []struct {
		gauge        string
		feet, drop12 float64
	}{{"2/0 AWG", 8, 0.41}, {"2 AWG", 12, 1.24}} {
		n := network(t, head+fmt.Sprintf(`
bank: {chemistry: LFP, block: {capacity: 300 Ah, resistance: 1 mohm, discharge limit: 300 A}}
inverters: {big: {power: 3000 W, efficiency: 90 %%, idle: 0 W}}
wiring:
  runs:
    - {name: feed, from: bank, to: inverter big, gauge: %s, length: %g ft}
`, c.gauge, c.feet), Nominal)
		s := solved(t, n, StateInverter)
		r := s.Runs[0]
		near.Abs(t, c.gauge+" drop at 266.7 A without lugs", 266.7*(r.DropV/r.Amps-4*lugOhm[1]), c.drop12, 0.006, "M41 to two decimals; its cable alone")
		inverter, ok := s.Part("inverter big")
		if !ok {
			t.Fatal("no inverter")
		}
		near.Rel(t, c.gauge+" power at the inverter", inverter.Amps*inverter.Volts, n.Sys.Inverters[0].Unit.DCW(3000), 1e-9, "constant power")
	}
}

// M10: 400 W over 30 ft of 10 AWG loses 9.2 % as four side by side, 2.3 % as two by two and 0.57 % as four in series.
func TestNetwork_M10(t *testing.T) {
	for _, c := range []struct {
		series, strings int
		loss            float64
	}{{1, 4, 9.2}, {2, 2, 2.3}, {4, 1, 0.57}} {
		n := network(t, head+fmt.Sprintf(`
modules: {m: {voc: 21.6 V, isc: 6.0 A, vmp: 18 V, imp: 5.56 A}}
controllers: {c: {survives: 150 V, output: 50 A}}
arrays: [{name: a, module: m, controller: c, in series: %d, strings: %d, run: {gauge: 10 AWG, length: 30 ft}}]
bank: {chemistry: LFP, block: {capacity: 100 Ah}}
`, c.series, c.strings), Nominal)
		s := n.Solve(State{Name: "standard", SoC: 0.5, BankC: 25, Sun: SunHot})
		if s.Problem != "" {
			t.Fatal(s.Problem)
		}
		r, _ := n.Run("arrays/a/run")
		at := s.Runs[0]
		// The case counts at label current; the solution at a hot noon has nearly that current and a lower voltage.
		ohms := at.DropV/at.Amps - 4*thinLugOhm[1]
		amps := 5.56 * float64(c.strings)
		near.Abs(t, fmt.Sprintf("%dS%dP loss [%%]", c.series, c.strings), 100*ohms*amps/(18*float64(c.series)), c.loss, 0.05, "M10 to one decimal; its cable alone")
		near.Abs(t, "voltage of its circuit", r.Volts, 18*float64(c.series), 1e-6, "the label")
	}
}

// A line of plain ohms: what a meter read in a hidden harness decides, whatever gauge and length are written.
func TestNetwork_HiddenHarness(t *testing.T) {
	n := network(t, head+`
bank: {chemistry: LFP, block: {capacity: 200 Ah, resistance: 2 mohm}}
inverters: {old: {power: 700 W, efficiency: 90 %, idle: 0 W}}
wiring:
  runs:
    - {name: found, from: bank, to: inverter old, gauge: unknown, length: unknown, reading: {start: 12.9 V measured, end: 12.0 V measured, current: 60 A measured}}
`, Nominal)
	s := solved(t, n, StateInverter)
	near.Rel(t, "loop of the hidden harness", s.Runs[0].DropV/s.Runs[0].Amps, 0.015, 1e-9, "0.9 V at 60 A is 15 mΩ, a case of the trade")
	if !n.Runs[0].FromMeter || len(n.Runs[0].Guessed) != 0 {
		t.Errorf("the run counts as %+v", n.Runs[0])
	}
}

// What hangs in no network: a rig without any wiring has loose parts and solves to rest.
func TestNetwork_WithoutWiring(t *testing.T) {
	n := network(t, head+`
bank: {chemistry: LFP, block: {capacity: 100 Ah}}
inverters: {small: {power: 600 W}}
appliances: [{name: lamp, power: 20 W}]
`, Nominal)
	if len(n.Loose) < 3 {
		t.Errorf("loose parts: %+v", n.Loose)
	}
	s := solved(t, n, StateInverter)
	for _, b := range s.Blocks {
		near.Abs(t, "current of "+b.Name, b.Amps, 0, 1e-3, "nothing is joined to it but a megohm")
	}
	if math.IsNaN(s.BankPostsV()) {
		t.Error("no voltage")
	}
}

// TestProbe: one ampere at a load flows through everything before it once, and through nothing else: by hand on a tree.
func TestProbe(t *testing.T) {
	n := network(t, head+`
bank: {chemistry: LFP, block: {capacity: 200 Ah, resistance: 3 mohm}}
appliances: [{name: winch, runs on: dc, power: 900 W}, {name: lights, runs on: dc, power: 300 W}]
wiring:
  bus bars: {main: {rating: 50 A}}
  fuse blocks: {board: {rating: 50 A, branches: [{feeds: [winch], fuse: 30 A, gauge: 6 AWG, length: 60 ft}, {feeds: [lights], fuse: 40 A, gauge: 8 AWG, length: 3 ft}]}}
  runs:
    - {from: bank, to: bus bar main, gauge: 1/0 AWG, length: 1 ft, devices: [{name: main fuse, kind: fuse, rating: 60 A, family: class T fuse, at: 6 in}]}
    - {from: bus bar main, to: fuse block board, gauge: 1/0 AWG, length: 3 ft}
`, Nominal)
	probe := n.Probe(0)
	if n.Loads[0].Name != "winch" || probe.Problem != "" {
		t.Fatalf("%q: %s", n.Loads[0].Name, probe.Problem)
	}
	for name, want := range map[string]float64{"main fuse": 1, "winch fuse": 1, "lights fuse": 0} {
		d, ok := n.FindDevice(name)
		if !ok {
			t.Fatalf("no %s", name)
		}
		near.Abs(t, name, probe.AmpsThrough(n, d), want, 1e-6, "a tree")
	}
}
