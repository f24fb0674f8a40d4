package m28

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M28, for 200 A; a load of constant power takes 1 to 3 % more on a sagging bank"

// TestM28Example is the worked example of case M28: four blocks of 2 milliohm on links of 0.3 milliohm, taken from one end and diagonally.
func TestM28Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Rel(t, "first block", room.Value(t, o, "Iblock"), 86.6, 0.04, practice)
	diagonal := room.One(t, check.Warn, Rule, "testdata/bad-2.yaml")
	near.Abs(t, "off the mean", room.Value(t, diagonal, "d"), 0.13, 0.001, practice)
}
