package web

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"campwright/check"
	"campwright/check/rules"
	"campwright/figure"
	"campwright/internal/near"
	"campwright/quantity"
	"campwright/rig"
)

// coldRig is the worked case of the trade: four modules of 22.3 V in series reach 101.2 V at −20 °C with −0.30 %/°C, on a controller that
// survives 100 V. The stop's record low is 6 K below its middling low.
const coldRig = `campwright: 1
name: four in series
kind: travel trailer
modules:
  roof kind: {voc: 22.3 V, isc: 9.9 A, vmp: 18.6 V, imp: 9.4 A, voc per C: -0.30 %/C}
controllers:
  closet: {kind: step-down, survives: 100 V, output: 40 A}
arrays:
  # over the fridge
  - {name: roof, module: roof kind, controller: closet, in series: 4}
trip:
  - {place: unknown, record low: -26 C, nights: 10}
`

func findingOf(t *testing.T, s SafeSheet, rule string) Finding {
	t.Helper()
	for _, g := range s.Groups {
		for _, p := range g.Places {
			for _, f := range p.Findings {
				if f.Rule == rule {
					return f
				}
			}
		}
	}
	t.Fatalf("no finding by rule %s in %+v", rule, s.Groups)
	return Finding{}
}

func TestSafeWorkedCase(t *testing.T) {
	sheet := decoded[SafeSheet](t, get(newTestServer(t, rigFile(t, coldRig)), "/api/safe"))
	if sheet.State != "answered" || len(sheet.Groups) == 0 || sheet.Groups[0].Verdict != "STOP" || !strings.Contains(sheet.Sentence, "1 STOP") {
		t.Fatalf("state %q, groups %+v, sentence %q", sheet.State, sheet.Groups, sheet.Sentence)
	}
	f := findingOf(t, sheet, "M01")
	c := f.Cases[0]
	// 4 × 22.3 V × 1.135 = 101.24 V, which is 1.24 % over 100 V.
	if c.Result.US != "101.2 V" || c.Sense != "≤" || c.Limit.Metric != "100 V" || c.Spare != "1.2 % over" {
		t.Errorf("case %+v", c)
	}
	near.Abs(t, "margin", *c.Margin, -0.01242, 5e-6, "89.2 V × 1.135 worked by hand")
	if terms := c.Working.Terms; len(terms) != 6 || terms[4].Value.US != "−4 °F" || terms[4].Value.Metric != "−20 °C" || terms[2].Source.US != "modules/roof kind/voc" {
		t.Errorf("terms %+v", terms)
	}
	if f.Caution != check.SunLive || len(sheet.Cautions) != 1 || sheet.Cautions[0].Kind != check.SunLive || sheet.Local != check.Local {
		t.Errorf("caution %q, cautions %+v, local %q", f.Caution, sheet.Cautions, sheet.Local)
	}
	if len(sheet.Places) != 1 || sheet.Places[0].Low.US != "−15 °F" || sheet.Places[0].Low.Metric != "−26 °C" || sheet.Places[0].Annual.Metric != "−20 °C" {
		t.Errorf("places %+v", sheet.Places)
	}
}

// TestSafeTellsAll holds the sheet of every demo rig against the report behind it: nothing is lost, nothing is told twice.
func TestSafeTellsAll(t *testing.T) {
	for _, name := range []string{"desert-trailer.yaml", "coastal-camper.yaml", "northern-van.yaml", "fifth-wheel.yaml"} {
		text := readExample(t, name)
		sheet := decoded[SafeSheet](t, get(newTestServer(t, rigFile(t, string(text))), "/api/safe"))
		doc, faults := rig.Decode(strings.NewReader(string(text)))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		_, report, err := rules.Check(doc)
		if err != nil {
			t.Fatal(err)
		}
		told := map[string]int{}
		tell := func(f Finding) {
			if f.Title == "" || f.Source == "" || f.Sure.US == "" || len(f.Cases) == 0 {
				t.Errorf("%s: %s at %s tells too little: %+v", name, f.Rule, f.Place, f)
			}
			for _, c := range f.Cases {
				told[f.Verdict+" "+f.Rule]++
				if c.Margin == nil && f.Verdict == "PASS" && c.Detail.US == "" && c.Result.US == "" {
					t.Errorf("%s: a bare tick: %s at %s", name, f.Rule, f.Place)
				}
				if c.Sense != "" && (c.Result.US == "" || c.Limit.Metric == "") {
					t.Errorf("%s: %s at %s compares nothing: %+v", name, f.Rule, f.Place, c)
				}
			}
		}
		for _, g := range sheet.Groups {
			for _, p := range g.Places {
				for _, f := range p.Findings {
					tell(f)
				}
			}
		}
		last := -1.0
		for _, f := range sheet.Passes {
			tell(f)
			if m := f.Cases[0].Margin; m != nil {
				if *m < last {
					t.Errorf("%s: passes are not in the order of their margins: %v after %v", name, *m, last)
				}
				last = *m
			}
		}
		want := map[string]int{}
		for i := range report.Outcomes {
			want[report.Outcomes[i].Verdict.String()+" "+report.Outcomes[i].Rule]++
		}
		if len(want) == 0 || len(sheet.Places) != len(report.Places) {
			t.Errorf("%s: %d kinds of outcomes, %d places of %d", name, len(want), len(sheet.Places), len(report.Places))
		}
		for k, n := range want {
			if told[k] != n {
				t.Errorf("%s: %s: told %d times of %d", name, k, told[k], n)
			}
		}
		if len(told) != len(want) {
			t.Errorf("%s: told %v, want %v", name, told, want)
		}
		if len(sheet.Silent)+len(ruleIDs(&report)) != len(rules.All()) {
			t.Errorf("%s: %d silent rules and %d that spoke, of %d", name, len(sheet.Silent), len(ruleIDs(&report)), len(rules.All()))
		}
	}
}

func ruleIDs(r *check.Report) map[string]bool {
	ids := map[string]bool{}
	for i := range r.Outcomes {
		ids[r.Outcomes[i].Rule] = true
	}
	return ids
}

func TestSafeCures(t *testing.T) {
	s := newTestServer(t, rigFile(t, coldRig))
	v := decoded[CuresView](t, get(s, "/api/safe/cures?rule=M01&place="+url.QueryEscape("arrays/roof")))
	if len(v.Cures) == 0 {
		t.Fatal("no cure")
	}
	cure := v.Cures[0]
	if len(cure.Lines) != 1 || cure.Lines[0].Line != 10 || len(cure.Lines[0].Old) != 1 || len(cure.Lines[0].New) != 1 ||
		!strings.Contains(cure.Lines[0].Old[0], "in series: 4}") || !strings.Contains(cure.Lines[0].New[0], "in series: 2, strings: 2}") {
		t.Errorf("lines %+v", cure.Lines)
	}
	// 2 × 22.3 V × 1.153 at the record low of −26 °C = 51.42 V.
	if e := cure.Effects[0]; e.Rule != "M01" || e.Before != "STOP" || e.After != "PASS" || e.Now.Result.US != "51.42 V" || e.Now.Spare != "49 % to spare" {
		t.Errorf("effect %+v", e)
	}
	if strings.Contains(cure.Sentence, "1 STOP") {
		t.Errorf("sentence %q", cure.Sentence)
	}
	if v.Accept {
		t.Error("a STOP can be accepted")
	}
}

// TestSafeSince makes the edits of a cure and asks what has changed since: the STOP has become a pass. An unknown revision tells nothing.
func TestSafeSince(t *testing.T) {
	s := newTestServer(t, rigFile(t, coldRig))
	first := revisionOf(t, s)
	v := decoded[CuresView](t, get(s, "/api/safe/cures?rule=M01&place="+url.QueryEscape("arrays/roof")))
	after := decoded[RigView](t, post(t, s, "/api/edit", EditAsk{Revision: first, Edits: v.Cures[0].Edits}))
	sheet := decoded[SafeSheet](t, get(s, "/api/safe?since="+first))
	if sheet.Revision != after.Revision || sheet.Since != first || len(sheet.Shifts) != 1 {
		t.Fatalf("revision %q, since %q, shifts %+v", sheet.Revision, sheet.Since, sheet.Shifts)
	}
	if m := sheet.Shifts[0]; m.Rule != "M01" || m.Before != "STOP" || m.After != "PASS" || m.Part != "array roof" || m.Now.Spare != "49 % to spare" {
		t.Errorf("shift %+v", m)
	}
	if again := decoded[SafeSheet](t, get(s, "/api/safe?since="+after.Revision)); again.Since == "" || len(again.Shifts) != 0 {
		t.Errorf("since itself: %q, %+v", again.Since, again.Shifts)
	}
	if lost := decoded[SafeSheet](t, get(s, "/api/safe?since=0123456789abcdef")); lost.Since != "" || len(lost.Shifts) != 0 {
		t.Errorf("since a revision that is lost: %q, %+v", lost.Since, lost.Shifts)
	}
}

// TestSafeAccepted writes an acceptance into the file: the finding is then told apart, with its reason.
func TestSafeAccepted(t *testing.T) {
	text := strings.Replace(coldRig, "record low: -26 C", "record low: -25 C", 1) // 4 × 22.3 × 1.132 = 100.97 V, over at −19 °C
	text = strings.Replace(text, "survives: 100 V", "survives: 101.2 V", 1)       // only at the record low: M02, a FAIL
	s := newTestServer(t, rigFile(t, text))
	sheet := decoded[SafeSheet](t, get(s, "/api/safe"))
	f := findingOf(t, sheet, "M02")
	if f.Verdict != "FAIL" {
		t.Fatalf("finding %+v", f)
	}
	v := decoded[CuresView](t, get(s, "/api/safe/cures?rule=M02&place="+url.QueryEscape(f.Place)+"&title="+url.QueryEscape(f.Key)))
	if !v.Accept || v.On != "2026-11-25" {
		t.Fatalf("accept %v on %q", v.Accept, v.On)
	}
	text += "accepted:\n  - {rule: M02, place: " + f.Place + ", reason: your reason, on: " + v.On + "}\n"
	s = newTestServer(t, rigFile(t, text))
	after := decoded[SafeSheet](t, get(s, "/api/safe"))
	g := after.Groups[len(after.Groups)-1]
	if g.Verdict != "ACCEPTED" || g.Places[0].Findings[0].Accepted != "your reason" {
		t.Fatalf("groups %+v", after.Groups)
	}
	if v = decoded[CuresView](t, get(s, "/api/safe/cures?rule=M02&place="+url.QueryEscape(f.Place))); v.Accept {
		t.Error("what is accepted can be accepted again")
	}
	for _, c := range after.Counts {
		if c.Verdict == "FAIL" {
			t.Errorf("an accepted finding still counts: %+v", after.Counts)
		}
	}
}

func TestSafeRefusals(t *testing.T) {
	s := newTestServer(t, rigFile(t, coldRig))
	for _, c := range []struct {
		target string
		status int
		says   string
	}{
		{"/api/safe/cures?rule=M01", 422, "place"},
		{"/api/safe/cures?place=arrays/roof", 422, "rule"},
		{"/api/safe/cures?rule=M01&place=arrays/none", 422, "any more"},
		{"/api/safe/cures?rule=M01&place=arrays/roof&title=other", 422, "any more"},
		{"/api/safe/cures?rule=" + strings.Repeat("M", 9) + "&place=arrays/roof", 422, "rule"},
		{"/api/safe?rule=M01", 422, "rule"},
	} {
		if w := get(s, c.target); w.Code != c.status || !strings.Contains(w.Body.String(), c.says) {
			t.Errorf("%s: status %d: %s", c.target, w.Code, w.Body)
		}
	}
	gone := newTestServer(t, t.TempDir()+"/lost.yaml")
	ours := newTestServer(t, "", func(o *Options) { o.Rig = broken{} })
	for _, target := range []string{"/api/safe", "/api/safe/cures?rule=M01&place=arrays/roof"} {
		if w := get(gone, target); w.Code != http.StatusNotFound {
			t.Errorf("%s: status %d: %s", target, w.Code, w.Body)
		}
		if w := get(ours, target); w.Code != http.StatusInternalServerError || strings.Contains(w.Body.String(), "secret") {
			t.Errorf("%s: status %d: %s", target, w.Code, w.Body)
		}
	}
}

func TestSafeWithFaults(t *testing.T) {
	s := newTestServer(t, rigFile(t, "campwright: 1\nname: X\nkind: van\npeople: many\n"))
	if sheet := decoded[SafeSheet](t, get(s, "/api/safe")); sheet.State != "faults" || sheet.Sentence != "" || sheet.Groups == nil {
		t.Fatalf("sheet %+v", sheet)
	}
	if v := decoded[CuresView](t, get(s, "/api/safe/cures?rule=M01&place=bank")); len(v.Cures) != 0 {
		t.Fatalf("cures of a file that is not in order: %+v", v)
	}
}

// TestSafeOfNothing: a rig that no rule can judge does not read as one in order, and says what it misses.
func TestSafeOfNothing(t *testing.T) {
	text := "campwright: 1\nname: X\nkind: van\nbank: {chemistry: LFP, block: {voltage: 12.8 V}}\ntrip:\n  - {place: nowhere at all, nights: 3}\n"
	sheet := decoded[SafeSheet](t, get(newTestServer(t, rigFile(t, text)), "/api/safe"))
	if len(sheet.Groups) != 0 || len(sheet.Passes) != 0 || strings.Contains(sheet.Sentence, "no FAIL") || !strings.Contains(sheet.Sentence, "Nothing") {
		t.Errorf("sentence %q over %+v", sheet.Sentence, sheet.Groups)
	}
	if len(sheet.Missing) != 1 || sheet.Missing[0].Path != "bank/block/capacity" || len(sheet.Silent) != sheet.Rules || sheet.Rules != len(rules.All()) {
		t.Errorf("missing %+v, %d of %d rules silent", sheet.Missing, len(sheet.Silent), sheet.Rules)
	}
	if len(sheet.Places) != 1 || sheet.Places[0].Problem == "" || sheet.Places[0].LowC != nil || sheet.Places[0].Low.US != "" {
		t.Errorf("places %+v", sheet.Places)
	}
}

// TestSafeCaseOfAtLeast works an inequality with guesses on both sides by hand: 11 V less 1 to 3 V must be at least 6 V and 1 to 4 V. The worst
// is 8 of 10 V, the middle 9 of 8 V.
func TestSafeCaseOfAtLeast(t *testing.T) {
	j := check.Inequality{
		Formula: "V = a − b ≥ c + d", Name: "what is left", Kind: quantity.Voltage, Source: "by hand",
		Inputs: []figure.Term{
			check.Number("a", "source", quantity.Voltage, 11, ""), check.Between("b", "drop", quantity.Voltage, 2, 1, 3, ""),
			check.Number("c", "need", quantity.Voltage, 6, ""), check.Between("d", "room", quantity.Voltage, 2, 1, 4, ""),
		},
	}.Judge()
	o := j.Outcome("bank", "bank", check.Fail)
	o.Working = check.Show(o.Numbers, quantity.Metric)
	c := safeCase(&o)
	if o.Verdict != check.Undecided || c.Result.US != "8 to 10 V" || c.Sense != "≥" || c.Limit.US != "7 to 10 V" || c.Spare != "20 % short at worst" || c.Working.Comes.US != "7 to 10 V" {
		t.Errorf("%v: %+v", o.Verdict, c)
	}
	near.Abs(t, "margin as taken", *c.Nominal, 0.125, 1e-12, "(9 − 8) / 8, floats")
	near.Abs(t, "margin at worst", *c.Margin, -0.2, 1e-12, "(8 − 10) / 10, floats")
	if got := []string{spare(0.5, "≥"), spare(-0.5, "≥"), spare(-0.5, "≤"), spare(0.0034, "≤")}; strings.Join(got, ", ") != "50 % to spare, 50 % short, 50 % over, 0.3 % to spare" {
		t.Errorf("%q", got)
	}
}

// TestSafeCaseOfUnknown: a limit of which nothing is known is not shown as a number, and nothing is to spare of it.
func TestSafeCaseOfUnknown(t *testing.T) {
	label := check.Number("Ilabel", "on the label", quantity.Current, 0, "")
	label.Figure.State = figure.Unknown
	j := check.Inequality{
		Formula: "Iback = n × Isc ≤ Ilabel", Name: "back-feed", Kind: quantity.Current, Source: "by hand",
		Inputs: []figure.Term{check.Number("n", "strings", quantity.Count, 2, ""), check.Number("Isc", "of one", quantity.Current, 9.9, ""), label},
	}.Judge()
	o := j.Outcome("arrays/roof", "array roof", check.Undecided)
	o.Working = check.Show(o.Numbers, quantity.Metric)
	if c := safeCase(&o); c.Result.US != "19.8 A" || c.Limit.US != "unknown" || c.Limit.Metric != "unknown" || c.Working.Limit.US != "unknown" || c.Margin != nil || c.Spare != "" {
		t.Errorf("%+v", c)
	}
}

// TestSafeJoins says the same of two ends of a bank once, and other things apart.
func TestSafeJoins(t *testing.T) {
	r := check.Report{Outcomes: []check.Outcome{
		{Rule: "M26", Verdict: check.Warn, Place: "bank", Part: "bank at home", Title: "cold", Ways: []string{"heat it"}},
		{Rule: "M26", Verdict: check.Warn, Place: "bank", Part: "bank at the lake", Title: "cold", Ways: []string{"heat it", "bring it in"}},
		{Rule: "M26", Verdict: check.Warn, Place: "bank", Part: "bank at the lake", Title: "colder"},
		{Rule: "M26", Verdict: check.Warn, Place: "shed", Part: "shed", Title: "cold"},
		{Rule: "M27", Verdict: check.Warn, Place: "shed", Part: "shed to bank", Title: "thin"},
		{Rule: "M26", Verdict: check.Warn, Place: "bank", Part: "bank at the pass", Title: "cold", Accepted: "so be it"},
	}}
	var sheet SafeSheet
	sheet.findings(&r)
	if len(sheet.Groups) != 2 || sheet.Groups[0].Verdict != "WARN" || sheet.Groups[1].Verdict != "ACCEPTED" || len(sheet.Groups[0].Places) != 2 {
		t.Fatalf("groups %+v", sheet.Groups)
	}
	bank := sheet.Groups[0].Places[0]
	if bank.Part != "bank" || len(bank.Findings) != 2 || len(bank.Findings[0].Cases) != 2 || bank.Findings[0].Cases[1].Part != "at the lake" || len(bank.Findings[0].Ways) != 2 {
		t.Errorf("bank %+v", bank)
	}
	if shed := sheet.Groups[0].Places[1]; shed.Part != "shed" || shed.Findings[0].Cases[0].Part != "" || shed.Findings[1].Cases[0].Part != "to bank" {
		t.Errorf("shed %+v", shed)
	}
}

// TestChangedLines tells texts apart that were changed by hand.
func TestChangedLines(t *testing.T) {
	for _, c := range []struct {
		before, after string
		line          int
		old, new      string
	}{
		{"a\nb\nc\n", "a\nB\nc\n", 2, "b", "B"},
		{"a\nb\n", "a\nx\ny\nb\n", 2, "", "x|y"},
		{"a\nb\n", "b\n", 1, "a", ""},
		{"a\na\n", "a\na\na\n", 3, "", "a"},
		{"a\r\nb\r\n", "a\r\nc\r\n", 2, "b", "c"},
		{"a", "a", 2, "", ""},
	} {
		e := changedLines([]byte(c.before), []byte(c.after))
		if e.Line != c.line || strings.Join(e.Old, "|") != c.old || strings.Join(e.New, "|") != c.new {
			t.Errorf("%q to %q: %+v", c.before, c.after, e)
		}
	}
	joined := joinLines(joinLines(nil, FileEdit{3, []string{"a"}, []string{"b"}}), FileEdit{3, []string{"b"}, []string{"c"}})
	if len(joined) != 1 || joined[0].Old[0] != "a" || joined[0].New[0] != "c" {
		t.Errorf("joined %+v", joined)
	}
}

// TestSafeSettles types what would settle a question where the question stands: the values are of the rig, what stands there is told, and once
// they are stated the question is no longer open for want of them.
func TestSafeSettles(t *testing.T) {
	const text = `campwright: 1
name: half known
kind: van
people: 1
modules: {roof: {power: 200 W, voc: about 24 V, isc: 10.4 A, vmp: 20.4 V, imp: 9.8 A}}
controllers: {one: {survives: about 30 V, output: 20 A}}
arrays: [{name: roof, module: roof, controller: one}]
bank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 100 Ah}}
home: {place: 45 N 95 W}
`
	path := rigFile(t, text)
	s := newTestServer(t, path)
	find := func() *Finding {
		sheet := decoded[SafeSheet](t, get(s, "/api/safe"))
		for _, g := range sheet.Groups {
			for _, p := range g.Places {
				for i := range p.Findings {
					if f := &p.Findings[i]; f.Rule == "M01" {
						return f
					}
				}
			}
		}
		return nil
	}
	f := find()
	if f == nil || f.Verdict != "UNDECIDED" {
		t.Fatalf("the question is not there: %+v", f)
	}
	raw := map[string]string{}
	for _, v := range f.Settle {
		raw[v.Path] = v.Raw
	}
	for at, want := range map[string]string{"modules/roof/voc": "about 24 V", "controllers/one/survives": "about 30 V"} {
		if got, there := raw[at]; !there || got != want {
			t.Errorf("%s: offered %v, holds %q, wanted %q", at, there, got, want)
		}
	}
	edits := []rig.Edit{}
	for at, text := range map[string]string{"modules/roof/voc": "24 V", "controllers/one/survives": "30 V"} {
		edits = append(edits, rig.Edit{Path: at, Old: raw[at], New: text})
	}
	if w := post(t, s, "/api/edit", EditAsk{Revision: revisionOf(t, s), Edits: edits}); w.Code != http.StatusOK {
		t.Fatalf("%d: %s", w.Code, w.Body)
	}
	if f := find(); f != nil && f.Verdict == "UNDECIDED" && len(f.Settle) > 0 {
		t.Errorf("still open: %+v", f.Settle)
	}
}
