package m66

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M66"

// TestM66Example is the worked example of case M66: a unit of 50 A that is on for 30 % of the drive.
func TestM66Example(t *testing.T) {
	o := room.One(t, check.Warn, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "mean", room.Value(t, o, "Imean"), 15, 0, practice)
	room.One(t, check.Pass, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "charge line/2/dc-dc/wakes on", Old: "voltage", New: "engine signal"})
}
