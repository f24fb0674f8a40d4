package rules_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"campwright/check"
	"campwright/check/rules"
	"campwright/rig"
	"campwright/system"
	"campwright/tools/newrule/room"
)

const (
	coldStop = "m01/testdata/bad-1.yaml"
	drains   = "m73/testdata/bad-1.yaml"
)

// TestAccept: a written reason silences a WARN or a FAIL at its place and is kept; a STOP stays, and a reason that nothing answers to is told.
func TestAccept(t *testing.T) {
	reason := rig.Edit{Path: "accepted/1", New: "{rule: M73, place: bank, reason: the neighbour charges it}"}
	r := rules.Judge(room.Open(t, drains, reason))
	i := slices.IndexFunc(r.Outcomes, func(o check.Outcome) bool { return o.Rule == "M73" })
	if i < 0 || r.Outcomes[i].Accepted != "the neighbour charges it" || r.Outcomes[i].Finding() || r.Counts.Accepted != 1 {
		t.Errorf("%+v, counts %+v", r.Outcomes[i], r.Counts)
	}
	if len(r.Stale) != 0 {
		t.Errorf("stale %+v", r.Stale)
	}

	elsewhere := rig.Edit{Path: "accepted/1", New: "{rule: M73, place: home, reason: wrong place}"}
	if r = rules.Judge(room.Open(t, drains, elsewhere)); r.Counts.Accepted != 0 || len(r.Stale) != 1 {
		t.Errorf("a reason for another place: counts %+v, stale %+v", r.Counts, r.Stale)
	}

	stop := rig.Edit{Path: "accepted/1", New: "{rule: M01, place: arrays/roof, reason: it never gets that cold}"}
	r = rules.Judge(room.Open(t, coldStop, stop))
	if o := r.Outcomes[0]; o.Verdict != check.Stop || o.Accepted != "" || !o.Grave() || !strings.Contains(o.Detail, "cannot be accepted") || len(r.Stale) != 1 {
		t.Errorf("a STOP with a reason: %+v, stale %+v", o, r.Stale)
	}
}

// TestReport: counts, groups and order agree with the outcomes, each caution stands once, and JSON has no null for a list.
func TestReport(t *testing.T) {
	seen := 0
	for _, name := range examples(t) {
		r := rules.Judge(room.Open(t, name))
		n := r.Counts
		if total := n.Stop + n.Fail + n.Undecided + n.Warn + n.Note + n.Pass + n.Accepted; total != len(r.Outcomes) || total == 0 {
			t.Errorf("%s: %d counted, %d outcomes", name, total, len(r.Outcomes))
		}
		grouped := 0
		for _, g := range r.Groups {
			for _, p := range g.Places {
				for _, i := range p.Outcomes {
					grouped++
					if o := r.Outcomes[i]; o.Verdict != g.Verdict || o.Place != p.Place {
						t.Errorf("%s: %s of %s stands under %s at %s", name, o.Rule, o.Place, g.Verdict, p.Place)
					}
				}
			}
		}
		if grouped != len(r.Outcomes) {
			t.Errorf("%s: %d grouped of %d", name, grouped, len(r.Outcomes))
		}
		kinds := map[string]bool{}
		for _, c := range r.Cautions {
			if kinds[c.Kind] {
				t.Errorf("%s: caution %q stands twice", name, c.Kind)
			}
			kinds[c.Kind] = true
		}
		for i := range r.Outcomes {
			o := &r.Outcomes[i]
			if i > 0 && o.Verdict > r.Outcomes[i-1].Verdict {
				t.Errorf("%s: %s stands behind %s", name, o.Verdict, r.Outcomes[i-1].Verdict)
			}
			rule, ok := rules.Find(o.Rule)
			if !ok {
				t.Errorf("%s: rule %q", name, o.Rule)
			}
			sound(t, name, rule, o)
			seen++
		}
		text, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		for _, list := range []string{"groups", "outcomes", "cautions", "missing", "places", "stale", "measure", "ways", "terms"} {
			if strings.Contains(string(text), `"`+list+`":null`) {
				t.Errorf("%s: %s is null", name, list)
			}
		}
	}
	if seen < 60 {
		t.Fatalf("only %d outcomes seen", seen)
	}
}

func examples(t testing.TB) []string {
	t.Helper()
	list, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(list) < 3 {
		t.Fatalf("%d examples, %v", len(list), err)
	}
	return list
}

// TestNoStopByDefault: none of the demo rigs, which are ordinary ones, is stopped. STOP must stay rare.
func TestNoStopByDefault(t *testing.T) {
	for _, name := range examples(t) {
		if r := rules.Judge(room.Open(t, name)); r.Counts.Stop > 0 {
			t.Errorf("%s: %d STOPs: %s", name, r.Counts.Stop, r.Outcomes[0].Title)
		}
	}
}

// TestCures: every cure offered takes its finding away and brings no STOP or FAIL that was not there. Looked at anew on the edited text.
func TestCures(t *testing.T) {
	offered := 0
	files, err := filepath.Glob("*/testdata/bad-*.yaml")
	if err != nil || len(files) < 25 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, path := range files {
		c := room.Open(t, path)
		before := rules.Judge(c)
		own := strings.ToUpper(filepath.Dir(filepath.Dir(path)))
		for _, o := range before.Outcomes {
			if o.Rule != own {
				continue
			}
			for _, cure := range check.Cures(c, o, rules.All()) {
				offered++
				after := rules.Judge(room.Open(t, path, cure.Edits...))
				for _, a := range after.Outcomes {
					if a.Rule == o.Rule && a.Place == o.Place && a.Title == o.Title && a.Verdict >= check.Warn {
						t.Errorf("%s: %q leaves %s %s", path, cure.Words, a.Verdict, a.Title)
					}
					if a.Grave() && !slices.ContainsFunc(before.Outcomes, func(b check.Outcome) bool { return b.Rule == a.Rule && b.Place == a.Place && b.Grave() }) {
						t.Errorf("%s: %q brings %s %s at %s", path, cure.Words, a.Verdict, a.Title, a.Place)
					}
				}
			}
		}
	}
	if offered < 12 {
		t.Fatalf("only %d cures offered", offered)
	}
}

// TestColdStringCure: four in series on 100 V can become two by two, and no longer string is offered.
func TestColdStringCure(t *testing.T) {
	c := room.Open(t, coldStop)
	o := rules.Judge(c).Outcomes[0]
	list := check.Cures(c, o, rules.All())
	if len(list) == 0 || !strings.Contains(list[0].Words, "2 strings of 2 in series") {
		t.Errorf("cures %+v", list)
	}
}

// TestEmpty: a document with nothing in it is refused, and one with hardly anything is judged without a panic.
func TestEmpty(t *testing.T) {
	if _, err := check.Prepare(rig.Rig{}, room.Find); err == nil {
		t.Error("an empty document is prepared")
	}
	c, err := check.Prepare(rig.Rig{Version: 1, Name: "bare", Kind: "van"}, room.Find)
	if err != nil {
		t.Fatal(err)
	}
	if r := rules.Judge(c); r.Sentence == "" || len(r.Missing) == 0 {
		t.Errorf("%+v", r)
	}
}

// TestDocumentUntouched: preparing and judging leave the document as it was.
func TestDocumentUntouched(t *testing.T) {
	f, err := os.Open(examples(t)[0])
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	doc, faults := rig.Decode(f)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	before := string(rig.Encode(doc))
	c, err := check.Prepare(doc, room.Find)
	if err != nil {
		t.Fatal(err)
	}
	rules.Judge(c)
	if after := string(rig.Encode(doc)); after != before {
		t.Error("the document has changed")
	}
}

// The largest demo rig, fifth-wheel.yaml, judged by all rules. Budget: 20 ms.
//
// whole: read, prepared and judged, every climate looked up anew; again: the same with climates remembered, as after an edit; judge: the rules alone.
// whole 17.6 ms, again 6.6 ms, judge 1.8 ms, with the wiring solved: 2 shared cores, Go 1.26.8, go test -run XXX -bench Check ./check/rules
func BenchmarkCheck(b *testing.B) {
	const name = "../../examples/fifth-wheel.yaml"
	text, err := os.ReadFile(name)
	if err != nil {
		b.Fatal(err)
	}
	doc, faults := rig.Decode(strings.NewReader(string(text)))
	if len(faults) > 0 {
		b.Fatal(faults)
	}
	for _, x := range []struct {
		name string
		find system.Lookup
	}{{"whole", system.FindClimate}, {"again", check.Remember(system.FindClimate)}} {
		b.Run(x.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				c, err := check.Prepare(doc, x.find)
				if err != nil {
					b.Fatal(err)
				}
				if r := rules.Judge(c); len(r.Outcomes) == 0 {
					b.Fatal("no outcomes")
				}
			}
		})
	}
	c, err := check.Prepare(doc, room.Find)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("judge", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			rules.Judge(c)
		}
	})
}
