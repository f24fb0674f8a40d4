package starter_test

import (
	"testing"

	"campwright/check"
	"campwright/check/rules"
	"campwright/rig"
	"campwright/starter"
)

// A first sheet is safe as far as the rules can see: nothing that stops, and nothing that fails but the one rule that says what the sheet
// says itself, that the sun of the month does not carry so much.
func TestBuild_AgainstTheRules(t *testing.T) {
	kind, _ := rig.FieldOf("kind")
	passed, sheets := 0, 0
	for _, k := range kind.Words {
		for _, place := range []string{"Quartzsite, AZ", "Fairbanks, AK", "Hobart, AU"} {
			for _, feeds := range []string{"propane", "electric"} {
				s := build(t, starter.Answers{Kind: k, Place: place, Heat: feeds, Refrigerator: feeds, Wishes: []string{"microwave", "2 laptops", "internet", "a/c", "cpap"}})
				_, report, err := rules.Check(s.Rig)
				if err != nil {
					t.Fatal(err)
				}
				sheets++
				for _, o := range report.Outcomes {
					switch {
					case o.Verdict == check.Pass:
						passed++
					case o.Verdict >= check.Fail && o.Rule != "M16":
						t.Errorf("%s at %s on %s: %s %s at %s: %s", k, place, feeds, o.Verdict, o.Rule, o.Place, o.Title)
					}
				}
			}
		}
	}
	if sheets != 30 || passed < 100 {
		t.Fatalf("%d sheets with %d passes", sheets, passed)
	}
}
