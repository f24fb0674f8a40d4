package m25

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M25"

// TestM25Example is the worked example of case M25 with its twins: 60 A of sun, 40 A of engine and 100 A of shore into two blocks of 50 A.
func TestM25Example(t *testing.T) {
	list := room.Judge(t, Rule, "testdata/bad-1.yaml")
	if len(list) != 2 {
		t.Fatalf("%d outcomes", len(list))
	}
	shore, road := list[0], list[1]
	if shore.Verdict != check.Fail || road.Verdict != check.Pass {
		t.Errorf("plugged in %s, on the road %s", shore.Verdict, road.Verdict)
	}
	near.Printed(t, "sun and engine", room.Value(t, road, "Isum"), 100, 0, practice)
	near.Printed(t, "all three, as the plan added them", room.Value(t, shore, "Isum")+room.Value(t, road, "Iengine"), 200, 0, practice)
	for _, o := range room.Judge(t, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "shore/chargers/built in/output", Old: "100 A", New: "40 A"}) {
		if o.Verdict != check.Pass {
			t.Errorf("with shore at 40 A: %s %s", o.Title, o.Verdict)
		}
	}
}
