package m69

import (
	"strings"
	"testing"

	"campwright/check"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

// TestM69Example is the worked example of case M69: a microwave of 12 A counted as 12 A; 125 A in truth.
func TestM69Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	if !strings.Contains(o.Detail, "from the bank they are 125 A") {
		t.Errorf("detail %q", o.Detail)
	}
	if list := room.Judge(t, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "appliances/microwave/runs on", Old: "dc", New: "ac"}); len(list) != 0 {
		t.Errorf("on ac: %+v", list)
	}
}

// TestNamed: names that only contain a listed word are not taken for it.
func TestNamed(t *testing.T) {
	for name, want := range map[string]bool{"Microwave": true, "small toaster oven": true, "environment sensor": false, "pump": false, "hair dryer": true, "ironing light": true} {
		if named(name) != want {
			t.Errorf("%q: %v", name, !want)
		}
	}
}
