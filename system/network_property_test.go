package system

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"campwright/internal/near"
	"campwright/rig"
)

const propertySeed = 20

var gauges = []string{"8 AWG", "6 AWG", "4 AWG", "2 AWG", "1/0 AWG", "2/0 AWG", "4/0 AWG"}

// meshed is a rig of several blocks, bars and cross links, of random sizes; extra adds runs.
func meshed(r *rand.Rand, extra ...string) string {
	var b strings.Builder
	size := func() string { return gauges[r.IntN(len(gauges))] }
	length := func() string { return fmt.Sprintf("%.2f m", 0.2+2*r.Float64()) }
	blocks := 2 + r.IntN(3)
	fmt.Fprintf(&b, "%sbank: {chemistry: LFP, blocks: %d, block: {capacity: 100 Ah, resistance: %.1f mohm}}\n", head, blocks, 1+3*r.Float64())
	b.WriteString("inverters: {one: {power: 800 W, efficiency: 90 %}}\nappliances: [{name: lamp, power: 30 W}, {name: pump, power: 60 W}]\n")
	b.WriteString("wiring:\n  bus bars: {near: {rating: 300 A}, far: {rating: 300 A}}\n  fuse blocks: {house: {branches: [{feeds: [lamp], fuse: 5 A, gauge: 14 AWG, length: 3 m}, {feeds: [pump], fuse: 10 A, gauge: 12 AWG, length: 2 m}]}}\n  runs:\n")
	for i := range blocks {
		fmt.Fprintf(&b, "    - {from: block %d +, to: bus bar near +, gauge: %s, length: %s}\n    - {from: block %d -, to: bus bar near -, gauge: %s, length: %s}\n", i+1, size(), length(), i+1, size(), length())
		if i > 0 && r.IntN(2) == 0 {
			fmt.Fprintf(&b, "    - {from: block %d +, to: block %d +, gauge: %s, length: %s}\n", i, i+1, size(), length())
		}
	}
	fmt.Fprintf(&b, "    - {name: main, from: bus bar near, to: bus bar far, gauge: %s, length: %s, devices: [{name: main fuse, kind: fuse, family: class T fuse, rating: 200 A, at: 10 cm}]}\n", size(), length())
	fmt.Fprintf(&b, "    - {from: bus bar far, to: inverter one, gauge: %s, length: %s}\n    - {from: bus bar far, to: fuse block house, gauge: %s, length: %s}\n", size(), length(), size(), length())
	for _, x := range extra {
		b.WriteString(x)
	}
	return b.String()
}

// Kirchhoff's first law at every node, from the currents that are told and nothing else.
func TestNetwork_KirchhoffFromWhatIsTold(t *testing.T) {
	for k := range 30 {
		n := network(t, meshed(rand.New(rand.NewPCG(propertySeed, uint64(k)))), Nominal)
		for _, s := range n.States() {
			out := n.Solve(s)
			if out.Problem != "" {
				t.Fatalf("seed %d/%d, %s: %s", propertySeed, k, s.Name, out.Problem)
			}
			most, parts := 1e-6, map[int]bool{}
			for i := range n.Blocks {
				parts[n.index[fmt.Sprintf("block %d +", i+1)]], parts[n.index[fmt.Sprintf("block %d -", i+1)]] = true, true
			}
			for _, l := range n.Loads {
				parts[l.Plus], parts[l.Minus] = true, true
			}
			parts[n.index["inverter one +"]], parts[n.index["inverter one -"]] = true, true
			sum := make([]float64, len(n.Nodes))
			for i, e := range n.Edges {
				sum[e.A] -= out.EdgeA[i]
				sum[e.B] += out.EdgeA[i]
				most = math.Max(most, math.Abs(out.EdgeA[i]))
			}
			for i := range sum {
				if !parts[i] {
					near.Abs(t, fmt.Sprintf("seed %d/%d, %s, %s", propertySeed, k, s.Name, n.Nodes[i].Name), sum[i]/most, 0, 1e-9, "Kirchhoff's first law")
				}
			}
			for i := range n.Edges {
				e := n.Edges[i]
				near.Abs(t, "Ohm's law", out.NodeV[e.A]-out.NodeV[e.B], out.EdgeA[i]*e.Ohms, 1e-9, "the solver keeps differences to the last digit")
			}
		}
	}
}

// A thicker or shorter run never has more resistance, so at a fixed current it never drops more.
func TestNetwork_ThickerShorterDropsLess(t *testing.T) {
	last := math.Inf(1)
	for _, g := range gauges {
		n := network(t, head+fmt.Sprintf("bank: {chemistry: LFP, block: {capacity: 100 Ah}}\ninverters: {one: {power: 300 W}}\nwiring: {runs: [{from: bank, to: inverter one, gauge: %s, length: 2 m}]}\n", g), Nominal)
		s := solved(t, n, StateInverter)
		ohms := s.Runs[0].DropV / s.Runs[0].Amps
		if !(ohms < last) {
			t.Errorf("%s has %g ohm, the thinner one %g", g, ohms, last)
		}
		last = ohms
	}
	last = 0
	for _, m := range []float64{0.2, 0.5, 1, 2, 5, 10} {
		n := network(t, head+fmt.Sprintf("bank: {chemistry: LFP, block: {capacity: 100 Ah}}\ninverters: {one: {power: 300 W}}\nwiring: {runs: [{from: bank, to: inverter one, gauge: 4 AWG, length: %g m}]}\n", m), Nominal)
		s := solved(t, n, StateInverter)
		ohms := s.Runs[0].DropV / s.Runs[0].Amps
		if !(ohms > last) {
			t.Errorf("%g m has %g ohm, the shorter one %g", m, ohms, last)
		}
		last = ohms
	}
}

// Copper added to a mesh never lowers the current into a fault (Rayleigh's monotonicity law).
func TestNetwork_CopperNeverLowersFault(t *testing.T) {
	looked := 0
	for k := range 40 {
		seed := func() *rand.Rand { return rand.New(rand.NewPCG(propertySeed+1, uint64(k))) }
		total := func(extra ...string) float64 {
			n := network(t, meshed(seed(), extra...), Least)
			list, err := n.Faults()
			if err != nil {
				t.Fatal(err)
			}
			d, ok := n.FindDevice("main fuse")
			if !ok {
				t.Fatal("no main fuse")
			}
			looked++
			return list[d].TotalA
		}
		before := total()
		after := total("    - {from: block 1 +, to: bus bar near +, gauge: 2 AWG, length: 0.7 m}\n", "    - {from: block 2 -, to: bus bar near -, gauge: 2 AWG, length: 0.7 m}\n")
		if after < before*(1-1e-9) {
			t.Errorf("seed %d/%d: %g A before, %g A with more copper", propertySeed+1, k, before, after)
		}
	}
	if looked != 80 {
		t.Fatalf("looked at %d", looked)
	}
}

// Names and the order of runs change nothing.
func TestNetwork_Relabelled(t *testing.T) {
	for k := range 20 {
		text := meshed(rand.New(rand.NewPCG(propertySeed+2, uint64(k))))
		lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
		first := slices.IndexFunc(lines, func(l string) bool { return l == "  runs:" }) + 1
		slices.Reverse(lines[first:])
		other := strings.NewReplacer("bus bar near", "bus bar zebra", "near:", "zebra:", "bus bar far", "bus bar ant", "far:", "ant:").Replace(strings.Join(lines, "\n") + "\n")
		a, b := network(t, text, Nominal), network(t, other, Nominal)
		x, y := solved(t, a, StateInverter), solved(t, b, StateInverter)
		for i := range x.Blocks {
			near.Rel(t, fmt.Sprintf("seed %d/%d, %s", propertySeed+2, k, x.Blocks[i].Name), y.Blocks[i].Amps, x.Blocks[i].Amps, 1e-9, "the same network under other names")
		}
		p, _ := x.Part("inverter one")
		q, _ := y.Part("inverter one")
		near.Rel(t, "inverter's voltage", q.Volts, p.Volts, 1e-11, "the same network under other names")
	}
}

// FuzzWiring: whatever a wiring section says, no panic; a rig without faults gives a network, and every state a solution with its proof or a
// reason why there is none.
func FuzzWiring(f *testing.F) {
	seeds := 0
	for _, path := range []string{"../rig/testdata/v1-wiring.yaml", "../rig/testdata/bad/wiring.yaml", "../rig/testdata/v1-everything.yaml", "../examples/coastal-camper.yaml"} {
		text, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
		seeds++
	}
	for k := range 6 {
		f.Add(meshed(rand.New(rand.NewPCG(propertySeed, uint64(k)))))
		seeds++
	}
	if seeds < 10 {
		f.Fatalf("only %d seeds", seeds)
	}
	f.Fuzz(func(t *testing.T, text string) {
		doc, faults := rig.Decode(strings.NewReader(text))
		if len(faults) > 0 {
			return
		}
		full, gaps := Complete(doc)
		if len(gaps) > 0 || full.Bank == nil || full.Bank.Blocks.Quantity.Base > 20 || len(full.Arrays) > 20 || len(full.Modules) > 5 {
			return
		}
		sys, err := Assemble(&full, Draw{}, 60)
		if err != nil {
			return
		}
		for _, lean := range []Lean{Least, Nominal, Most} {
			n, err := NewNetwork(&full, sys, Draw{}, lean)
			if err != nil {
				continue
			}
			for _, s := range n.States() {
				out := n.Solve(s)
				if out.Problem == "" && !(out.Proof.Imbalance <= 1e-6) {
					t.Fatalf("%s: no problem and no proof: %+v", s.Name, out.Proof)
				}
			}
			if _, err := n.Faults(); err != nil && lean == Least {
				t.Logf("faults: %v", err)
			}
			for d := range n.Devices {
				n.Open(d)
			}
		}
	})
}
