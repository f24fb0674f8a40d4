package system_test

import (
	"fmt"
	"strings"
	"testing"

	"campwright/rig"
	"campwright/system"
)

// TestBanksOfAllSizes assembles banks whose resistance is left to the program, of every chemistry, in the voltages and over the capacities
// that blocks come in: the typical resistance of a block must never be refused for lying above its own cells' by a rounding.
func TestBanksOfAllSizes(t *testing.T) {
	count := 0
	for _, chemistry := range []string{"LFP", "flooded", "AGM", "gel"} {
		for _, volts := range []string{"6 V", "12 V", "24 V"} {
			if chemistry == "LFP" && volts == "6 V" {
				continue
			}
			for ah := 20; ah <= 500; ah += 5 {
				text := fmt.Sprintf("campwright: 1\nname: bank\nkind: van\nbank: {chemistry: %s, block: {voltage: %s, capacity: %d Ah}}\n", chemistry, volts, ah)
				doc, faults := rig.Decode(strings.NewReader(text))
				if len(faults) > 0 {
					t.Fatal(faults)
				}
				full, gaps := system.Complete(doc)
				if len(gaps) > 0 {
					t.Fatal(gaps)
				}
				if _, err := system.Assemble(&full, system.Draw{}, 15); err != nil {
					t.Errorf("%s %s %d Ah: %v", chemistry, volts, ah, err)
				}
				count++
			}
		}
	}
	if count != 11*97 {
		t.Fatalf("assembled %d banks", count)
	}
}
