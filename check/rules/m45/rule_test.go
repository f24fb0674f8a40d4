package m45

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M45"

// TestM45Example is the worked example of case M45: a return of 8 AWG, which bears 80 A, behind a fuse for 267 A of load.
func TestM45Example(t *testing.T) {
	o := room.One(t, check.Stop, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "what it bears", room.Value(t, o, "Iz"), 80, 0, practice)
	room.One(t, check.Stop, Rule, "testdata/bad-2.yaml")
}
