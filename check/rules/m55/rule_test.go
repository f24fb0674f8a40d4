package m55

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M55"

// TestM55Example is the worked example of case M55 and its twin: a start of 40 A over 100 ft of 14 AWG loses 25 V, 12 A over 50 ft of 10 AWG 1.5 V.
func TestM55Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "lost at a start", 120-room.Value(t, o, "V"), 25, 0, practice)
	twin := room.One(t, check.Pass, Rule, "testdata/good-1.yaml")
	near.Printed(t, "lost at 12 A", 120-room.Value(t, twin, "V"), 1.5, 1, practice)
}
