package m23

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M23"

// TestM23Example is the worked example of case M23: 2,000 W on one block of 100 A take 179 A at 12.4 V.
func TestM23Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "current", room.Value(t, o, "I"), 179, 0, practice)
}
