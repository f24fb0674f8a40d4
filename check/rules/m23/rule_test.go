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

// TestM23Together: 2,000 W at 90 % and 40 A at the nominal 12.8 V are 2,222 W and 512 W at the terminals. From 12.4 V behind 2.3 milliohm they draw at least
// 2,734 / 12.4 = 220 A, and more for what the leads take; two blocks of 100 A do not bear it. By hand, from below.
func TestM23Together(t *testing.T) {
	list := room.Judge(t, Rule, "testdata/bad-2.yaml")
	if len(list) != 2 || list[0].Place != "bank" || list[0].Verdict != check.Fail || list[1].Verdict != check.Pass {
		t.Fatalf("outcomes %+v", list)
	}
	near.Within(t, "current", room.Value(t, list[0], "I"), 220, 232, "by hand: 2,734 W at 12.4 V and at 11.8 V")
	room.One(t, check.Pass, Rule, "testdata/good-2.yaml")
}
