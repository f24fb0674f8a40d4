package m01

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M01"

// TestM01Example is the worked example of case M01 and its twin: four modules of 22.3 V on a 100 V input at -20 C.
func TestM01Example(t *testing.T) {
	o := room.One(t, check.Stop, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "lowest air", room.Value(t, o, "Tlow"), -20, 0, practice)
	near.Printed(t, "voltage in the cold", room.Value(t, o, "Vcold"), 101.2, 1, practice)
	near.Printed(t, "its factor", room.Value(t, o, "Vcold")/89.2, 1.135, 3, practice)

	twin := room.One(t, check.Pass, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "arrays/roof/in series", Old: "4", New: "3"},
		rig.Edit{Path: "trip/1/record low", Old: "-26 C", New: "-20 C"})
	near.Printed(t, "voltage of three in the cold", room.Value(t, twin, "Vcold"), 75.9, 1, practice)
}

// TestM01Table is the same string without a coefficient: the table for such modules gives the worst end.
func TestM01Table(t *testing.T) {
	o := room.One(t, check.Stop, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "modules/roof kind/voc per C", Old: "-0.3 %/C"})
	near.Printed(t, "upper end of the voltage in the cold", o.Numbers.Terms[0].Figure.High, 105.3, 1, practice)
}
