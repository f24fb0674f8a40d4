package m67

import (
	"testing"

	"campwright/check"
	"campwright/tools/newrule/room"
)

// TestM67Example is the worked example of case M67 and its twin: a line tied to the bank by a relay and fused at the vehicle alone, and one that ends in a one-way
// unit.
func TestM67Example(t *testing.T) {
	o := room.One(t, check.Stop, Rule, "testdata/bad-1.yaml")
	if o.Title != "charge line unfused at the bank" {
		t.Errorf("title %q", o.Title)
	}
	room.One(t, check.Stop, Rule, "testdata/bad-2.yaml")
	room.One(t, check.Pass, Rule, "testdata/good-1.yaml")
}
