package m78

import (
	"strings"
	"testing"

	"campwright/check"
	"campwright/tools/newrule/room"
)

// TestM78Example is the worked example of case M78: an inverter above flooded batteries; beside propane it is the same; in another bay it passes.
func TestM78Example(t *testing.T) {
	o := room.One(t, check.Stop, Rule, "testdata/bad-1.yaml")
	if !strings.Contains(o.Detail, "inverter main") {
		t.Errorf("%q does not name what sparks", o.Detail)
	}
	room.One(t, check.Stop, Rule, "testdata/bad-2.yaml")
	room.One(t, check.Pass, Rule, "testdata/good-1.yaml")
}
