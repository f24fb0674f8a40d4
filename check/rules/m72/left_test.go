package m72

import (
	"strings"
	"testing"

	"campwright/check"
	"campwright/tools/newrule/room"
)

// TestScenarioS6 is scenario S6 of the practice list: 0.27 A empty a bank of 200 Ah from 60 % to a reserve of 10 % in 15 days.
func TestScenarioS6(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-2.yaml")
	if !strings.Contains(o.Detail, "lasts 15 days") {
		t.Errorf("%q, wanted 15 days", o.Detail)
	}
}
