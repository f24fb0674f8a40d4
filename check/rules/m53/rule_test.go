package m53

import (
	"strings"
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/rig"
	"campwright/system"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M53"

// TestM53Example is the worked example of case M53: 25 W around the clock in a day of 2.19 kWh.
func TestM53Example(t *testing.T) {
	c := room.Open(t, "testdata/bad-1.yaml")
	j := idle(&c.Doc.Inverters[0], 24, system.Budget{TotalWh: 2190}, "a day", 12.8).Judge()
	near.Printed(t, "Wh", j.Result, 600, 0, practice)
	near.Printed(t, "Ah", j.Result/12.8, 47, 0, practice)
	near.Printed(t, "per cent of the day", 100*j.Result/2190, 27, 0, practice)
	if v := j.Verdict(check.Warn); v != check.Warn {
		t.Errorf("%s", v)
	}
	room.One(t, check.Pass, Rule, "testdata/bad-1.yaml", rig.Edit{Path: "inverters/under the seat/on", Old: "always", New: "when used"})
}

// TestM53Measure: an idle draw that is not known is asked for.
func TestM53Measure(t *testing.T) {
	o := room.One(t, check.Undecided, Rule, "testdata/undecided-1.yaml")
	if len(o.Measure) == 0 || !strings.Contains(o.Measure[0], "current") {
		t.Errorf("measure %q", o.Measure)
	}
}
