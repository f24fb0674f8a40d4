package m62

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M62"

// TestM62Example is the worked example of case M62: a restart voltage of 12.8 V, and 80 % wanted.
func TestM62Example(t *testing.T) {
	c := room.Open(t, "testdata/bad-1.yaml")
	j := wakes(c, &c.Doc.Shore.Chargers[0], 0.8).Judge()
	if v := j.Verdict(check.Warn); v != check.Warn {
		t.Errorf("80 %% wanted: %s", v)
	}
	near.Within(t, "rest voltage at 80 %", j.Limit, 13.0, 13.6, "LFP rests above 13.0 V until nearly empty, "+practice)
	o := room.One(t, check.Warn, Rule, "testdata/bad-1.yaml")
	near.Within(t, "charge left when it wakes", c.Sys.Bank.Model.SoCAtRest(room.Value(t, o, "Vwake")), 0, 0.2, "nearly empty, "+practice)
}
