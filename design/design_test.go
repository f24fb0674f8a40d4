package design_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"campwright/conductor"
	"campwright/design"
	"campwright/figure"
	"campwright/internal/near"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

func open(t testing.TB, path string) rig.Rig {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	doc, faults := rig.Decode(bytes.NewReader(text))
	if err := faults.Err(); err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	return doc
}

func examples(t testing.TB) []string {
	t.Helper()
	paths, err := filepath.Glob("../examples/*.yaml")
	if err != nil || len(paths) < 4 {
		t.Fatalf("found %d demo rigs: %v", len(paths), err)
	}
	return paths
}

func wire(t testing.TB, doc rig.Rig) *design.Wired {
	t.Helper()
	w, err := design.Wire(doc)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func runOf(t testing.TB, w *design.Wired, name string) *rig.Wire {
	t.Helper()
	for i := range w.Proposal.Doc.Wiring.Runs {
		if r := &w.Proposal.Doc.Wiring.Runs[i]; r.Name == name {
			return r
		}
	}
	t.Fatalf("no run %q", name)
	return nil
}

func awg(v rig.Value) string { return strings.TrimSpace(v.Quantity.String()) }

// What an upfitter would sign for the demo rigs. Common practice, no source: a class T main fuse on LFP at 125 % of the inverter's current with
// the loads, 2/0 or 4/0 for 2 to 3 kW at 12 V within 3 % there and back, branches on blades, two-pole disconnects for the arrays.
func TestPropose_Examples(t *testing.T) {
	for _, c := range []struct {
		file, main, inverter string
		fuse                 float64
		gauges               string
		lost                 float64
	}{
		{"desert-trailer.yaml", "main", "inverter under the bed", 300, "2/0 AWG or 4/0 AWG", 0.03},
		{"fifth-wheel.yaml", "main", "inverter main", 400, "4/0 AWG", 0.036},
		{"coastal-camper.yaml", "main", "inverter under the step", 150, "2 AWG or 1/0 AWG", 0.03},
		{"northern-van.yaml", "main", "inverter small", 110, "25 mm2 or 35 mm2", 0.03},
	} {
		w := wire(t, open(t, "../examples/"+c.file))
		main := runOf(t, w, c.main)
		if f := main.Devices[0]; f.Family != "class T fuse" || f.Rating.Quantity.Base != c.fuse {
			t.Errorf("%s: main fuse %s %s, want class T %g A", c.file, f.Family, f.Rating.Text(), c.fuse)
		}
		if g := awg(runOf(t, w, c.inverter).Gauge); !strings.Contains(c.gauges, g) {
			t.Errorf("%s: inverter on %s, want %s", c.file, g, c.gauges)
		}
		n := w.Net()
		for _, s := range w.Solved[1] {
			if s.Problem != "" {
				t.Errorf("%s, %s: %s", c.file, s.State.Name, s.Problem)
				continue
			}
			near.Within(t, c.file+", "+s.State.Name+": Kirchhoff's first law", s.Proof.Imbalance, 0, 1e-9, "share of the largest current")
			if s.State.Name != system.StateInverter {
				continue
			}
			part, _ := s.Part(c.inverter)
			near.Within(t, c.file+": lost between posts and inverter", (s.BankPostsV()-part.Volts)/n.BankV, 0, c.lost, "3 % practice; the fifth wheel's says that no single cable keeps it")
		}
		if len(w.Proposal.Edits) == 0 || len(w.Proposal.Choices) < 10 {
			t.Errorf("%s: %d edits, %d choices", c.file, len(w.Proposal.Edits), len(w.Proposal.Choices))
		}
		for _, ch := range w.Proposal.Choices {
			if ch.Why == "" || ch.Chosen == "" || ch.Path == "" || ch.Book == "" {
				t.Errorf("%s: %+v says too little", c.file, ch)
			}
		}
	}
}

// Accepted, a proposal leaves a rig that has no more to be proposed for, whose file reads back the same, and whose fuses protect their cables by
// the book that chose them.
func TestPropose_Accepted(t *testing.T) {
	for _, path := range examples(t) {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		w := wire(t, open(t, path))
		after, err := rig.Apply(text, w.Proposal.Edits)
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		doc, faults := rig.Decode(bytes.NewReader(after))
		if err := faults.Err(); err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		again := wire(t, doc)
		if len(again.Proposal.Edits) != 0 {
			t.Errorf("%s: there is more to propose: %+v", path, again.Proposal.Edits)
		}
		n := again.Net()
		looked := 0
		for i := range n.Devices {
			d := &n.Devices[i]
			if !d.Protects() || d.RatingA == 0 || d.Run < 0 {
				continue
			}
			r := &n.Runs[d.Run]
			if strings.HasPrefix(r.Path, "charge line") || r.Unknown {
				continue // the owner's own
			}
			rating, err := conductor.Ampacity(r.Use)
			if err != nil {
				t.Errorf("%s, %s: %v", path, r.Path, err)
				continue
			}
			limit, err := conductor.LargestFuse(rating, r.Volts)
			if err != nil {
				t.Fatal(err)
			}
			if !limit.Allows(d.RatingA) && r.Side != conductor.Photovoltaic {
				t.Errorf("%s: %g A before %s %s, which bears %.0f A", path, d.RatingA, r.Path, r.Use.Gauge, limit.Amps)
			}
			looked++
		}
		if looked < 8 {
			t.Errorf("%s: only %d devices looked at", path, looked)
		}
	}
}

// Every current in every state passes through a device that carries it.
func TestPropose_CarriesEveryState(t *testing.T) {
	for _, path := range examples(t) {
		w := wire(t, open(t, path))
		n := w.Net()
		for i := range n.Devices {
			d := &n.Devices[i]
			if d.RatingA == 0 || strings.HasPrefix(d.Path, "charge line") {
				continue
			}
			for k := range w.Solved[1] {
				s := &w.Solved[1][k]
				if a := s.AmpsThrough(n, i); a > d.RatingA && !s.State.Surge {
					t.Errorf("%s: %s of %g A carries %.1f A in %q", path, d.Title(n), d.RatingA, a, s.State.Name)
				}
			}
		}
	}
}

// A run that a proposal chose at one book's table is chosen by another's at another: the same rig by all books, and each says which table spoke.
func TestPropose_Books(t *testing.T) {
	seen := map[string]bool{}
	for _, b := range conductor.Books() {
		doc := open(t, "../examples/desert-trailer.yaml")
		doc.Book = b.String()
		w := wire(t, doc)
		for _, c := range w.Proposal.Choices {
			if c.Part == "main" {
				seen[c.Chosen+" by "+c.Book+", as "+c.Why] = true // the allowance for the whole path may ask for more than a table does
			}
		}
		if len(w.Proposal.Choices) == 0 {
			t.Errorf("%s proposes nothing", b)
		}
	}
	if len(seen) < 3 {
		t.Errorf("the books agree too well: %v", seen)
	}
}

// A written run is left as it is; what it leaves out is proposed for.
func TestPropose_KeepsWhatIsThere(t *testing.T) {
	doc := open(t, "../examples/northern-van.yaml")
	doc.Wiring = &rig.Wiring{
		Bars: []rig.Bar{{Name: "rail", Rails: "both"}},
		Runs: []rig.Wire{
			{Name: "feed", From: "bank +", To: "bus bar rail +", Gauge: parse(t, "35 mm2", quantity.Section), Length: parse(t, "0.5 m", quantity.Length),
				Devices: []rig.Device{{Name: "old fuse", Kind: "fuse", Family: "strip limiter fuse", Rating: parse(t, "100 A", quantity.Current)}}},
			{Name: "feed back", From: "bank -", To: "bus bar rail -", Gauge: parse(t, "35 mm2", quantity.Section), Length: parse(t, "0.5 m", quantity.Length)},
		},
	}
	w := wire(t, doc)
	if got := w.Proposal.Doc.Wiring.Runs[0]; awg(got.Gauge) != "35 mm2" || got.Devices[0].Name != "old fuse" {
		t.Errorf("the written run became %+v", got)
	}
	for _, r := range w.Proposal.Doc.Wiring.Runs {
		if r.Name == "main" {
			t.Error("a second main run is proposed")
		}
	}
	if r := runOf(t, w, "inverter small"); r.From != "bus bar rail" {
		t.Errorf("the inverter hangs on %s", r.From)
	}
}

func parse(t testing.TB, text string, k quantity.Kind) rig.Value {
	t.Helper()
	v, err := rig.ParseValue(text, k)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Lengths come from where things sit when the file says so, and the size then no longer rests on a guess of a default.
func TestPropose_Bays(t *testing.T) {
	doc := open(t, "../examples/desert-trailer.yaml")
	at := func(aft, left float64) rig.Bay {
		return rig.Bay{Aft: parse(t, quantity.Digits(aft, 4, 2)+" m", quantity.Length), Left: parse(t, quantity.Digits(left, 4, 2)+" m", quantity.Length), Up: parse(t, "0.3 m", quantity.Length)}
	}
	bench, bed := at(1, 0.5), at(2.5, 1)
	bench.Name, bench.Holds = "bench", []string{"bank"}
	bed.Name, bed.Holds = "bed", []string{"inverter under the bed"}
	doc.Wiring = &rig.Wiring{Bays: []rig.Bay{bench, bed}}
	full, _ := system.Complete(doc)
	from, err := full.Terminal("bank")
	if err != nil {
		t.Fatal(err)
	}
	to, err := full.Terminal("inverter under the bed")
	if err != nil {
		t.Fatal(err)
	}
	v := system.RunLength(&full, from, to)
	near.Abs(t, "shortest", v.Low, math.Hypot(1.5, 0.5), 1e-9, "the straight line")
	near.Abs(t, "likely", v.Quantity.Base, 1.1*2+0.3, 1e-9, "along the three directions, a tenth more and two lugs")
	if v.Why == "" || v.High <= v.Quantity.Base {
		t.Errorf("length %+v", v)
	}
}

// Live or dead: the main fuse of the desert trailer leaves both its ends live, a branch fuse darkens its load alone, and the order given leaves
// no source at the place.
func TestLive_DesertTrailer(t *testing.T) {
	w := wire(t, open(t, "../examples/desert-trailer.yaml"))
	main, err := w.Live("main fuse")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"array front pair, in daylight", "shore"} {
		if !contains(main.Behind.Sources, want) {
			t.Errorf("behind the main fuse: %v, want %s", main.Behind.Sources, want)
		}
	}
	if !contains(main.Before.Sources, "block 1") || contains(main.Dark, "breathing machine") {
		t.Errorf("before: %v, dark: %v: what hangs ahead of the switch stays on", main.Before.Sources, main.Dark)
	}
	if !contains(main.Unsteady, "lights") {
		t.Errorf("the lights hang on the controllers alone now: %v", main.Unsteady)
	}
	lights, err := w.Live("lights fuse")
	if err != nil {
		t.Fatal(err)
	}
	if len(lights.Dark) != 1 || lights.Dark[0] != "lights" {
		t.Errorf("the lights' fuse darkens %v", lights.Dark)
	}
	if len(lights.Order) < 2 || len(lights.Prove) < 3 || len(main.Remaining) != 0 {
		t.Errorf("order %v, proof %v, remaining %v", lights.Order, lights.Prove, main.Remaining)
	}
	if _, err := w.Live("no such thing"); err == nil {
		t.Error("a device that is not there is answered for")
	}
}

func contains(list []string, want string) bool {
	for _, s := range list {
		if s == want {
			return true
		}
	}
	return false
}

// What is proposed is in lengths that are cut from a reel: half feet, or tenths of a metre, and accepted it reads so in either unit.
func TestPropose_Lengths(t *testing.T) {
	looked := 0
	for _, path := range examples(t) {
		w := wire(t, open(t, path))
		doc := w.Proposal.Doc
		check := func(at string, v rig.Value) {
			if v.State == figure.Absent || v.Quantity.Base == 0 {
				return
			}
			for _, m := range []float64{v.Quantity.Base, v.Low, v.High} {
				if m == 0 {
					continue
				}
				looked++
				feet, tenths := m/0.1524, m/0.1
				if math.Abs(feet-math.Round(feet)) > 1e-6 && math.Abs(tenths-math.Round(tenths)) > 1e-6 {
					t.Errorf("%s: %s is %.4f m", path, at, m)
				}
			}
		}
		for i, at := range doc.RunPaths() {
			if strings.HasPrefix(at, "wiring/runs/") {
				check(at, doc.Wiring.Runs[i].Length)
			}
		}
		for i := range doc.Wiring.FuseBlocks {
			b := &doc.Wiring.FuseBlocks[i]
			for k, at := range b.BranchPaths() {
				check(at, b.Branches[k].Length)
			}
		}
	}
	if looked < 60 {
		t.Fatalf("only %d lengths looked at", looked)
	}
}

// No list of an answer is null, whatever is lacking.
func TestAnswer_NoNull(t *testing.T) {
	looked := 0
	for _, path := range examples(t) {
		doc := open(t, path)
		for _, bare := range []bool{false, true} {
			if bare {
				doc.Appliances, doc.Inverters, doc.Arrays, doc.Controllers, doc.Shore, doc.Vehicle, doc.ChargeLine, doc.Generators = nil, nil, nil, nil, nil, nil, nil, nil
				doc.Aims.NeverLose, doc.Wiring = nil, nil
			}
			text, err := json.Marshal(wire(t, doc).Answer())
			if err != nil {
				t.Fatal(err)
			}
			looked++
			for _, list := range []string{"states", "runs", "devices", "choices", "edits", "guesses", "loose", "problems", "blocks", "notes", "at", "ac", "untold", "left"} {
				if strings.Contains(string(text), `"`+list+`":null`) {
					t.Errorf("%s: %s is null", path, list)
				}
			}
		}
	}
	if looked < 8 {
		t.Fatalf("only %d answers", looked)
	}
}
