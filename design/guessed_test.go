package design

import (
	"strings"
	"testing"

	"campwright/rig"
	"campwright/system"
)

const leadRig = `campwright: 1
name: low
kind: truck camper
bank: {chemistry: flooded, in series: 2, block: {voltage: 6 V, capacity: 225 Ah, resistance: 3 mohm}, inverter off at: 11.6 V}
modules: {m: {power: 110 W, voc: 21.8 V, isc: 6.6 A, vmp: 18 V, imp: 6.1 A}}
controllers: {c: {survives: 75 V, output: 20 A}}
arrays: [{name: top, module: m, controller: c, in series: 2RUN}]
inverters: {shelf: {power: 600 W}}
appliances: [{name: furnace, kind: furnace, runs on: propane, propane: 16000 BTU/h, blower: about 80 W (60 W to 130 W)}]
aims: {floor: 50 %}
`

func wiredText(t *testing.T, text string) *Wired {
	t.Helper()
	doc, faults := rig.Decode(strings.NewReader(text))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	w, err := Wire(doc)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// TestInverterIsLeftItsVolts: what is proposed leaves the inverter at its rating no less than it stops at, where the bank's posts have it. (A property
// of what is proposed; no source.)
func TestInverterIsLeftItsVolts(t *testing.T) {
	w := wiredText(t, strings.Replace(leadRig, "RUN", "", 1))
	s, _ := w.Net().State(system.StateInverter)
	solved := w.Net().Solve(s)
	part, ok := solved.Part("inverter shelf")
	if !ok || solved.Problem != "" {
		t.Fatal(solved.Problem, ok)
	}
	if posts := solved.BankPostsV(); posts <= 11.6 || part.Volts < 11.6 {
		t.Errorf("posts have %.2f V, the inverter %.2f V and stops at 11.6 V", posts, part.Volts)
	}
	if len(w.Proposal.Problems) > 0 {
		t.Error(w.Proposal.Problems)
	}
}

// TestBlowerByItsHighEnd: the fuse of a guessed blower bears a quarter more than its high end: 130 W at 11.6 V are 11.2 A, and 14 A ask for 15 A.
// [NEC] 210.20(A).
func TestBlowerByItsHighEnd(t *testing.T) {
	w := wiredText(t, strings.Replace(leadRig, "RUN", "", 1))
	for i := range w.Proposal.Doc.Wiring.FuseBlocks {
		for _, b := range w.Proposal.Doc.Wiring.FuseBlocks[i].Branches {
			if b.Name == "furnace" {
				if got := b.Fuse.Quantity.Base; got != 15 {
					t.Errorf("fuse of %g A, wanted 15 A", got)
				}
				return
			}
		}
	}
	t.Fatal("no branch for the furnace")
}

// TestRoofCable: a roof cable that nobody told is proposed no thinner than it is taken to be without a proposal, and one of which the size is
// told stays as it lies.
func TestRoofCable(t *testing.T) {
	for run, want := range map[string]string{"": "10 AWG", ", run: {gauge: 14 AWG}": "14 AWG"} {
		w := wiredText(t, strings.Replace(leadRig, "RUN", run, 1))
		found := false
		for _, r := range w.Proposal.Doc.Wiring.Runs {
			if r.From == "array top" {
				found = true
				if got := r.Gauge.Text(); got != want {
					t.Errorf("with %q it is %s, wanted %s", run, got, want)
				}
				if r.Length.Low >= r.Length.High {
					t.Errorf("a length nobody told has no ends: %s", r.Length.Text())
				}
			}
		}
		if !found {
			t.Errorf("with %q no roof cable is proposed", run)
		}
	}
}
