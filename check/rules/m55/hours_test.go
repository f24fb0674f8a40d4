package m55

import (
	"testing"

	"campwright/check/rules/m54"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

// TestHours holds the current of M55 to that of M54 on the same rig: what runs for hours is counted once.
func TestHours(t *testing.T) {
	here := room.Judge(t, Rule, "testdata/hours.rig")
	there := room.Judge(t, m54.Rule, "testdata/hours.rig")
	if len(here) != 1 || len(there) == 0 {
		t.Fatalf("%d outcomes of M55, %d of M54", len(here), len(there))
	}
	// 1,500 W and 300 W at 120 V, and 40 A × 14.2 V / (0.88 × 0.98 × 120 V): 15 + 5.49 A by hand.
	near.Printed(t, "lasting current", room.Value(t, here[0], "I"), 20.49, 2, "arithmetic by hand")
	near.Printed(t, "lasting current", room.Value(t, there[0], "Isum"), 20.49, 2, "arithmetic by hand")
}
