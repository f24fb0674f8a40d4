package m12

import (
	"testing"

	"campwright/check"
	"campwright/tools/newrule/room"
)

// TestM12Example is the worked example of case M12 and its twin: a polarised breaker between controller and battery with its line mark at the controller,
// while the fault comes from the battery; one without polarity passes.
func TestM12Example(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-1.yaml")
	if o.Title != "polarised breaker faces the wrong way" {
		t.Errorf("title %q", o.Title)
	}
	room.One(t, check.Pass, Rule, "testdata/good-1.yaml")
}
