package m54

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M54"

// TestM54Example is the worked example of case M54 and its twin: an air conditioner of 12.5 A and a charger of 100 A on a 15 A outlet.
func TestM54Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "air conditioner", room.Value(t, o, "Pa")/120, 12.5, 1, practice)
	near.Printed(t, "sum", room.Value(t, o, "Isum"), 26.4, 1, practice)
	near.Printed(t, "charger", room.Value(t, o, "Isum")-12.5, 13.9, 1, practice)
	near.Printed(t, "honest limit", room.Value(t, o, "f")*room.Value(t, o, "Ibreaker"), 12, 0, practice)
	near.Printed(t, "honest limit in watts", room.Value(t, o, "f")*room.Value(t, o, "Ibreaker")*120, 1440, 0, practice)
	room.One(t, check.Pass, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "shore/limit", New: "10 A"})
}

// TestM54Legs: two roof units of 15 A and a charger of 13.9 A are 43.9 A on one leg, over the 40 A that a breaker of 50 A bears for hours, and 28.9 A with
// one of the units on the other leg. Worked by hand: 1,800 / 120, and the charger as in the example of case M54.
func TestM54Legs(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-2.yaml")
	near.Printed(t, "on L1", room.Value(t, o, "Isum"), 43.9, 1, "15 + 15 + 13.9")
	near.Printed(t, "on the fuller leg", room.Value(t, room.One(t, check.Pass, Rule, "testdata/good-2.yaml"), "Isum"), 28.9, 1, "15 + 13.9")
	if o = room.One(t, check.Undecided, Rule, "testdata/undecided-2.yaml"); len(o.Measure) == 0 {
		t.Error("no question")
	}
}
