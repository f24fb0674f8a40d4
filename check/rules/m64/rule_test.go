package m64

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M64"

// TestM64Example is the worked example of case M64: an alternator of 130 A, hot 104 A at cruise and 50 A at idle, own load 45 A, a unit that
// takes 55 A.
func TestM64Example(t *testing.T) {
	list := room.Judge(t, Rule, "testdata/bad-1.yaml")
	if len(list) != 2 {
		t.Fatalf("%d outcomes", len(list))
	}
	idle, cruise := list[0], list[1]
	if idle.Verdict != check.Fail || cruise.Verdict != check.Pass {
		t.Errorf("idle %s, cruise %s", idle.Verdict, cruise.Verdict)
	}
	near.Printed(t, "taken", room.Value(t, idle, "Iin"), 55, 0, practice)
	near.Printed(t, "spare at idle", room.Value(t, idle, "Ispare"), 5, 0, practice)
	near.Printed(t, "spare at cruise", room.Value(t, cruise, "Ispare"), 59, 0, practice)
}
