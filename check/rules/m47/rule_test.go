package m47

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M47: 128 Ah at 12 V and 0.9 or so; here at the nominal 12.8 V"

// TestM47Example is the worked example of case M47: 1,500 W for an hour past the shunt leave 128 Ah uncounted.
func TestM47Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Rel(t, "uncounted in an hour", room.Value(t, o, "Ipast"), 128, 0.06, practice)
	room.One(t, check.Pass, Rule, "testdata/good-1.yaml")
}
