package web

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"campwright/rig"
)

func kindsOf(t *testing.T, s *Server, list string) []KindRow {
	t.Helper()
	return decoded[KindsView](t, get(s, "/api/kinds?list="+url.QueryEscape(list))).Kinds
}

// TestEveryKindCanBeAdded adds each kind that can be picked; what it brings must be in order, and count as taken.
func TestEveryKindCanBeAdded(t *testing.T) {
	s := newTestServer(t, exampleRig(t))
	tried := 0
	for _, list := range []string{"appliances", "modules", "controllers", "arrays", "inverters", "shore/chargers", "generators", "vehicle/alternators", "charge line"} {
		if list == "charge line" { // where one unit stands there is no room for another
			if w := post(t, s, "/api/part", PartAsk{Revision: revisionOf(t, s), Do: "add", Path: list, Kind: "30 A dc-dc"}); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "a second dc-dc unit") {
				t.Errorf("a second unit was taken: %d", w.Code)
			}
			decoded[RigView](t, post(t, s, "/api/part", PartAsk{Revision: revisionOf(t, s), Do: "remove", Path: "charge line/5"}))
		}
		kinds := kindsOf(t, s, list)
		if len(kinds) == 0 {
			t.Errorf("%s: nothing can be picked", list)
		}
		for _, k := range kinds {
			tried++
			v := decoded[RigView](t, post(t, s, "/api/part", PartAsk{Revision: revisionOf(t, s), Do: "add", Path: list, Kind: k.Name}))
			if len(v.Faults) > 0 || !strings.HasPrefix(v.Added, list+"/") || k.Words.US == "" || k.Words.Metric == "" {
				t.Errorf("%s, %s: added %q, faults %v, words %+v", list, k.Name, v.Added, v.Faults, k.Words)
			}
			rows, taken := 0, 0
			for _, section := range v.Sections {
				eachRow(section.Parts, func(r *Row) {
					if strings.HasPrefix(r.Path, v.Added+"/") && r.State != "default" {
						rows++
						if r.State == takenState {
							taken++
						}
					}
				})
			}
			if rows < 2 || list != "arrays" && taken != rows {
				t.Errorf("%s, %s: %d rows at %q, of which %d taken", list, k.Name, rows, v.Added, taken)
			}
			decoded[RigView](t, post(t, s, "/api/undo", StepAsk{Revision: v.Revision}))
		}
	}
	if tried < 100 {
		t.Errorf("only %d kinds were tried", tried)
	}
}

// TestRemoveWhatIsNamed removes parts that others name: it is refused, with who names them, and a part that nobody names goes.
func TestRemoveWhatIsNamed(t *testing.T) {
	path := exampleRig(t)
	s := newTestServer(t, path)
	before := fileText(t, path)
	for part, user := range map[string]string{
		"controllers/pantry": "array front pair, controller", "modules/late 220": "array late three, module", "appliances/breathing machine": "must never lose",
	} {
		w := post(t, s, "/api/part", PartAsk{Revision: revisionOf(t, s), Do: "remove", Path: part})
		if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), user) {
			t.Errorf("%s: %d, wanted a word of %q", part, w.Code, user)
		}
	}
	if now := fileText(t, path); now != before {
		t.Error("a refusal changed the file")
	}
	if w := post(t, s, "/api/part", PartAsk{Revision: revisionOf(t, s), Do: "remove", Path: "appliances/lights"}); w.Code != http.StatusOK {
		t.Errorf("the lights cannot go: %d %s", w.Code, w.Body)
	}
}

// TestRemoveWithUsers removes a part together with what names it, or lets that name another: each time the file is in order, and one undo
// brings all of it back.
func TestRemoveWithUsers(t *testing.T) {
	path := exampleRig(t)
	s := newTestServer(t, path)
	before := fileText(t, path)
	v := decoded[UsersView](t, get(s, "/api/part/users?path="+url.QueryEscape("controllers/pantry")))
	if len(v.Users) == 0 || v.Users[0].Words != "array front pair, controller" || v.Users[0].Goes != "array front pair" || len(v.Others) != 1 || v.Others[0] != "wardrobe" {
		t.Errorf("who names the pantry: %+v", v)
	}
	if v := decoded[UsersView](t, get(s, "/api/part/users?path="+url.QueryEscape("appliances/lights"))); len(v.Users) > 0 {
		t.Errorf("who names the lights: %+v", v)
	}
	for _, c := range []struct {
		ask        PartAsk
		gone, kept string
	}{
		{PartAsk{Path: "controllers/pantry", Users: "remove"}, "name: front pair", "late three"},
		{PartAsk{Path: "controllers/pantry", Users: "point", To: "wardrobe"}, "controller: pantry", "front pair"},
		{PartAsk{Path: "modules/late 220", Users: "point", To: "field 200"}, "module: late 220", "late three"},
		{PartAsk{Path: "appliances/breathing machine", Users: "remove"}, "breathing machine", "late three"},
	} {
		c.ask.Do, c.ask.Revision = "remove", revisionOf(t, s)
		w := post(t, s, "/api/part", c.ask)
		if w.Code != http.StatusOK {
			t.Errorf("%+v: %d %s", c.ask, w.Code, w.Body)
			continue
		}
		after := decoded[RigView](t, w)
		_, faults := rig.Decode(strings.NewReader(after.Source))
		if len(faults) > 0 || strings.Contains(withoutRemarks(after.Source), c.gone) || !strings.Contains(after.Source, c.kept) {
			t.Errorf("%+v: %v in\n%s", c.ask, faults, after.Source)
		}
		decoded[RigView](t, post(t, s, "/api/undo", StepAsk{Revision: after.Revision}))
		if fileText(t, path) != before {
			t.Fatal("one undo does not bring all of it back")
		}
	}
}

// withoutRemarks is a text without what stands behind number signs.
func withoutRemarks(text string) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		body, _, _ := strings.Cut(line, "#")
		b.WriteString(body + "\n")
	}
	return b.String()
}

func TestAddKind(t *testing.T) {
	path := exampleRig(t)
	s := newTestServer(t, path)
	before := fileText(t, path)
	first := decoded[RigView](t, post(t, s, "/api/part", PartAsk{Revision: revisionOf(t, s), Do: "add", Path: "appliances", Kind: "electric kettle"}))
	if first.Added != "appliances/electric kettle" || first.Undo != "electric kettle added" {
		t.Errorf("added %q, undo %q", first.Added, first.Undo)
	}
	second := decoded[RigView](t, post(t, s, "/api/part", PartAsk{Revision: first.Revision, Do: "add", Path: "appliances", Kind: "electric kettle"}))
	if second.Added != "appliances/electric kettle 2" {
		t.Errorf("a second one is added as %q", second.Added)
	}
	row := rowOf(t, second, "appliances/electric kettle/power")
	if row.State != takenState {
		t.Errorf("power %+v", row)
	}

	// What the owner says of it is theirs.
	own := decoded[RigView](t, post(t, s, "/api/edit", EditAsk{Revision: second.Revision, Edits: []rig.Edit{{Path: "appliances/electric kettle/power", Old: row.Raw, New: "900 W"}}}))
	if r := rowOf(t, own, "appliances/electric kettle/power"); r.State != "stated" {
		t.Errorf("power after the edit %+v", r)
	}
	if r := rowOf(t, own, "appliances/electric kettle/on"); r.State != takenState {
		t.Errorf("its hours after the edit %+v", r)
	}

	for range 3 {
		decoded[RigView](t, post(t, s, "/api/undo", StepAsk{Revision: revisionOf(t, s)}))
	}
	if fileText(t, path) != before {
		t.Error("undo does not lead back")
	}
	w := post(t, s, "/api/part", PartAsk{Revision: revisionOf(t, s), Do: "add", Path: "appliances", Kind: "flux capacitor"})
	problem(t, w, http.StatusUnprocessableEntity)
	if kinds := kindsOf(t, s, "nothing/here"); len(kinds) != 0 {
		t.Errorf("%d kinds for no list", len(kinds))
	}
}

// TestRemoveIsTakenBackByOnePress removes a part and takes that back.
func TestRemoveIsTakenBackByOnePress(t *testing.T) {
	path := exampleRig(t)
	s := newTestServer(t, path)
	before := fileText(t, path)
	gone := decoded[RigView](t, post(t, s, "/api/part", PartAsk{Revision: revisionOf(t, s), Do: "remove", Path: "appliances/furnace"}))
	if !strings.HasPrefix(gone.Undo, "furnace removed") {
		t.Errorf("undo is called %q", gone.Undo)
	}
	decoded[RigView](t, post(t, s, "/api/undo", StepAsk{Revision: gone.Revision}))
	if fileText(t, path) != before {
		t.Error("the part is not back as it was")
	}
}

// TestTakenIsCounted holds the counts of a first sheet against its remarks.
func TestTakenIsCounted(t *testing.T) {
	s := newTestServer(t, exampleRig(t))
	decoded[RigView](t, post(t, s, "/api/new", NewAsk{Answers: map[string]string{"kind": "van", "place": "Moab", "when": "2027-05-01", "nights": "5"}}))
	v := decoded[RigView](t, get(s, "/api/rig"))
	n := map[string]int{}
	for _, c := range v.Counts {
		n[c.State] = c.N
	}
	if n[takenState] < 50 || n["stated"] > 15 {
		t.Errorf("counts %v: nearly all of a first sheet is taken", n)
	}
	for path, state := range map[string]string{"bank/blocks": takenState, "trip/1/place": "stated", "trip/1/nights": "stated", "kind": "stated", "modules/usual 200/voc": takenState} {
		if r := rowOf(t, v, path); r.State != state {
			t.Errorf("%s is %q, want %q", path, r.State, state)
		}
	}
}
