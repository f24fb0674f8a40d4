package m50

import (
	"strings"
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M50"

// TestM50Example is the worked example of case M50: a charger of 55 A gives 748 W and takes 978 W; 200 Ah are gone in 11 h.
func TestM50Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	gives := room.Value(t, o, "Iout") * room.Value(t, o, "Vbat")
	near.Printed(t, "gives", gives, 748, 0, practice)
	near.Printed(t, "takes", gives-room.Value(t, o, "Pnet"), 978, 0, practice)
	near.Printed(t, "net", room.Value(t, o, "Pnet"), -230, 0, practice)
	if !strings.Contains(o.Detail, "gone in 11 h") {
		t.Errorf("detail %q", o.Detail)
	}
}
