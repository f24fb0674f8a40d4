package rig

import (
	"strings"
	"testing"
)

// TestOneFaultOneError: a slip of the pen is told once, not once more by what it makes look missing.
func TestOneFaultOneError(t *testing.T) {
	const head = "campwright: 1\nname: x\nkind: van\n"
	for what, text := range map[string]string{
		"misspelt": head + "bank: {chemisty: LFP, block: {capacity: 100 Ah}}\n",
		"tab":      head + "bank:\n\tchemistry: LFP\n",
		"comma":    head + "modules: {m: {voc: 22 V, imp: 9,8 A}}\n",
		"thousand": head + "inverters: {i: {power: 1,200 W}}\n",
	} {
		_, faults := Decode(strings.NewReader(text))
		if len(faults) != 1 {
			t.Errorf("%s: %d faults, wanted one: %v", what, len(faults), faults)
		}
	}
}
