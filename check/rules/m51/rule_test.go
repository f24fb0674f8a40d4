package m51

import (
	"strings"
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M51"

// TestM51Example is the worked example of case M51: 325 W for 65 % of the day, and a bank of 2.56 kWh.
func TestM51Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	dc := room.Value(t, o, "Eday") / 1000
	near.Printed(t, "AC", dc*room.Value(t, o, "ηi"), 5.07, 2, practice)
	near.Printed(t, "DC", dc, 5.63, 2, practice)
	if !strings.Contains(o.Detail, "lasts 10.9 h") {
		t.Errorf("detail %q", o.Detail)
	}
	room.One(t, check.Pass, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "appliances/cold box/runs on", Old: "ac", New: "propane"})
}
