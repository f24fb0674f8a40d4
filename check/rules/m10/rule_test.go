package m10

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M10, which leaves lugs out: four of 0.3 milliohm are 1.6 % of its cable"

// TestM10Example is the worked example of case M10 and its twins: 400 W over 30 ft of 10 AWG, four side by side, two by two, four in series.
func TestM10Example(t *testing.T) {
	for file, want := range map[string]float64{"bad-1": 0.092, "good-1": 0.023, "good-2": 0.0057} {
		verdict := check.Pass
		if file == "bad-1" {
			verdict = check.Warn
		}
		o := room.One(t, verdict, Rule, "testdata/"+file+".yaml")
		near.Rel(t, file, room.Value(t, o, "p"), want, 0.025, practice)
	}
}
