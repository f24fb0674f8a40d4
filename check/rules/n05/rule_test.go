package n05

import (
	"strings"
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/quantity"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

// TestN05Shares: a case of 30 A with 460 W of sun and a vehicle that could fill it: what is lost is what both offer beyond the case, and the
// closed sum of the sharing rules says so too. Arithmetic, no printed example.
func TestN05Shares(t *testing.T) {
	o := room.One(t, check.Warn, Rule, "testdata/bad-1.yaml")
	lost := room.Value(t, o, "Pboth") - room.Value(t, o, "Pcase")
	near.Within(t, "lost at noon", lost, 100, 408, "between nothing and the whole case, 30 A at 13.6 V")
	for _, rule := range []string{"solar first", "split"} {
		p := room.One(t, check.Warn, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "charge line/2/dc-dc/shares by", Old: "solar first", New: rule})
		if !strings.Contains(p.Detail, check.Say(lost, quantity.Power)) { // both give the whole case when both could fill half
			t.Errorf("%s: %q, wanted %v W", rule, p.Detail, lost)
		}
	}
	room.One(t, check.Pass, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "charge line/2/dc-dc/shares by", Old: "solar first", New: "sum"})
}
