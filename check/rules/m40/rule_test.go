package m40

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M40"

// TestM40Example is the worked example of case M40 and its twin: a 32 V fuse on a bank charged at 58.4 V, and at 29.2 V.
func TestM40Example(t *testing.T) {
	o := room.One(t, check.Stop, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "highest", room.Value(t, o, "Vtop"), 58.4, 1, practice)
	twin := room.One(t, check.Pass, Rule, "testdata/good-1.yaml")
	near.Printed(t, "highest", room.Value(t, twin, "Vtop"), 29.2, 1, practice)
}
