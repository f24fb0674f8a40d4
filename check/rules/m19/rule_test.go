package m19

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M19"

// TestM19Example is the worked example of case M19: 15.5 V on four cells; 14.2 and 14.4 V pass.
func TestM19Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "voltage of a cell", room.Value(t, o, "Vcell"), 3.875, 3, practice)
	for _, good := range []string{"14.2 V", "14.4 V"} {
		room.One(t, check.Pass, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "controllers/sun/absorption", Old: "15.5 V", New: good})
	}
}

// TestUntold: what no charger tells is one question, whichever number of chargers there are.
func TestUntold(t *testing.T) {
	o := room.One(t, check.Undecided, Rule, "testdata/undecided-1.yaml")
	if len(o.Measure) != 3 {
		t.Errorf("%d readings asked for, wanted one for each of three chargers: %q", len(o.Measure), o.Measure)
	}
}
