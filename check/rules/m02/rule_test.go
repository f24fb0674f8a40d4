package m02

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M02"

// TestM02Example is the worked example of case M02: two modules of 45 V on 100 V, fine at -5 C and over at the record low of -15 C.
func TestM02Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "voltage at the record low", room.Value(t, o, "Vcold"), 100.1, 1, practice)
	warmer := room.One(t, check.Undecided, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "trip/1/record low", Old: "-15 C", New: "-5 C"})
	near.Printed(t, "voltage at -5 C", room.Value(t, warmer, "Vcold"), 97.6, 1, practice)
}
