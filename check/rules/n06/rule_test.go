package n06

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

// TestN06Draw: 325 W through an inverter of 90 % at 12.8 V are 28.2 A, power over efficiency and voltage. Arithmetic, no printed example.
func TestN06Draw(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "from the bank", room.Value(t, o, "Ibank"), 28.2, 1, "325 / (0.9 × 12.8), by hand")
	room.One(t, check.Pass, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "appliances/cold box/takes AC", Old: "always", New: "shore only"})
}
