package web

import (
	"math"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"campwright/design"
	"campwright/rig"
	"campwright/store"

	"campwright/internal/near"
)

// leadNumber reads the number with which a text begins.
func leadNumber(t *testing.T, text string) float64 {
	t.Helper()
	head, _, _ := strings.Cut(text, " ")
	x, err := strconv.ParseFloat(strings.NewReplacer(",", "", "−", "-").Replace(head), 64)
	if err != nil {
		t.Fatalf("%q begins with no number", text)
	}
	return x
}

var demoRigs = []string{"desert-trailer.yaml", "coastal-camper.yaml", "northern-van.yaml", "fifth-wheel.yaml"}

// ohmicRig has one written run whose drop can be worked by hand: 10 ft of 6 AWG each way.
const ohmicRig = `campwright: 1
name: one run
kind: van
people: 1
bank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 100 Ah}}
appliances:
  - {name: heater, runs on: dc, power: 120 W, on: 18:00-20:00}
wiring:
  bus bars:
    main: {rails: both, rating: 150 A}
  runs:
    - {name: feed, from: bank, to: bus bar main, gauge: 6 AWG, length: 10 ft, devices: [{name: feed fuse, kind: fuse, family: class T fuse, rating: 80 A}]}
`

func runOf(t *testing.T, s *WiredSheet, name string) *WiredRun {
	t.Helper()
	for g := range s.Groups {
		for i := range s.Groups[g].Runs {
			if r := &s.Groups[g].Runs[i]; r.Name == name {
				return r
			}
		}
	}
	t.Fatalf("no run %q in %+v", name, s.Groups)
	return nil
}

func TestWiredWorkedCase(t *testing.T) {
	sheet := decoded[WiredSheet](t, get(newTestServer(t, rigFile(t, ohmicRig)), "/api/wired"))
	if sheet.State != "answered" {
		t.Fatalf("state %q, gaps %+v", sheet.State, sheet.Gaps)
	}
	r := runOf(t, &sheet, "feed")
	if r.Known != "written" || r.Gauge.US != "6 AWG" || r.Gauge.Metric != "13.3 mm² (6 AWG)" || r.Length.US != "10 ft" || r.LengthWay != "stated" || len(r.Along) != 0 {
		t.Errorf("run %+v", r)
	}
	// 33 CFR 183.425 table 5, from memory: 80 A for 6 AWG of 60 °C insulation to 125 A for that of 125 °C, outside engine spaces.
	if a := leadNumber(t, r.Ampacity); a < 80 || a > 125 {
		t.Errorf("ampacity %q", r.Ampacity)
	}
	amps, drop := leadNumber(t, r.Worst.Amps), leadNumber(t, r.Worst.Drop)
	if amps < 8 {
		t.Fatalf("120 W at some 13 V are 9 A, shown are %q", r.Worst.Amps)
	}
	// Handbook table of stranded copper: 0.403 Ω per 1,000 ft at 20 °C for 6 AWG, up to a quarter more when warm; lugs and fuse come on top.
	if least := amps * 2 * 10 * 0.403e-3; drop < least || drop > 2.5*least {
		t.Errorf("%v A lose %v V over 20 ft of 6 AWG, at least %v V", amps, drop, least)
	}
	near.Abs(t, "share of what it may carry", r.Worst.Bar, amps/leadNumber(t, r.Ampacity), 0.003, "both are shown to three digits")
}

// TestWiredTellsAll holds the sheet of every demo rig against the answer behind it.
func TestWiredTellsAll(t *testing.T) {
	for _, name := range demoRigs {
		text := readExample(t, name)
		s := newTestServer(t, rigFile(t, string(text)))
		sheet := decoded[WiredSheet](t, get(s, "/api/wired"))
		doc, faults := rig.Decode(strings.NewReader(string(text)))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		w, err := design.Wire(doc)
		if err != nil {
			t.Fatal(err)
		}
		a := w.Answer()
		runs, choices := 0, len(sheet.Bars)
		for _, g := range sheet.Groups {
			for _, r := range g.Runs {
				runs++
				choices += len(r.Choices)
				if len(r.At) != len(sheet.States) || r.Gauge.US == "" || r.Length.Metric == "" {
					t.Errorf("%s: %s: %d states of %d, %+v", name, r.Name, len(r.At), len(sheet.States), r)
				}
				if r.Known != "proposed" && len(r.Along) > 0 {
					t.Errorf("%s: %s is %s and takes %d along", name, r.Name, r.Known, len(r.Along))
				}
				for _, at := range r.At {
					if math.IsNaN(at.Bar) || at.Bar < 0 {
						t.Errorf("%s: %s: bar %v", name, r.Name, at.Bar)
					}
				}
			}
		}
		if runs == 0 || runs != len(a.Runs) || len(sheet.Devices) != len(a.Devices) || choices != len(a.Choices) || len(sheet.Guesses) != len(a.Guesses) || len(sheet.Facts) < 3 {
			t.Errorf("%s: %d runs of %d, %d devices of %d, %d choices of %d, facts %+v", name, runs, len(a.Runs), len(sheet.Devices), len(a.Devices), choices, len(a.Choices), sheet.Facts)
		}
		for _, d := range sheet.Devices {
			if !d.Opens {
				continue
			}
			v := decoded[LiveView](t, get(s, "/api/wired/live?device="+url.QueryEscape(d.Path)))
			if len(v.Order) == 0 || len(v.Prove) == 0 || len(v.Ends) != 2 {
				t.Errorf("%s: %s: %+v", name, d.Path, v)
			}
		}
	}
}

// TestWiredSizes shows each size under the name by which it is sold, in both systems.
func TestWiredSizes(t *testing.T) {
	for text, want := range map[string]Both{
		"6 AWG":   {"6 AWG", "13.3 mm² (6 AWG)"}, // handbook table of AWG: 13.3 mm²
		"4/0 AWG": {"4/0 AWG", "107 mm² (4/0 AWG)"},
		"25 mm2":  {"25 mm² (about 3 AWG)", "25 mm²"}, // 3 AWG is 26.7 mm²
		"unknown": {"not known", "not known"},
	} {
		sheet := decoded[WiredSheet](t, get(newTestServer(t, rigFile(t, strings.Replace(ohmicRig, "gauge: 6 AWG", "gauge: "+text, 1))), "/api/wired"))
		r := runOf(t, &sheet, "feed")
		if r.Gauge != want {
			t.Errorf("%s: %+v, want %+v", text, r.Gauge, want)
		}
		if text == "unknown" && (r.Known != "unknown" || len(r.Measure) == 0) {
			t.Errorf("an unknown size: %s, measure %q", r.Known, r.Measure)
		}
	}
}

// TestWiredAccept makes the edits of a proposal: all of them leave nothing proposed, one undo takes them back, and one run with what it hangs
// on becomes the owner's and changes no count. One rig has blocks, a combiner and mains from two sides, the other a single block.
func TestWiredAccept(t *testing.T) {
	for _, name := range []string{"coastal-camper.yaml", "northern-van.yaml"} {
		text := string(readExample(t, name))
		s := newTestServer(t, rigFile(t, text))
		first := decoded[WiredSheet](t, get(s, "/api/wired"))
		if first.Proposed < 10 || len(first.Edits) == 0 {
			t.Fatalf("%s: only %d runs are proposed, %d edits", name, first.Proposed, len(first.Edits))
		}
		tried := 0
		for _, g := range first.Groups {
			for _, r := range g.Runs {
				if r.Known != "proposed" {
					continue
				}
				tried++
				one := newTestServer(t, rigFile(t, text))
				accept := decoded[AcceptView](t, get(s, "/api/wired/accept?run="+url.QueryEscape(r.Path)))
				w := post(t, one, "/api/edit", EditAsk{Revision: accept.Revision, Edits: accept.Edits})
				if w.Code != http.StatusOK {
					t.Errorf("%s: %s: status %d: %s", name, r.Name, w.Code, w.Body)
					continue
				}
				after := decoded[WiredSheet](t, get(one, "/api/wired"))
				count := func(s *WiredSheet) (n int) {
					for _, g := range s.Groups {
						n += len(g.Runs)
					}
					return n
				}
				if after.State != "answered" || count(&after) != count(&first) || after.Proposed != first.Proposed-1-len(r.Along) || len(after.Loose) > len(first.Loose) {
					t.Errorf("%s: with %s accepted: state %s, %d runs of %d, %d proposed of %d, loose %+v", name, r.Name, after.State, count(&after), count(&first), after.Proposed, first.Proposed, after.Loose)
				}
			}
		}
		if tried != first.Proposed {
			t.Errorf("%s: tried %d of %d", name, tried, first.Proposed)
		}
		all := decoded[RigView](t, post(t, s, "/api/edit", EditAsk{Revision: first.Revision, Edits: first.Edits}))
		after := decoded[WiredSheet](t, get(s, "/api/wired"))
		if after.Revision != all.Revision || after.Proposed != 0 || len(after.Edits) != 0 {
			t.Errorf("%s: all accepted: revision %s of %s, %d still proposed, edits %+v", name, after.Revision, all.Revision, after.Proposed, after.Edits)
		}
		back := decoded[RigView](t, post(t, s, "/api/undo", StepAsk{Revision: all.Revision}))
		if back.Revision != first.Revision {
			t.Errorf("%s: one undo leads to %s, not to %s", name, back.Revision, first.Revision)
		}
	}
}

func TestWiredRefusals(t *testing.T) {
	s := newTestServer(t, exampleRig(t))
	for _, c := range []struct {
		target string
		status int
		says   string
	}{
		{"/api/wired/live", 422, "device"},
		{"/api/wired/live?device=none", 422, "none"},
		{"/api/wired/live?device=" + strings.Repeat("x", 401), 422, "device"},
		{"/api/wired?state=none", 422, "state"},
		{"/api/wired/accept", 422, "run"},
		{"/api/wired/accept?run=charge+line/2/run", 422, "any more"},
	} {
		if w := get(s, c.target); w.Code != c.status || !strings.Contains(w.Body.String(), c.says) {
			t.Errorf("%s: status %d: %s", c.target, w.Code, w.Body)
		}
	}
	gone := newTestServer(t, t.TempDir()+"/lost.yaml")
	ours := newTestServer(t, "", func(o *Options) { o.Rig = broken{} })
	for _, target := range []string{"/api/wired", "/api/wired/live?device=main", "/api/wired/accept?run=x"} {
		if w := get(gone, target); w.Code != http.StatusNotFound {
			t.Errorf("%s: status %d: %s", target, w.Code, w.Body)
		}
		if w := get(ours, target); w.Code != http.StatusInternalServerError || strings.Contains(w.Body.String(), "secret") {
			t.Errorf("%s: status %d: %s", target, w.Code, w.Body)
		}
	}
}

func TestWiredWithoutAnswer(t *testing.T) {
	s := newTestServer(t, rigFile(t, "campwright: 1\nname: X\nkind: van\npeople: many\n"))
	if sheet := decoded[WiredSheet](t, get(s, "/api/wired")); sheet.State != "faults" || sheet.Sentence != "" || sheet.Groups == nil {
		t.Fatalf("sheet %+v", sheet)
	}
	if v := decoded[LiveView](t, get(s, "/api/wired/live?device=main")); len(v.Order) != 0 {
		t.Fatalf("an opening order of a file that is not in order: %+v", v)
	}
}

// TestWiredIsKept asks twice: the second answer comes out of memory, within the tenth of a second that a change of state may take.
func TestWiredIsKept(t *testing.T) {
	s := newTestServer(t, rigFile(t, string(readExample(t, "fifth-wheel.yaml"))))
	first := get(s, "/api/wired").Body.String()
	began := time.Now()
	again := get(s, "/api/wired").Body.String()
	took := time.Since(began)
	if again != first || len(s.wired.kept) != 1 {
		t.Fatalf("%d answers are kept", len(s.wired.kept))
	}
	if took > 100*time.Millisecond {
		t.Errorf("the kept answer took %v", took)
	}
}

// BenchmarkWiredSheet makes the sheet of the largest demo rig anew: 69 ms, 33 MB, 397,000 allocations on 2 shared cores, Go 1.26,
// go test ./web -run XXX -bench WiredSheet. Every further question about the same revision finds it kept.
func BenchmarkWiredSheet(b *testing.B) {
	text, err := os.ReadFile(filepath.Join("..", "examples", "fifth-wheel.yaml"))
	if err != nil {
		b.Fatal(err)
	}
	r := understood("rig.yaml", store.State{Text: text, Revision: "1"})
	b.ReportAllocs()
	for b.Loop() {
		var w wirings
		if _, err := w.get(r); err != nil {
			b.Fatal(err)
		}
	}
}

// TestWiredValues changes a size, a length and a rating of proposals and of written runs where the sheet shows them: what is changed stands
// in the file as typed, the rest of the proposal comes along, and one undo takes all of it back.
func TestWiredValues(t *testing.T) {
	valueOf := func(values []WiredValue, key string) WiredValue {
		for _, v := range values {
			if v.Key == key {
				return v
			}
		}
		t.Fatalf("no %q among %+v", key, values)
		return WiredValue{}
	}
	text, err := os.ReadFile(filepath.Join("..", "examples", "fifth-wheel.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ run, device, key, typed, raw string }{
		{"inverter main", "", "length", "9 ft", "9 ft"},
		{"inverter main", "", "size", "2/0", "2/0"},
		{"furnace", "", "length", "21 ft measured", "21 ft measured"},
		{"array fore curb", "", "size", "6 AWG", "6 AWG"},
		{"vehicle to charge line 1", "", "length", "30 ft", "30 ft"},
		{"shore cord", "", "length", "25 ft", "25 ft"},
		{"controller left", "controller left fuse", "rating", "110 A", "110 A"},
		{"controller left", "controller left fuse", "kind", "class T fuse", "class T fuse"},
		{"vehicle to charge line 1", "charge line fuse", "rating", "70 A", "70 A"},
	} {
		t.Run(c.run+" "+c.device+" "+c.key, func(t *testing.T) {
			file := rigFile(t, string(text))
			s := newTestServer(t, file)
			sheet := decoded[WiredSheet](t, get(s, "/api/wired"))
			values := runOf(t, &sheet, c.run).Values
			for i := range sheet.Devices {
				if d := &sheet.Devices[i]; c.device != "" && d.Name == c.device && d.Run == c.run {
					values = d.Values
				}
			}
			v := valueOf(values, c.key)
			if v.Raw == "" {
				t.Errorf("nothing stands at %s", v.Path)
			}
			tried := decoded[TryView](t, get(s, "/api/try?"+url.Values{"path": {v.Path}, "text": {c.typed}, "run": {v.Hangs}}.Encode()))
			if tried.Problem != "" {
				t.Errorf("tried: %q", tried.Problem)
			}
			edits, revision := []rig.Edit{{Path: v.Path, Old: v.Raw, New: c.typed}}, sheet.Revision
			if v.Hangs != "" {
				accept := decoded[AcceptView](t, get(s, "/api/wired/accept?"+url.Values{"path": {v.Path}, "text": {c.typed}, "run": {v.Hangs}}.Encode()))
				edits, revision = accept.Edits, accept.Revision
			}
			if w := post(t, s, "/api/edit", EditAsk{Revision: revision, Edits: edits}); w.Code != http.StatusOK {
				t.Fatalf("%d: %s", w.Code, w.Body)
			}
			now, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if raw, err := rig.Read(now, v.Path); err != nil || raw != c.raw {
				t.Errorf("%s holds %q, %v; wanted %q", v.Path, raw, err, c.raw)
			}
			after := decoded[WiredSheet](t, get(s, "/api/wired"))
			if r := runOf(t, &after, c.run); r.Known == "proposed" && v.Hangs != "" || valueOf(r.Values, "length").Hangs != "" && v.Hangs != "" {
				t.Errorf("after it the run is still a proposal: %+v", r)
			}
			if w := post(t, s, "/api/undo", StepAsk{Revision: after.Revision}); w.Code != http.StatusOK {
				t.Fatalf("undo: %d: %s", w.Code, w.Body)
			}
			if back, err := os.ReadFile(file); err != nil || string(back) != string(text) {
				t.Errorf("undo does not lead back: %v", err)
			}
		})
	}
	sheet := decoded[WiredSheet](t, get(newTestServer(t, rigFile(t, string(text))), "/api/wired"))
	for _, path := range []string{"wiring/runs/inverter main/gauge", "wiring/runs/inverter main/length"} {
		w := get(newTestServer(t, rigFile(t, string(text))), "/api/wired/accept?"+url.Values{"path": {path}, "text": {"wet string"}, "run": {"wiring/runs/inverter main"}}.Encode())
		accept := decoded[AcceptView](t, w)
		if refused := post(t, newTestServer(t, rigFile(t, string(text))), "/api/edit", EditAsk{Revision: sheet.Revision, Edits: accept.Edits}); refused.Code != http.StatusUnprocessableEntity {
			t.Errorf("%s: nonsense was taken: %d %s", path, refused.Code, refused.Body)
		}
	}
}

// TestWiredSaysWhatBacksAFuse: where a short drives more through a fuse than it stops, the words beside the figures name what stands behind it.
func TestWiredSaysWhatBacksAFuse(t *testing.T) {
	over := 0
	for _, name := range demoRigs {
		sheet := decoded[WiredSheet](t, get(newTestServer(t, rigFile(t, string(readExample(t, name)))), "/api/wired"))
		for _, d := range sheet.Devices {
			backed := strings.Contains(d.Words, " before it can, and may open with it") || strings.Contains(d.Words, "take a kind that stops more")
			if d.Over != backed {
				t.Errorf("%s, %s: %s of %s: %q", name, d.Name, d.Fault, d.Stops, d.Words)
			}
			if d.Over {
				over++
			}
		}
	}
	if over < 5 {
		t.Errorf("only %d such fuses", over)
	}
}
