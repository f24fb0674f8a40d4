package m06

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M06"

// TestM06Example is the worked example of case M06 and its twins: modules of 6.2 A marked 15 A, two, three and four strings; then with 10 A fuses.
func TestM06Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "four strings", room.Value(t, o, "Iback"), 23.25, 2, practice)
	twin := room.One(t, check.Pass, Rule, "testdata/good-1.yaml")
	near.Printed(t, "two strings", room.Value(t, twin, "Iback"), 7.75, 2, practice)
	room.One(t, check.Pass, Rule, "testdata/good-2.yaml")
}
