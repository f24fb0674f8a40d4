package m27

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M27, for 200 A; a load of constant power takes 1 to 3 % more on a sagging bank"

// TestM27Example is the worked example of case M27: 3 milliohm blocks on leads of 0.4 and 2.4 milliohm.
func TestM27Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Rel(t, "block 1", room.Value(t, o, "Iblock"), 122.7, 0.04, practice)
	mild := room.One(t, check.Warn, Rule, "testdata/bad-2.yaml")
	near.Abs(t, "off the mean", room.Value(t, mild, "d"), 22.7/100, 0.001, practice)
}
