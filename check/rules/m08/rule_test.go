package m08

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M08"

// TestM08Example is the worked example of case M08: three strings of 13.9 A through a connector for 30 A.
func TestM08Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "sum with 1.25", room.Value(t, o, "Isum"), 52.1, 1, practice)
}
