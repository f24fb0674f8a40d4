package web

import (
	"net/http"
	"slices"
	"testing"

	"campwright/rig"
)

func TestHistory(t *testing.T) {
	path := exampleRig(t)
	s := newTestServer(t, path)
	before := fileText(t, path)
	first := revisionOf(t, s)
	v := decoded[RigView](t, post(t, s, "/api/keep", KeepAsk{Name: " as built ", Note: "autumn"}))
	if v.Revision != first || v.Label != "as built" {
		t.Errorf("kept: revision %s, label %q", v.Revision, v.Label)
	}
	decoded[RigView](t, post(t, s, "/api/edit", EditAsk{Revision: first, Edits: []rig.Edit{{Path: "people", Old: "2", New: "4"}}}))
	decoded[RigView](t, post(t, s, "/api/part", PartAsk{Revision: revisionOf(t, s), Do: "remove", Path: "appliances/pump"}))

	h := decoded[HistoryView](t, get(s, "/api/history"))
	if len(h.Kept) != 1 || h.Kept[0].Name != "as built" || h.Kept[0].Note != "autumn" || h.Kept[0].Revision != first {
		t.Errorf("kept %+v", h.Kept)
	}
	if len(h.Changes) != 4 || h.Changes[0].Words != "pump removed" || h.Changes[1].Words != "people: 2 to 4" {
		t.Errorf("changes %+v", h.Changes)
	}
	c := decoded[CompareView](t, get(s, "/api/compare?a="+first))
	if len(c.Rows) != 2 || c.Rows[0].Where != "people" || c.Rows[0].A != "2" || c.Rows[0].B != "4" || c.Rows[1].Where != "pump" || c.Rows[1].B != "" {
		t.Errorf("rows %+v", c.Rows)
	}
	// Any two, either way round: the middle one against the first, which knows nothing of the pump that went later.
	back := decoded[CompareView](t, get(s, "/api/compare?a="+h.Changes[1].Revision+"&b="+first))
	if len(back.Rows) != 1 || back.Rows[0].Where != "people" || back.Rows[0].A != "4" || back.Rows[0].B != "2" {
		t.Errorf("the middle against the first: %+v", back.Rows)
	}
	told := 0
	for _, r := range c.Stores {
		if r.Where == "fresh water" && r.A != "" && r.A != r.B {
			told++
		}
	}
	if told != 1 {
		t.Errorf("stores %+v", c.Stores)
	}
	decoded[RigView](t, post(t, s, "/api/edit", EditAsk{Revision: revisionOf(t, s), Edits: []rig.Edit{{Path: "stores/black", Old: "32 gal", New: ""}}}))
	gone := decoded[CompareView](t, get(s, "/api/compare?a="+first)).Stores
	if i := slices.IndexFunc(gone, func(r CompareRow) bool { return r.Where == "black tank" }); i < 0 || gone[i].A == "" || gone[i].B != "" {
		t.Errorf("a store that is no longer aboard is not told: %+v", gone)
	}
	decoded[RigView](t, post(t, s, "/api/restore", RestoreAsk{Revision: revisionOf(t, s), To: first}))
	if fileText(t, path) != before {
		t.Error("going back does not lead to the file as it was")
	}
	for target, status := range map[string]int{"/api/compare?a=0123456789abcdef": 404, "/api/compare": 422} {
		if w := get(s, target); w.Code != status {
			t.Errorf("%s: status %d: %s", target, w.Code, w.Body)
		}
	}
	if w := post(t, s, "/api/restore", RestoreAsk{Revision: first, To: "0123456789abcdef"}); w.Code != http.StatusNotFound {
		t.Errorf("going back to nothing: status %d", w.Code)
	}
	if w := post(t, s, "/api/keep", KeepAsk{}); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("keeping without a name: status %d", w.Code)
	}
}
