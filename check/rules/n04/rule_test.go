package n04

import (
	"testing"

	"campwright/check"
	"campwright/tools/newrule/room"
)

// TestN04Example: a 40 A plug behind a 60 A fuse is the weakest link, and so is a position for 40 A that holds 60 A.
func TestN04Example(t *testing.T) {
	for file, place := range map[string]string{"bad-1": "charge line/3", "bad-2": "charge line/1"} {
		fails := 0
		for _, o := range room.Judge(t, Rule, "testdata/"+file+".yaml") {
			if o.Verdict == check.Fail && o.Place == place {
				fails++
			}
		}
		if fails != 1 {
			t.Errorf("%s: %d fails at %s", file, fails, place)
		}
	}
}
