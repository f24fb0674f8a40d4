package web

import (
	"bytes"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"strings"
	"testing"

	"campwright/rig"
	"campwright/store"
)

// post asks the server for a change and returns the answer.
func post(t *testing.T, s http.Handler, target string, body any) *httptest.ResponseRecorder {
	t.Helper()
	text, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	r := httptest.NewRequest(http.MethodPost, target, bytes.NewReader(text))
	r.Host = testHost
	r.Header.Set("Content-Type", "application/json")
	w := httptest.NewRecorder()
	s.ServeHTTP(w, r)
	return w
}

func revisionOf(t *testing.T, s http.Handler) string {
	t.Helper()
	return decoded[RigView](t, get(s, "/api/rig")).Revision
}

func fileText(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// problem reads the one sentence of a refusal.
func problem(t *testing.T, w *httptest.ResponseRecorder, status int) string {
	t.Helper()
	var body struct{ Detail string }
	if err := json.Unmarshal(w.Body.Bytes(), &body); err != nil || w.Code != status {
		t.Fatalf("status %d, want %d: %s", w.Code, status, w.Body)
	}
	return body.Detail
}

func TestEdit(t *testing.T) {
	path := exampleRig(t)
	s := newTestServer(t, path)
	before := fileText(t, path)
	first := revisionOf(t, s)
	ask := EditAsk{Revision: first, Edits: []rig.Edit{{Path: "bank/blocks", Old: "3", New: "about 4"}}, Note: "a fourth block"}
	v := decoded[RigView](t, post(t, s, "/api/edit", ask))
	if r := rowOf(t, v, "bank/blocks"); r.State != "about" || r.Raw != "about 4" || v.Undo != "bank, blocks: 3 to about 4" || v.Label != "1 change" {
		t.Errorf("row %+v, undo %q, label %q", r, v.Undo, v.Label)
	}
	if got := fileText(t, path); got != strings.Replace(before, "blocks: 3", "blocks: about 4", 1) {
		t.Errorf("more than the value was changed in the file")
	}

	// A second tab still shows the first revision: what fits is made, what does not is a conflict that says why.
	if w := post(t, s, "/api/edit", EditAsk{Revision: first, Edits: []rig.Edit{{Path: "people", Old: "2", New: "3"}}}); w.Code != http.StatusOK {
		t.Errorf("an edit of what was left alone: %s", w.Body)
	}
	w := post(t, s, "/api/edit", EditAsk{Revision: first, Edits: []rig.Edit{{Path: "bank/blocks", Old: "3", New: "5"}}})
	if text := problem(t, w, http.StatusConflict); text != `expected "3", found "about 4"` {
		t.Errorf("conflict %q", text)
	}
	if w := post(t, s, "/api/undo", StepAsk{Revision: first}); w.Code != http.StatusConflict {
		t.Errorf("undo of an old revision: status %d", w.Code)
	}

	for range 2 {
		decoded[RigView](t, post(t, s, "/api/undo", StepAsk{Revision: revisionOf(t, s)}))
	}
	if got := fileText(t, path); got != before {
		t.Error("undo does not lead back to the file as it was")
	}
	if w := post(t, s, "/api/undo", StepAsk{Revision: revisionOf(t, s)}); w.Code != http.StatusConflict {
		t.Errorf("undo of nothing: status %d", w.Code)
	}
	v = decoded[RigView](t, post(t, s, "/api/redo", StepAsk{Revision: revisionOf(t, s)}))
	if v.Redo != "people: 2 to 3" {
		t.Errorf("redo %q", v.Redo)
	}
}

// TestEditFaultsInPlainWords holds what a person reads against what they typed.
func TestEditFaultsInPlainWords(t *testing.T) {
	s := newTestServer(t, exampleRig(t))
	revision := revisionOf(t, s)
	for _, c := range []struct{ path, old, text, says string }{
		{"people", "2", "many", "a plain number"},
		{"people", "2", "2.5", "whole"},
		{"people", "2", "40", "1 to 20"},
		{"bank/block/capacity", "100 Ah", "100", "Ah"},
		{"bank/block/capacity", "100 Ah", "100 V", "charge"},
		{"bank/chemistry", "LFP", "lithium", "LFP"},
		{"appliances/furnace/keeps", "64 F", "400 F", "40 C"},
		{"nothing/here", "", "1", "no key"},
	} {
		ask := EditAsk{Revision: revision, Edits: []rig.Edit{{Path: c.path, Old: c.old, New: c.text}}}
		text := problem(t, post(t, s, "/api/edit", ask), http.StatusUnprocessableEntity)
		if !strings.Contains(text, c.says) || strings.Contains(text, "edit \"") {
			t.Errorf("%s %q: %s", c.path, c.text, text)
		}
		target := "/api/try?path=" + url.QueryEscape(c.path) + "&text=" + url.QueryEscape(c.text)
		if c.path == "nothing/here" {
			problem(t, get(s, target), http.StatusUnprocessableEntity)
			continue
		}
		if tried := decoded[TryView](t, get(s, target)); tried.Problem != text {
			t.Errorf("%s %q: tried %q, edited %q", c.path, c.text, tried.Problem, text)
		}
	}
	if revision != revisionOf(t, s) {
		t.Error("a refused edit changed the rig")
	}
}

func TestTry(t *testing.T) {
	s := newTestServer(t, exampleRig(t))
	try := func(path, text string) TryView {
		return decoded[TryView](t, get(s, "/api/try?path="+url.QueryEscape(path)+"&text="+url.QueryEscape(text)))
	}
	if v := try("arrays/front pair/run/length", "3 m"); v.Problem != "" || v.Means.US != "9.84 ft" || v.Means.Metric != "3 m" || v.State != "stated" {
		t.Errorf("3 m: %+v", v)
	}
	if v := try("bank/starts at", "unknown"); v.State != "unknown" {
		t.Errorf("unknown: %+v", v)
	}
	if v := try("bank/starts at", ""); v.State != "default" || v.Means.US == "" {
		t.Errorf("left out: %+v", v)
	}
	if v := try("arrays/front pair/module", "field 300"); !strings.Contains(v.Problem, "no such name") {
		t.Errorf("a module that is not there: %+v", v)
	}
}

func TestWholeTextAndCheck(t *testing.T) {
	path := exampleRig(t)
	s := newTestServer(t, path)
	check := decoded[CheckView](t, post(t, s, "/api/check", map[string]string{"text": "campwright: 1\nname: X\nkind: vann\n"}))
	if len(check.Faults) != 1 || check.Faults[0].Line != 3 {
		t.Errorf("faults %+v", check.Faults)
	}
	text := "campwright: 1\nname: X\nkind: van # short\n"
	v := decoded[RigView](t, post(t, s, "/api/text", TextAsk{Revision: revisionOf(t, s), Text: text}))
	if v.Name != "X" || fileText(t, path) != text {
		t.Errorf("name %q", v.Name)
	}
	if w := post(t, s, "/api/text", TextAsk{Revision: "0123456789abcdef", Text: text + "\n"}); w.Code != http.StatusConflict {
		t.Errorf("a text for an old revision: status %d", w.Code)
	}
}

func TestParts(t *testing.T) {
	path := exampleRig(t)
	s := newTestServer(t, path)
	before := fileText(t, path)
	do := func(ask PartAsk) RigView {
		t.Helper()
		ask.Revision = revisionOf(t, s)
		return decoded[RigView](t, post(t, s, "/api/part", ask))
	}
	names := func(v RigView, list string) string {
		var all []string
		for _, section := range v.Sections {
			if section.Path == list {
				for _, p := range section.Parts {
					all = append(all, p.Name)
				}
			}
		}
		return strings.Join(all, ", ")
	}

	v := do(PartAsk{Do: "add", Path: "appliances", Name: `kettle "old"`, Values: map[string]string{"power": "1200 W", "runs on": "ac", "keeps": " "}})
	if r := rowOf(t, v, `appliances/kettle "old"/power`); r.Raw != "1200 W" {
		t.Errorf("added %+v", r)
	}
	v = do(PartAsk{Do: "add", Path: "modules", Name: "spare 100", Values: map[string]string{"power": "100 W", "voc": "22 V", "isc": "6 A", "vmp": "18 V", "imp": "5.5 A"}})
	if got := names(v, "modules"); got != "field 200, late 220, spare 100" {
		t.Errorf("modules %s", got)
	}
	v = do(PartAsk{Do: "add", Path: "charge line", Values: map[string]string{"run/gauge": "2 AWG", "run/length": "3 ft"}})
	if got := names(v, "charge line"); got != "1 fuse, 2 run, 3 plug, 4 run, 5 dc-dc, 6 run" {
		t.Errorf("charge line %s", got)
	}
	v = do(PartAsk{Do: "copy", Path: "appliances/lights", Name: "outside lights"})
	if r := rowOf(t, v, "appliances/outside lights/power"); r.Raw != "about 18 W" {
		t.Errorf("copied %+v", r)
	}
	v = do(PartAsk{Do: "copy", Path: "controllers/pantry", Name: "cellar"})
	if r := rowOf(t, v, "controllers/cellar/output"); r.Raw != "30 A" {
		t.Errorf("copied %+v", r)
	}
	v = do(PartAsk{Do: "copy", Path: "trip/1"})
	if r := rowOf(t, v, "trip/4/nights"); r.Raw != "28" {
		t.Errorf("copied %+v", r)
	}
	v = do(PartAsk{Do: "remove", Path: "appliances/pump"})
	if got := names(v, "appliances"); strings.Contains(got, "pump") {
		t.Errorf("appliances %s", got)
	}

	// A name is changed wherever it is used, and nothing is left pointing nowhere.
	v = do(PartAsk{Do: "rename", Path: "controllers/pantry", Name: "larder"})
	if r := rowOf(t, v, "arrays/front pair/controller"); r.Raw != "larder" || len(v.Faults) > 0 {
		t.Errorf("array on %q, faults %v", r.Raw, v.Faults)
	}
	v = do(PartAsk{Do: "rename", Path: "appliances/breathing machine", Name: "sleep machine"})
	if r := rowOf(t, v, "aims/must never lose"); r.Raw != "[sleep machine]" || len(v.Faults) > 0 {
		t.Errorf("must never lose %q, faults %v", r.Raw, v.Faults)
	}

	for range 9 {
		decoded[RigView](t, post(t, s, "/api/undo", StepAsk{Revision: revisionOf(t, s)}))
	}
	if fileText(t, path) != before {
		t.Error("undo does not lead back to the file as it was")
	}
	for _, c := range []struct {
		ask  PartAsk
		says string
	}{
		{PartAsk{Do: "add", Path: "appliances", Name: "pump", Values: map[string]string{"power": "1 W"}}, "already"},
		{PartAsk{Do: "add", Path: "modules", Values: map[string]string{"power": "100 W"}}, "name"},
		{PartAsk{Do: "add", Path: "appliances"}, "at least"},
		{PartAsk{Do: "add", Path: "bank", Name: "x", Values: map[string]string{"blocks": "1"}}, "no list"},
		{PartAsk{Do: "add", Path: "appliances", Name: "x", Values: map[string]string{"power": "1 parsec"}}, "parsec"},
		{PartAsk{Do: "remove", Path: "appliances/none"}, "not in the file"},
		{PartAsk{Do: "copy", Path: "appliances/none", Name: "x"}, "not in the file"},
		{PartAsk{Do: "up", Path: "appliances/refrigerator"}, "end of its list"},
	} {
		c.ask.Revision = revisionOf(t, s)
		if text := problem(t, post(t, s, "/api/part", c.ask), http.StatusUnprocessableEntity); !strings.Contains(text, c.says) {
			t.Errorf("%s %s: %s", c.ask.Do, c.ask.Path, text)
		}
	}
	if w := post(t, s, "/api/part", PartAsk{Revision: "0123456789abcdef", Do: "remove", Path: "appliances/pump"}); w.Code != http.StatusConflict {
		t.Errorf("a part of an old revision: status %d", w.Code)
	}
}

// TestMoved walks every part of every list of the demo rigs to the top and back; each time the file says the same and keeps every line.
func TestMoved(t *testing.T) {
	walked := 0
	for _, name := range []string{"desert-trailer.yaml", "northern-van.yaml", "fifth-wheel.yaml"} {
		text := readExample(t, name)
		doc, faults := rig.Decode(bytes.NewReader(text))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		for _, list := range []string{"modules", "controllers", "arrays", "appliances", "trip", "charge line"} {
			members := membersOf(&doc, list)
			for i := 1; i < len(members); i++ {
				up, err := moved(text, members[i], true)
				if err != nil {
					t.Errorf("%s: %s: %v", name, members[i], err)
					continue
				}
				walked++
				now, faults := rig.Decode(bytes.NewReader(up))
				if len(faults) > 0 || len(membersOf(&now, list)) != len(members) {
					t.Errorf("%s: %s: faults %v", name, members[i], faults)
				}
				if sortedLines(up) != sortedLines(text) {
					t.Errorf("%s: %s: a line was lost or changed", name, members[i])
				}
				named := members[i]
				if list == "trip" || list == "charge line" {
					named = members[i-1] // parts without a name go by their place
				}
				down, err := moved(up, named, false)
				if err != nil || !bytes.Equal(down, text) {
					t.Errorf("%s: %s down again: %v", name, named, err)
				}
			}
		}
	}
	if walked < 50 {
		t.Errorf("only %d parts were moved", walked)
	}
}

func sortedLines(text []byte) string {
	counts := map[string]int{}
	for _, l := range strings.Split(string(text), "\n") {
		counts[l]++
	}
	out, err := json.Marshal(counts) // keys of a map come sorted
	if err != nil {
		return err.Error()
	}
	return string(out)
}

func TestMovedKeepsRemarks(t *testing.T) {
	text := "campwright: 1\nname: X\nkind: van\nappliances:\n  # the first\n  - name: fan\n    power: 14 W # loud\n\n  # the second\n  - {name: lamp, power: 3 W}"
	out, err := moved([]byte(text), "appliances/lamp", true)
	want := "campwright: 1\nname: X\nkind: van\nappliances:\n  # the second\n  - {name: lamp, power: 3 W}\n  # the first\n  - name: fan\n    power: 14 W # loud\n"
	if err != nil || strings.ReplaceAll(string(out), "\n\n", "\n") != want {
		t.Errorf("%v\n%s", err, out)
	}
	if _, err := moved([]byte("campwright: 1\nname: X\nkind: van\nappliances: [{name: fan, power: 1 W}, {name: lamp, power: 3 W}]\n"), "appliances/lamp", true); err == nil {
		t.Error("parts on one line were moved")
	}
}

func TestScratchRig(t *testing.T) {
	s := newTestServer(t, "", func(o *Options) { o.Rig = store.Scratch("demo rig", readExample(t, "northern-van.yaml"), testNow) })
	v := decoded[RigView](t, post(t, s, "/api/edit", EditAsk{Revision: revisionOf(t, s), Edits: []rig.Edit{{Path: "people", Old: "1", New: "2"}}}))
	if v.Saved || v.Undo == "" || v.Changed != "" {
		t.Errorf("saved %v, undo %q, changed %q", v.Saved, v.Undo, v.Changed)
	}
}
