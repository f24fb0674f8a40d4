package m46

import (
	"strings"
	"testing"

	"campwright/check"
	"campwright/tools/newrule/room"
)

// TestM46Example is the worked example of case M46 and its twin: an 18 AWG sense wire directly on a bank of 9 kA, and behind a 3 A fuse.
func TestM46Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	if !strings.Contains(o.Detail, "9.1 kA") {
		t.Errorf("detail %q; two blocks of 3 milliohm drive 9.1 kA at 13.6 V", o.Detail)
	}
	room.One(t, check.Pass, Rule, "testdata/good-1.yaml")
}
