package design

import (
	"strings"
	"testing"

	"campwright/figure"
	"campwright/rig"
)

// TestUnsizable: where no single cable bears what flows, the run is laid with its size not known and the reason told, and what hangs on it is
// joined. A 3.6 kW inverter takes some 390 A from 12 V lead-acid at its cut-off (power over voltage), a quarter more for its fuse, and the thickest cable of [CFR-183]
// table 5 bears 445 A.
func TestUnsizable(t *testing.T) {
	doc, faults := rig.Decode(strings.NewReader(`campwright: 1
name: too much for one cable
kind: motorhome
bank: {chemistry: flooded, blocks: 4, in series: 2, block: {voltage: 6 V, capacity: 230 Ah}, inverter off at: 10.5 V}
inverters: {big: {power: 3600 W}}
`))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	w, err := Wire(doc)
	if err != nil {
		t.Fatal(err)
	}
	a := w.Answer()
	unknown := 0
	for i := range w.Proposal.Doc.Wiring.Runs {
		if w.Proposal.Doc.Wiring.Runs[i].Gauge.State == figure.Unknown {
			unknown++
		}
	}
	if unknown == 0 || !strings.Contains(strings.Join(a.Problems, "\n"), "no single cable does") {
		t.Errorf("%d runs of unknown size, problems %v", unknown, a.Problems)
	}
	for _, l := range a.Loose {
		if strings.Contains(l.Part, "inverter") {
			t.Errorf("the inverter is left in the air: %+v", l)
		}
	}
	for i := range a.States {
		if s := &a.States[i]; s.Name == "full inverter" && (s.BankA == nil || *s.BankA > -300) {
			t.Errorf("at full load the bank gives %v A, wanted more than 300", s.BankA)
		}
	}
}
