package m41

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M41, at a fixed 266.7 A; constant power on the solved bank takes a little more"

// TestM41Example is the worked example of case M41: 3,000 W over 12 ft of 2 AWG leave 10.86 V, over 8 ft of 2/0 they lose 3.3 %.
func TestM41Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Abs(t, "voltage left", room.Value(t, o, "Vinv"), 10.86, 0.5, practice)
	mild := room.One(t, check.Warn, Rule, "testdata/bad-2.yaml")
	near.Abs(t, "share lost, four lugs included", room.Value(t, mild, "p"), 0.033, 0.006, practice)
}
