package rig

import (
	"strings"
	"testing"
)

// What feeds breakaway brakes is a battery of their own, a terminal of the DC side, or not known; anything else is told with a hint.
func TestDecode_Breakaway(t *testing.T) {
	const head = "campwright: 1\nname: t\nkind: travel trailer\nbank: {chemistry: AGM, block: {capacity: 100 Ah}}\nbreakaway brakes: "
	for _, feed := range []string{OwnBattery, "unknown", "bank", "bank +"} {
		if r := whole(t, head+feed+"\n"); r.Breakaway != feed {
			t.Errorf("%q is read as %q", feed, r.Breakaway)
		}
	}
	for feed, hint := range map[string]string{"batery": "write own battery", "fuse block house": "write own battery", "inlet": "breakaway brakes take DC"} {
		_, faults := Decode(strings.NewReader(head + feed + "\n"))
		if len(faults) != 1 || faults[0].Path != "breakaway brakes" || faults[0].Line != 5 || !strings.Contains(faults[0].Hint, hint) {
			t.Errorf("%q: %+v", feed, faults)
		}
	}
}
