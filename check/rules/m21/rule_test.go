package m21

import (
	"strings"
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M21"

// TestM21Example is the worked example of case M21: 14.6 and 14.0 V; the 400 W of the second lose 450 Wh a day.
func TestM21Example(t *testing.T) {
	o := room.One(t, check.Warn, Rule, "testdata/bad-1.yaml")
	near.Printed(t, "apart", room.Value(t, o, "ΔV"), 0.6, 1, practice)
	near.Printed(t, "lost a day", lostWh(400), 450, 0, practice)
	if !strings.Contains(o.Detail, "controller aft rests") || !strings.Contains(o.Detail, "450 Wh") {
		t.Errorf("%q does not say that the controller set lower loses 450 Wh, %s", o.Detail, practice)
	}
}

// TestRestAndTimers: chargers that agree on the charging voltage are still told apart by their resting voltage and their times.
func TestRestAndTimers(t *testing.T) {
	for path, title := range map[string]string{"testdata/bad-2.yaml": "chargers rest at unlike voltages", "testdata/bad-3.yaml": "chargers hold unlike times"} {
		if o := room.One(t, check.Warn, Rule, path); o.Title != title {
			t.Errorf("%s: %q, wanted %q", path, o.Title, title)
		}
	}
}

// TestShoreAndSunApart: a shore charger set unlike the sun is no finding.
func TestShoreAndSunApart(t *testing.T) {
	for _, o := range room.Judge(t, Rule, "testdata/good-1.yaml") {
		if strings.HasPrefix(o.Place, "shore") {
			t.Errorf("%+v", o)
		}
	}
}
