package m33

import (
	"strings"
	"testing"

	"campwright/check"
	"campwright/tools/newrule/room"
)

// TestM33Example is the worked example of case M33: of four blocks of 3 milliohm the other three drive 13.6 kA into a fault at one.
func TestM33Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	if !strings.Contains(o.Detail, "13.6 kA") {
		t.Errorf("detail %q, the practice list says 13.6 kA", o.Detail)
	}
	room.One(t, check.Pass, Rule, "testdata/good-1.yaml")
}
