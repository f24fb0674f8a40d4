package rules_test

import (
	"testing"

	"campwright/check"
	"campwright/check/rules"
	"campwright/tools/newrule/room"
)

// TestUnknownWords: a word that its owner marks as unknown is asked for by the rule that hangs on it, and passes there never.
func TestUnknownWords(t *testing.T) {
	report := check.Judge(room.Open(t, "testdata/unknown-words.yaml"), rules.All())
	asked := map[string]bool{}
	for i := range report.Outcomes {
		if o := &report.Outcomes[i]; o.Verdict == check.Undecided && len(o.Measure) > 0 {
			asked[o.Rule+" at "+o.Place] = true
		}
	}
	for _, want := range []string{
		"M03 at arrays/a", "M26 at bank", "M67 at charge line", "M66 at charge line/3/dc-dc", "M50 at shore/chargers/w", "M61 at generators/g", "N06 at appliances/refrigerator",
		"M16 at trip/1", "M54 at trip/1", "M54 at trip/2",
	} {
		if !asked[want] {
			t.Errorf("%s does not ask", want)
		}
	}
}
