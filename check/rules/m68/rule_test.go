package m68

import (
	"testing"

	"campwright/check"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

// TestM68Example is the worked example of case M68: the engine charges LFP directly, and nothing else is at the alternator. A lead-acid battery there
// passes, a surge protector is noted, and a unit between does not help an alternator that then has no battery at all.
func TestM68Example(t *testing.T) {
	room.One(t, check.Stop, Rule, "testdata/bad-1.yaml")
	room.One(t, check.Pass, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "vehicle/battery", Old: "none", New: "lead-acid"})
	room.One(t, check.Note, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "vehicle/surge protector", New: "yes"})
	room.One(t, check.Stop, Rule, "testdata/bad-2.yaml")
}

// TestSilent: behind a dc-dc unit, with nothing said, the vehicle has the battery it was built with.
func TestSilent(t *testing.T) {
	if list := room.Judge(t, Rule, "testdata/bad-2.yaml", rig.Edit{Path: "vehicle/battery", Old: "LFP"}); len(list) != 0 {
		t.Errorf("%+v", list)
	}
}
