package m52

import (
	"strings"
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M52"

// TestM52Example is the worked example of case M52: six gallons by 40 K, an element of 1,400 W.
func TestM52Example(t *testing.T) {
	o := room.One(t, check.Warn, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "heat in kWh", room.Value(t, o, "Eheat")/1000, 1.06, 2, practice)
	near.Rel(t, "one shower in Ah", room.Value(t, o, "Qtank"), 90, 0.03, "printed as a round number in "+practice)
	if !strings.Contains(o.Detail, "122 A") { // 121.5 A
		t.Errorf("detail %q", o.Detail)
	}
	room.One(t, check.Pass, Rule, "testdata/good-1.yaml")
}
