package m38

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M38"

// TestM38Example is the worked example of case M38: a 200 A fuse on 6 AWG, which bears 120 A by the table and 180 A by the boat book's 150 %.
func TestM38Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "on the road", room.Value(t, o, "Fmax"), 120, 0, practice)
	boat := room.One(t, check.Fail, Rule, "testdata/bad-2.yaml")
	near.Printed(t, "on boats", room.Value(t, boat, "Fmax"), 180, 0, practice)
}
