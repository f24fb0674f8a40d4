package m39

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M39: 185 A at 12.0 V; the solved bank stands higher at its floor"

// TestM39Example is the worked example of case M39: 2,000 W take 185 A at 12.0 V, so 175 A fails and 250 A passes.
func TestM39Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Rel(t, "current", room.Value(t, o, "Imax"), 185, 0.06, practice)
	room.One(t, check.Pass, Rule, "testdata/good-1.yaml")
}
