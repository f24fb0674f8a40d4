package m09

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M09"

// TestM09Example is the worked example of case M09: four strings of 9.8 A need 61.25 A of their terminals and carry 49.0 A for hours. 10 AWG and 8 AWG
// fail, 6 AWG bears 65 A at its terminals and 57 A in air of 53 C.
func TestM09Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "needed", room.Value(t, o, "Ineed"), 61.25, 2, practice)
	near.Printed(t, "10 AWG", room.Value(t, o, "Iterm"), 35, 0, practice)
	room.One(t, check.Fail, Rule, "testdata/bad-2.yaml")
	good := room.One(t, check.Pass, Rule, "testdata/good-1.yaml")
	near.Printed(t, "6 AWG at its terminals", room.Value(t, good, "Iterm"), 65, 0, practice)
}
