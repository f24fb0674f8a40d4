package conductor

import (
	"testing"

	"campwright/internal/near"
)

func TestBooks(t *testing.T) {
	for _, b := range Books() {
		if back, ok := BookNamed(b.String()); !ok || back != b {
			t.Errorf("%s means %s", b, back)
		}
		for _, s := range Sides() {
			sentence, o, err := Governs(b, s)
			if err != nil || sentence == "" || o.Text == "" || o.Mark == 0 {
				t.Errorf("%s %s: %q %v %v", b, s, sentence, o, err)
			}
			// The table that Governs names is the one that Ampacity uses.
			g, _ := OfAWG(4)
			r := rating(t, Use{Book: b, Side: s, Gauge: g, InsulationC: 105, AmbientC: 30, Together: 2, TerminalC: 75})
			if r.Origin.Key != o.Key {
				t.Errorf("%s %s: governed by %s, rated by %s", b, s, o.Key, r.Origin.Key)
			}
		}
	}
	if _, ok := BookNamed("no book"); ok {
		t.Error("no book is a book")
	}
	if _, _, err := Governs(0, Mains); err == nil {
		t.Error("no book governs")
	}
}

func TestDropPractice(t *testing.T) {
	// 3 and 10 % as quoted from the boat builders' standard, 3 and 5 % from the building code's informational notes.
	for b, want := range map[Book][2]float64{USRV: {0.03, 0.10}, USBoat: {0.03, 0.10}, USBuilding: {0.03, 0.05}, AUNZ: {0.03, 0.10}} {
		for i, critical := range []bool{true, false} {
			share, o, err := DropPractice(b, critical)
			if err != nil || o.Mark == 0 {
				t.Fatal(b, err)
			}
			near.Abs(t, b.String(), share, want[i], 0, o.String())
		}
	}
	if _, _, err := DropPractice(9, true); err == nil {
		t.Error("book 9 has a practice")
	}
	if g, _ := BondingGauge(); g.String() != "8 AWG" {
		t.Errorf("bonding by %s, NEC 552.10 asks 8 AWG", g)
	}
}
