package m16

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M16"

// TestM16Example is the worked example of case M16: 800 W flat in a desert December, three sun hours.
func TestM16Example(t *testing.T) {
	x := carried{watts: 800, hours: 3.0, use: 4000, nights: 60, month: "December"}
	j := carries(x).Judge()
	near.Printed(t, "real kWh", j.Result/1000, 1.8, 1, practice)
	if v := j.Verdict(check.Fail); v != check.Fail {
		t.Errorf("a plan of 4 kWh: %s", v)
	}
	near.Printed(t, "promised kWh", x.watts*promised/1000, 4.0, 1, practice)
	x.use = 1500
	if v := carries(x).Judge().Verdict(check.Fail); v != check.Pass {
		t.Errorf("a plan of 1.5 kWh: %s", v)
	}
}

// TestM16Scenario: the desert winter of the practice list, scenario 1: 400 W flat give 0.94 kWh and 840 W 1.97, at 3.0 sun hours.
func TestM16Scenario(t *testing.T) {
	for _, s := range []struct{ watts, kwh float64 }{{400, 0.94}, {840, 1.97}} {
		j := carries(carried{watts: s.watts, hours: 3.0, use: 2190, nights: 60}).Judge()
		near.Rel(t, "a day in kWh", j.Result/1000, s.kwh, 0.05, "the scenario's factor is 0.78, ours 0.75")
		if v := j.Verdict(check.Fail); v != check.Fail {
			t.Errorf("%v W: %s", s.watts, v)
		}
	}
}

// TestM16Roofed: under a roof there is no sun at all.
func TestM16Roofed(t *testing.T) {
	o := room.One(t, check.Fail, Rule, "testdata/bad-2.yaml")
	if h := room.Value(t, o, "H"); h != 0 {
		t.Errorf("%v sun hours under a roof", h)
	}
}
