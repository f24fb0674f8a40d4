package m73

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M73"

// TestM73Example is the worked example of case M73: 75 mA for 120 days behind an open switch.
func TestM73Example(t *testing.T) {
	o := room.One(t, check.Warn, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "drawn", room.Value(t, o, "Qkept"), 216, 0, practice)
	room.One(t, check.Pass, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "bank/blocks", Old: "2", New: "4"})
}
