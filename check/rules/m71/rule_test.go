package m71

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M71"

// TestM71Example is the worked example of case M71: a furnace of 8.5 A for 35 % of twelve hours that nobody counted.
func TestM71Example(t *testing.T) {
	o := room.One(t, check.Warn, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "missing", room.Value(t, o, "Qnight"), 35.7, 1, practice)
	room.One(t, check.Pass, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "appliances/furnace", New: "{kind: furnace, runs on: propane}"})
}
