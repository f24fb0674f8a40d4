package m07

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M07"

// TestM07Example is the worked example of case M07: 13.9 A marked 25 A needs 21.7 A; 25 A passes, 15 A opens in the sun, 30 A is over the label.
func TestM07Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "smallest", room.Value(t, o, "Imin"), 21.7, 1, practice)
	high := room.One(t, check.Fail, Rule, "testdata/bad-2.yaml")
	near.Printed(t, "fuse", room.Value(t, high, "Fuse"), 30, 0, practice)
	room.One(t, check.Pass, Rule, "testdata/good-1.yaml")
}
