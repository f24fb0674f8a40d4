package m35

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M35"

// TestM35Example is the worked example of case M35 and its twin: the battery opens at 11.2 V, the inverter stops at 10.5 V; inverter 12.0, loads
// 11.6, battery 11.2 V pass.
func TestM35Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "inverter", room.Value(t, o, "Vfirst"), 10.5, 1, practice)
	near.Printed(t, "battery", room.Value(t, o, "Vlater"), 11.2, 1, practice)
	list := room.Judge(t, Rule, "testdata/good-1.yaml")
	if len(list) != 2 || list[0].Verdict != check.Pass || list[1].Verdict != check.Pass {
		t.Errorf("twin: %+v, %s", list, practice)
	}
}

// TestEqual: cut-offs at the very same voltage have no order, so they fail.
func TestEqual(t *testing.T) {
	room.One(t, check.Fail, Rule, "testdata/bad-3.yaml")
}
