package m11

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M11"

// TestM11Example is the worked example of case M11: 101 V in the cold on a breaker for 80 V, and an array of 42 V or more on a 32 V blade fuse.
func TestM11Example(t *testing.T) {
	o := room.One(t, check.Stop, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "cold voltage", room.Value(t, o, "Vcold"), 101, 0, practice)
	blade := room.One(t, check.Fail, Rule, "testdata/bad-2.yaml")
	near.Within(t, "two in series at 20 C", room.Value(t, blade, "Vcold"), 42, 46, practice)
}
