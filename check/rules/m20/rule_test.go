package m20

import (
	"strings"
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M20"

// TestM20Example is the worked example of case M20: set to 14.2 V with a 12 V lead-acid profile of -30 mV/C, 14.8 V at 5 °C and 13.6 V at 45 °C.
func TestM20Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "charging voltage at 5 °C", room.Value(t, o, "Vcold"), 14.8, 1, practice)
	if !strings.Contains(o.Detail, "13.6 V at 45 °C") {
		t.Errorf("%q does not tell 13.6 V at 45 °C, %s", o.Detail, practice)
	}
}

// TestSilent: where nothing is told of any charger, rule M19 asks, and one question is enough.
func TestSilent(t *testing.T) {
	if list := room.Judge(t, Rule, "../m19/testdata/undecided-1.yaml"); len(list) != 0 {
		t.Errorf("%+v", list)
	}
}
