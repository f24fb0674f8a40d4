package m72

import (
	"strings"
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M72"

// TestM72Example is the worked example of case M72: 0.27 A for 90 days out of 200 Ah.
func TestM72Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "drawn", room.Value(t, o, "Qdrain"), 583, 0, practice)
	near.Printed(t, "standing draw", room.Value(t, o, "Idrain"), 0.27, 2, practice)
	// 200 Ah last 30.9 days, printed as 31; a day that is not whole is no day here.
	if !strings.Contains(o.Detail, "lasts 30 days") {
		t.Errorf("detail %q", o.Detail)
	}
	// Scenario 6: detectors alone, 75 mA.
	o = room.One(t, check.Pass, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "appliances/boards/power", Old: "195 mA", New: "1 mA"})
	near.Within(t, "detectors alone in 90 days", room.Value(t, o, "Qdrain"), 160, 166, "0.076 A, 1.8 Ah a day, the practice list, scenario 6")
}
