package n08

import (
	"testing"

	"campwright/check"
	"campwright/tools/newrule/room"
)

// TestN08Example: a detector behind the main switch fails; ahead of it, with modules behind the switch, it is a note; without them a pass.
func TestN08Example(t *testing.T) {
	room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	room.One(t, check.Note, Rule, "testdata/bad-2.yaml")
	room.One(t, check.Pass, Rule, "testdata/good-1.yaml")
}
