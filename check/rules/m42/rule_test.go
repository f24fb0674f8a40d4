package m42

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M42: 307 A; the solved bank is low and takes a few amps more"

// TestM42Example is the worked example of case M42: 267 A of an inverter and 40 A of loads meet on a bar for 250 A.
func TestM42Example(t *testing.T) {
	var bar check.Outcome
	for _, o := range room.Judge(t, Rule, "testdata/bad-1.yaml") {
		if o.Place == "wiring/bus bars/main" {
			bar = o
		}
	}
	if bar.Verdict != check.Fail {
		t.Fatalf("the bar says %s", bar.Verdict)
	}
	near.Rel(t, "sum", room.Value(t, bar, "I"), 307, 0.07, practice)
}
