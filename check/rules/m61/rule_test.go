package m61

import (
	"strings"
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M61"

// TestM61Example is the worked example of case M61 and its twin: 1,600 W at 7,500 ft, chargers of 80 and 60 A.
func TestM61Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "left of it", room.Value(t, o, "Pleft"), 1180, 0, practice)
	takes := func(o check.Outcome) float64 {
		return room.Value(t, o, "Iout") * room.Value(t, o, "Vabs") / room.Value(t, o, "ηc")
	}
	near.Printed(t, "80 A takes", takes(o), 1336, 0, practice)
	twin := room.One(t, check.Pass, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "shore/chargers/built in/output", Old: "80 A", New: "60 A"})
	near.Printed(t, "60 A takes", takes(twin), 1002, 0, practice)
	if !strings.Contains(twin.Detail, "85 %") {
		t.Errorf("detail %q", twin.Detail)
	}
}
