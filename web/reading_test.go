package web

import (
	"testing"

	"campwright/store"
)

// TestLastReading: a text that was read is not read again, and what stands beside it is that of now; another text, or another file, is read.
func TestLastReading(t *testing.T) {
	var l lastReading
	const one, two = "campwright: 1\nname: one\nkind: van\n", "campwright: 1\nname: two\nkind: van\nsurplus: 1\n"
	a := l.understood("x.yaml", store.State{Text: []byte(one), Revision: "1"})
	b := l.understood("x.yaml", store.State{Text: []byte(one), Revision: "1", Undo: "a change", Saved: true})
	if a.said.Name != "one" || b.said.Name != "one" || b.state.Undo != "a change" || !b.state.Saved || a.state.Saved || a.full.Aims != b.full.Aims {
		t.Errorf("read twice, or stale beside: %+v, %+v", a.state, b.state)
	}
	if c := l.understood("x.yaml", store.State{Text: []byte(two), Revision: "2"}); c.said.Name != "two" || len(c.faults) != 1 || c.revision != "2" {
		t.Errorf("another text: %q, %v", c.said.Name, c.faults)
	}
	if d := l.understood("x.yaml", store.State{Text: []byte(one), Revision: "3"}); d.said.Name != "one" || len(d.faults) != 0 || d.revision != "3" {
		t.Errorf("taken back: %q, %v", d.said.Name, d.faults)
	}
	if e := l.understood("y.yaml", store.State{Text: []byte(one)}); e.file != "y.yaml" {
		t.Errorf("another file: %q", e.file)
	}
}
