package web

import (
	"testing"

	"campwright/rig"
)

// TestWiredShifts turns a written run from 6 AWG into 2 AWG and takes it back: the one size is told, and nothing without a revision to
// count from.
func TestWiredShifts(t *testing.T) {
	s := newTestServer(t, rigFile(t, ohmicRig))
	first := decoded[WiredSheet](t, get(s, "/api/wired"))
	if first.Since != "" || len(first.Shifts) != 0 {
		t.Errorf("since %q, %+v", first.Since, first.Shifts)
	}
	post(t, s, "/api/edit", EditAsk{Revision: first.Revision, Edits: []rig.Edit{{Path: "wiring/runs/feed/gauge", Old: "6 AWG", New: "2 AWG"}}})
	second := decoded[WiredSheet](t, get(s, "/api/wired?since="+first.Revision))
	if second.Since != first.Revision || len(second.Shifts) != 1 || second.Shifts[0].Name != "feed" || second.Shifts[0].Before.US != "6 AWG" || second.Shifts[0].After.US != "2 AWG" {
		t.Errorf("since %q: %+v", second.Since, second.Shifts)
	}
	if lost := decoded[WiredSheet](t, get(s, "/api/wired?since=0123456789abcdef")); lost.Since != "" || len(lost.Shifts) != 0 {
		t.Errorf("since a lost revision: %+v", lost.Shifts)
	}
	back := wiredShifts(&second, &first)
	if len(back) != 1 || back[0].Before.US != "2 AWG" || back[0].After.US != "6 AWG" {
		t.Errorf("%+v", back)
	}
	none := emptyWired("")
	if gone := wiredShifts(&first, &none); len(gone) == 0 || gone[0].After.US != "" {
		t.Errorf("%+v", gone)
	}
}
