package design

import (
	"bytes"
	"os"
	"testing"

	"campwright/rig"
)

// TestBackups: of every fuse through which a short can drive more than it stops, an answer names a fuse of the same table that can stop it, or none where none
// of the table can.
func TestBackups(t *testing.T) {
	text, err := os.ReadFile("../examples/desert-trailer.yaml")
	if err != nil {
		t.Fatal(err)
	}
	doc, faults := rig.Decode(bytes.NewReader(text))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	w, err := Wire(doc)
	if err != nil {
		t.Fatal(err)
	}
	a := w.Answer()
	can := map[string]float64{}
	for _, d := range a.Devices {
		can[d.Name] = d.Interrupt
	}
	short := 0
	for _, d := range a.Devices {
		switch {
		case d.Interrupt > 0 && d.FaultA > d.Interrupt:
			short++
			if d.BackedBy == "" || can[d.BackedBy] < d.FaultA {
				t.Errorf("%s: %.0f A through it, it stops %.0f A, backed by %q, which stops %.0f A", d.Name, d.FaultA, d.Interrupt, d.BackedBy, can[d.BackedBy])
			}
		case d.BackedBy != "":
			t.Errorf("%s needs no help, and %q backs it up", d.Name, d.BackedBy)
		}
	}
	if short == 0 {
		t.Fatal("no fuse of the proposal is short of what a fault drives")
	}
}
