package m26

import (
	"strings"
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M26"

// TestM26Example is the worked example of case M26: a bay at -4 C, without and with a cut-off, and 60 Wh to warm 24 kg by 9 K.
func TestM26Example(t *testing.T) {
	bare := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	if v := room.Value(t, bare, "Tbay"); v > -4 {
		t.Errorf("bay at %v C", v)
	}
	o := room.One(t, check.Warn, Rule, "testdata/bad-2.yaml")
	near.Printed(t, "bay at dawn", room.Value(t, o, "Tbay"), -4, 0, practice)
	if !strings.Contains(o.Detail, "60 Wh") || !strings.Contains(o.Detail, "24 kg") {
		t.Errorf("detail %q, wanted 60 Wh for 24 kg", o.Detail)
	}
	// The twin: the same bank inside the warm part.
	room.One(t, check.Pass, Rule, "testdata/bad-2.yaml", rig.Edit{Path: "bank/bay", Old: "outside", New: "inside"})
}

// TestM26Heater: a heater that starts above the limit keeps the bank out of it.
func TestM26Heater(t *testing.T) {
	o := room.One(t, check.Pass, Rule, "testdata/bad-2.yaml", rig.Edit{Path: "bank/heater", New: "60 W"}, rig.Edit{Path: "bank/heats below", New: "3 C"})
	if !strings.Contains(o.Detail, "60 W") {
		t.Errorf("detail %q", o.Detail)
	}
}
