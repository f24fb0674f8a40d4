package m34

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M34"

// TestM34Example is the worked example of case M34: 48 in of bare cable from post to fuse.
func TestM34Example(t *testing.T) {
	o := room.One(t, check.Stop, Rule, "testdata/bad-1.yaml")
	near.Abs(t, "unprotected", room.Value(t, o, "x")/0.0254, 48, 1e-9, practice)
	room.One(t, check.Fail, Rule, "testdata/bad-2.yaml")
}
