package m65

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/quantity"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M65"

// TestM65Example is the worked example of case M65: 14.2 V against 13.0 V over 10 milliohm, with 40 A of own load on 150 A.
func TestM65Example(t *testing.T) {
	c := room.Open(t, "testdata/bad-1.yaml")
	r := check.Number("R", "all", quantity.Resistance, 0.010, practice)
	j := tied(c.Doc.Vehicle, r, check.Number("Vbank", "bank", quantity.Voltage, 13.0, practice)).Judge()
	near.Printed(t, "all", j.Result, 160, 0, practice)
	near.Printed(t, "into the bank", j.Result-40, 120, 0, practice)
	if v := j.Verdict(check.Fail); v != check.Fail {
		t.Errorf("%s", v)
	}
	// Scenario 11: 17.3 milliohm and 14.0 V give 57.8 A at rest of 13.0 V.
	c.Doc.Vehicle.Volts.Quantity.Base = 14.0
	r.Figure.Value, r.Figure.Low, r.Figure.High = 0.0173, 0.0173, 0.0173
	j = tied(c.Doc.Vehicle, r, check.Number("Vbank", "bank", quantity.Voltage, 13.0, practice)).Judge()
	near.Printed(t, "a real line", j.Result-40, 57.8, 1, "the practice list, scenario 11")
}

// TestM65Idle is the relay of scenario S11 in kind: an alternator whose label bears the bank and the vehicle, and that gives 60 A hot at idle. The label passes,
// the idle does not.
func TestM65Idle(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-2.yaml")
	if o.Title != "relay overloads the alternator at idle" {
		t.Errorf("title %q", o.Title)
	}
	room.One(t, check.Pass, Rule, "testdata/bad-2.yaml", rig.Edit{Path: "vehicle/alternators/1/hot idle", Old: "60 A", New: "130 A"})
}
