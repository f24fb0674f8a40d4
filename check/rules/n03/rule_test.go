package n03

import (
	"testing"

	"campwright/check"
	"campwright/tools/newrule/room"
)

// TestN03Example: a plug that can be opened under load and whose live half is bare fails; one that only lacks slack is a warning.
func TestN03Example(t *testing.T) {
	room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	room.One(t, check.Warn, Rule, "testdata/bad-2.yaml")
	room.One(t, check.Pass, Rule, "testdata/good-1.yaml")
}
