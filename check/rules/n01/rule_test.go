package n01

import (
	"testing"

	"campwright/check"
	"campwright/tools/newrule/room"
)

// TestN01Example: the pin joined beside a dc-dc unit fails, isolated it passes.
func TestN01Example(t *testing.T) {
	room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	room.One(t, check.Pass, Rule, "testdata/good-1.yaml")
}
