package m70

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M70"

// TestM70Example is the worked example of case M70: 210 Ah at 60 A with an exponent of 1.2.
func TestM70Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	q := room.Value(t, o, "Qrate")
	near.Printed(t, "hours", q/60, 2.47, 2, practice)
	near.Printed(t, "Ah", q, 148, 0, practice)
	near.Printed(t, "half of it", q/2, 74, 0, practice)
	near.Printed(t, "the plan", room.Value(t, o, "Qplan"), 210, 0, practice)
	// The twin: a plan that stops at half, and draws slowly.
	room.One(t, check.Pass, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "aims/floor", Old: "0 %", New: "50 %"}, rig.Edit{Path: "appliances/big one/power", Old: "60 A", New: "5 A"})
}
