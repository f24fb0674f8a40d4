package rig

import (
	"strings"
	"testing"
)

// TestTerminals: every terminal that a rig is told to have is read as one, and a run that names none lists them once.
func TestTerminals(t *testing.T) {
	r := whole(t, string(read(t, "testdata/v1-wiring.yaml")))
	list := r.Terminals()
	for _, name := range list {
		if _, err := r.Terminal(name); err != nil {
			t.Errorf("%q: %v", name, err)
		}
	}
	for i := range r.Wiring.Runs {
		terminal, err := r.Terminal(r.Wiring.Runs[i].From)
		if err != nil {
			t.Fatal(err)
		}
		if terminal.Sign = ""; terminal.Part != "sense" && !strings.Contains("|"+strings.Join(list, "|")+"|", "|"+terminal.String()+"|") {
			t.Errorf("%q is not listed", terminal)
		}
	}
	if len(list) < 10 {
		t.Fatalf("only %q", list)
	}
	_, faults := Decode(strings.NewReader("campwright: 1\nname: x\nkind: van\nbank: {chemistry: LFP, block: {capacity: 100 Ah}}\nwiring: {runs: [{from: bonk, to: bak}]}\n"))
	if text := faults.Error(); strings.Count(text, "this rig has bank, block 1") != 1 {
		t.Errorf("terminals are not listed once: %s", text)
	}
}
