package web

import (
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"campwright/store"
)

func startServer(t *testing.T) (s *Server, folder string) {
	t.Helper()
	folder = t.TempDir()
	for name, text := range map[string]string{
		"tern.yaml": "campwright: 1\n# our first one\nname: Tern # so called\nkind: van\n", "notes.yaml": "shopping: milk\n", ".hidden.yaml": "campwright: 1\n", "tern.txt": "campwright: 1\n",
	} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return newTestServer(t, exampleRig(t), func(o *Options) {
		o.Folder, o.Recent = folder, store.RecentIn(t.TempDir())
		o.Demos = []Demo{{"northern van", readExample(t, "northern-van.yaml")}}
	}), folder
}

func TestRigsToOpen(t *testing.T) {
	s, folder := startServer(t)
	v := decoded[RigsView](t, get(s, "/api/rigs"))
	if len(v.Files) != 1 || v.Files[0].Name != "Tern" || v.Files[0].Kind != "van" || v.Files[0].Note != "our first one" || v.Folder != folder {
		t.Errorf("files %+v in %s", v.Files, v.Folder)
	}
	if len(v.Demos) != 1 || v.Demos[0].Name != "Grebe" || len(v.Recent) != 0 || len(v.Asks) < 6 || len(v.Links) != 0 {
		t.Errorf("demos %+v, recent %+v, %d questions", v.Demos, v.Recent, len(v.Asks))
	}
	if rig := decoded[RigView](t, post(t, s, "/api/open", OpenAsk{v.Files[0].Key})); rig.Name != "Tern" || !rig.Saved {
		t.Errorf("opened %q", rig.Name)
	}
	if v := decoded[RigsView](t, get(s, "/api/rigs")); len(v.Recent) != 1 || v.Recent[0].Name != "Tern" {
		t.Errorf("recent %+v", v.Recent)
	}
	if rig := decoded[RigView](t, post(t, s, "/api/open", OpenAsk{v.Demos[0].Key})); rig.Name != "Grebe" || rig.Saved {
		t.Errorf("opened %q", rig.Name)
	}
	for _, key := range []string{"", "demo:none", "file:/etc/passwd", "file:" + filepath.Join(folder, "notes.yaml"), "file:" + folder + "/../" + filepath.Base(folder) + "/tern.yaml", filepath.Join(folder, "tern.yaml")} {
		problem(t, post(t, s, "/api/open", OpenAsk{key}), http.StatusUnprocessableEntity)
	}
	if rig := decoded[RigView](t, get(s, "/api/rig")); rig.Name != "Grebe" {
		t.Errorf("a refused key opened %q", rig.Name)
	}
}

func TestSaveAs(t *testing.T) {
	s, folder := startServer(t)
	decoded[RigView](t, post(t, s, "/api/open", OpenAsk{"demo:northern van"}))
	for _, name := range []string{"../escape", "a/b", `a\b`, ".hidden", "  ", "nul\x00", "tern"} {
		problem(t, post(t, s, "/api/save-as", SaveAsAsk{name}), http.StatusUnprocessableEntity)
	}
	rig := decoded[RigView](t, post(t, s, "/api/save-as", SaveAsAsk{"my van.yaml"}))
	if !rig.Saved || rig.File != "my van.yaml" || fileText(t, filepath.Join(folder, "my van.yaml")) != string(readExample(t, "northern-van.yaml")) {
		t.Errorf("saved as %q", rig.File)
	}
}

func TestNewRig(t *testing.T) {
	s, _ := startServer(t)
	rig := decoded[RigView](t, post(t, s, "/api/new", NewAsk{map[string]string{"kind": "van", "people": "1", "nights": "3", "wishes": "1 laptops"}}))
	if rig.Kind != "van" || len(rig.Faults) != 0 || len(rig.Gaps) != 0 || rig.Saved {
		t.Errorf("kind %q, faults %v, gaps %v", rig.Kind, rig.Faults, rig.Gaps)
	}
	if r := rowOf(t, rig, "people"); r.Raw != "1" {
		t.Errorf("people %+v", r)
	}
	if text := problem(t, post(t, s, "/api/new", NewAsk{map[string]string{"people": "many", "nights": "0"}}), http.StatusUnprocessableEntity); !strings.Contains(text, "many") || !strings.Contains(text, "nights") {
		t.Errorf("faults %q", text)
	}
}

// TestNewAnswers reads answers as they are typed: places thereabouts, numbers in words, days that have passed; and the rig that they make
// is the owner's, not saved yet, and no demo. (The clock of the tests stands at 24 November 2026.)
func TestNewAnswers(t *testing.T) {
	s, _ := startServer(t)
	tried := func(key, text string) TryView {
		return decoded[TryView](t, get(s, "/api/new/try?"+url.Values{"key": {key}, "text": {text}}.Encode()))
	}
	if v := tried("place", "near Ajo, Arizona"); v.Problem != "" || v.Remark != "taken as Ajo, AZ, US" {
		t.Errorf("near Ajo: %+v", v)
	}
	if v := tried("place", "Quartzite"); v.Problem == "" || len(v.Offers) == 0 || v.Offers[0].Text != "Quartzsite, AZ, US" {
		t.Errorf("Quartzite: %+v", v)
	}
	if v := tried("people", "two"); v.Problem != "" {
		t.Errorf("two: %+v", v)
	}
	if v := tried("people", "a few"); !strings.HasPrefix(v.Problem, `"a few" is not a number`) {
		t.Errorf("a few: %+v", v)
	}
	if v := tried("when", "January 5 2020"); v.Problem != "" || v.Remark != "this day has passed" {
		t.Errorf("a day that has passed: %+v", v)
	}
	for key, text := range map[string]string{"when": "March", "nights": "two weeks", "wishes": "two laptops", "kind": "van", "place": ""} {
		if v := tried(key, text); v.Problem != "" || v.Remark != "" {
			t.Errorf("%s %s: %+v", key, text, v)
		}
	}
	rig := decoded[RigView](t, post(t, s, "/api/new", NewAsk{map[string]string{"people": "two", "place": "near Ajo, Arizona", "nights": "two weeks", "when": "March"}}))
	if r := rowOf(t, rig, "people"); r.Raw != "2" || rig.Demo || rig.Saved || rig.Label == "" {
		t.Errorf("people %+v, demo %v, saved %v", r, rig.Demo, rig.Saved)
	}
	if r := rowOf(t, rig, "trip/1/place"); r.Raw != "Ajo, AZ, US" {
		t.Errorf("place %+v", r)
	}
	if demo := decoded[RigView](t, post(t, s, "/api/open", OpenAsk{"demo:northern van"})); !demo.Demo {
		t.Error("a demo is not told as one")
	}
}

// TestOwnerOnly lets a visitor from the network see the rig that is open and reach no other file.
func TestOwnerOnly(t *testing.T) {
	s := newTestServer(t, exampleRig(t), func(o *Options) { o.Token = "sesame" })
	from := func(address string) func(*http.Request) {
		return func(r *http.Request) {
			r.RemoteAddr = address
			r.AddCookie(&http.Cookie{Name: tokenCookie, Value: "sesame"})
		}
	}
	for _, c := range []struct {
		target, address string
		want            int
	}{
		{"/api/rig", "192.168.1.7:5000", 200}, {"/api/rigs", "192.168.1.7:5000", 403}, {"/api/rigs", "[fe80::1]:5000", 403},
		{"/api/rigs", "127.0.0.1:5000", 200}, {"/api/rigs", "[::1]:5000", 200}, {"/api/rigs", "[::ffff:127.0.0.1]:5000", 200},
	} {
		if w := get(s, c.target, from(c.address)); w.Code != c.want {
			t.Errorf("%s from %s: status %d, want %d", c.target, c.address, w.Code, c.want)
		}
	}
}

// TestFirstSentence takes the remark at the top of a file, to the end of its first sentence.
func TestFirstSentence(t *testing.T) {
	for text, want := range map[string]string{
		"campwright: 1\n# A camper that grew. Every odd\n# piece in it was right.\nname: x\n# later": "A camper that grew.",
		"# One line\n# and a second\n":   "One line and a second",
		"# Bought in 2019.5 or so\nkind": "Bought in 2019.5 or so",
		"name: x\nkind: van\n":           "",
		"name: x\n#no blank\n":           "",
	} {
		if got := firstSentence(text); got != want {
			t.Errorf("%q: %q", text, got)
		}
	}
}

func TestOnce(t *testing.T) {
	for text, want := range map[string]string{
		"array rear to controller controller 2 pv": "array rear to controller 2 pv", "at inverter inverter at 12 V": "at inverter at 12 V", "controller box": "controller box",
		"run campwright trip: it plays the stay": "open the sheet “Will it last?”: it plays the stay",
	} {
		if got := plainWords(text); got != want {
			t.Errorf("%q: %q", text, got)
		}
	}
}
