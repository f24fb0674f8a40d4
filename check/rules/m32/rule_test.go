package m32

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M32; the network's microohms take 0.3 % off"

// TestM32Example is the worked example of case M32: three blocks of 3 milliohm and 0.5 milliohm of path drive 9,067 A. A strip limiter fails, a terminal-mount
// fuse whose 10 kA are stated at 14 V is a warning on a bank charged at 14.4 V, class T passes.
func TestM32Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Rel(t, "fault", room.Value(t, o, "Ifault"), 9067, 0.004, practice)
	room.One(t, check.Warn, Rule, "testdata/bad-2.yaml")
	room.One(t, check.Pass, Rule, "testdata/good-1.yaml")
}
