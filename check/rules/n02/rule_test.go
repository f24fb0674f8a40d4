package n02

import (
	"strings"
	"testing"

	"campwright/check"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

// TestN02Example: behind the house disconnect the brakes are dead when it opens; on an LFP bank they are dead when its electronics open, even ahead of
// every switch; a battery of their own passes, and so do the posts of a lead-acid bank.
func TestN02Example(t *testing.T) {
	o := room.One(t, check.Stop, Rule, "testdata/bad-1.yaml")
	if !strings.Contains(o.Detail, "house disconnect") {
		t.Errorf("%q does not name the switch", o.Detail)
	}
	room.One(t, check.Stop, Rule, "testdata/bad-2.yaml")
	room.One(t, check.Stop, Rule, "testdata/bad-3.yaml")
	room.One(t, check.Pass, Rule, "testdata/bad-2.yaml", rig.Edit{Path: "breakaway brakes", Old: "bank", New: "own battery"})
	room.One(t, check.Pass, Rule, "testdata/good-1.yaml")
	room.One(t, check.Pass, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "breakaway brakes", Old: "fuse block house", New: "bus bar front"})
}

// TestNoTrailer: a van has no such brakes.
func TestNoTrailer(t *testing.T) {
	if list := room.Judge(t, Rule, "testdata/undecided-1.yaml", rig.Edit{Path: "kind", Old: "travel trailer", New: "van"}); len(list) != 0 {
		t.Errorf("%+v", list)
	}
}
