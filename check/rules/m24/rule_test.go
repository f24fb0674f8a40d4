package m24

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M24"

// TestM24Example is the worked example of case M24 and its twin: a start of 50 A takes 521 A of a bank that gives 400 A; with a soft starter 250 A.
func TestM24Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "start", room.Value(t, o, "I"), 521, 0, practice)
	twin := room.One(t, check.Pass, Rule, "testdata/good-1.yaml")
	near.Printed(t, "soft start", room.Value(t, twin, "I"), 250, 0, practice)
}
