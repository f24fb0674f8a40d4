package starter

import (
	"testing"

	"campwright/internal/near"
)

// The share of label power that reaches the bank, against practitioners' scenarios: what an array of so many watts, flat, gave on so many
// sun hours. S1 desert December, S2 July in the forest's open, S3 northern October with nights of -6 C.
func TestArrayFactor_Scenarios(t *testing.T) {
	for _, s := range []struct {
		name                        string
		watts, sun, kWh, airC, open float64
	}{
		{"S1", 400, 3.0, 0.94, 10, 1},
		{"S1, all five", 840, 3.0, 1.97, 10, 1},
		{"S2", 600, 6.2, 0.54, 20, 0.20},
		{"S3", 700, 2.3, 1.24, 3, 1},
	} {
		near.Rel(t, s.name, s.watts*s.sun*s.open*arrayFactor(s.airC)/1000, s.kWh, 0.06, "scenario's own rounding; air temperature guessed for it")
	}
	// The trade's ranges: 0.77 to 0.78 cold, 0.72 to 0.76 mild, 0.66 to 0.70 hot.
	near.Within(t, "frost", arrayFactor(-5), 0.77, 0.78, "common practice")
	near.Within(t, "mild", arrayFactor(15), 0.72, 0.76, "common practice")
	near.Within(t, "hot", arrayFactor(33), 0.66, 0.70, "common practice")
}

// Array and bank by hand: 2,000 Wh a day for long, 3.0 sun hours, 10 C: two days are 4,000 Wh, of which a block of 100 Ah holds 1,024; the
// array carries the rest.
func TestChoose_ByHand(t *testing.T) {
	n := needs{Answers: Answers{Nights: 100}}
	s := choose(n, carried{modules: 6, blocks: 12}, 2000, 3.0, 10)
	if s.blocks != 4 || s.block.Name != "100 Ah LFP block" || s.layout.modules != 6 || s.short {
		t.Errorf("chose %d of %s and %d modules, short %v", s.blocks, s.block.Name, s.layout.modules, s.short)
	}
	// (2000 - 4096/100) x 1.3 / (3.0 x 0.75 x 200) = 5.66 modules: six.
	s = choose(n, carried{modules: 4, blocks: 3}, 2000, 3.0, 10)
	if s.blocks != 3 || s.layout.modules != 4 || !s.short {
		t.Errorf("within little room: %d blocks, %d modules, short %v", s.blocks, s.layout.modules, s.short)
	}
	n.Nights = 1
	s = choose(n, carried{modules: 6, blocks: 12}, 2000, 3.0, 10)
	if s.blocks != 2 || s.layout.modules != 1 || s.short {
		t.Errorf("one night: %d blocks, %d modules, short %v", s.blocks, s.layout.modules, s.short)
	}
	n.Nights = 100
	s = choose(n, carried{modules: 6, blocks: 12}, 4500, 5.0, 10)
	if s.blocks != 3 || s.block.Name != "300 Ah LFP block" {
		t.Errorf("9,000 Wh: %d of %s, want 3 of 300 Ah", s.blocks, s.block.Name)
	}
}
