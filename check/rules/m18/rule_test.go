package m18

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M18"

// TestM18Example is the worked example of case M18 and its twin: four modules of 10.3 A on an input for 35 A.
func TestM18Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "four in parallel", room.Value(t, o, "Isum"), 41.2, 1, practice)
	twin := room.One(t, check.Pass, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "arrays/roof/in series", Old: "1", New: "2"}, rig.Edit{Path: "arrays/roof/strings", Old: "4", New: "2"})
	near.Printed(t, "two in parallel", room.Value(t, twin, "Isum"), 20.6, 1, practice)
}
