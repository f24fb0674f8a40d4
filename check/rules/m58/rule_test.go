package m58

import (
	"testing"

	"campwright/check"
	"campwright/internal/near"
	"campwright/tools/newrule/room"
)

const practice = "the practice list, case M58"

// TestM58Example is the worked example of case M58: on shore the post and an inverter bond stuck closed make two, STOP; an inverter that never joins them
// makes none, FAIL; a relay makes one in both.
func TestM58Example(t *testing.T) {
	for _, x := range []struct {
		path  string
		want  map[string]check.Verdict
		count float64
		at    string
	}{
		{"testdata/bad-1.yaml", map[string]check.Verdict{"shore": check.Stop, "inverters/main": check.Pass}, 2, "shore"},
		{"testdata/bad-2.yaml", map[string]check.Verdict{"shore": check.Pass, "inverters/main": check.Fail}, 0, "inverters/main"},
		{"testdata/good-1.yaml", map[string]check.Verdict{"shore": check.Pass, "inverters/main": check.Pass}, 1, "shore"},
	} {
		list := room.Judge(t, Rule, x.path)
		if len(list) != len(x.want) {
			t.Fatalf("%s: %d outcomes", x.path, len(list))
		}
		for _, o := range list {
			if o.Verdict != x.want[o.Place] {
				t.Errorf("%s: %s at %s, wanted %s, %s", x.path, o.Verdict, o.Place, x.want[o.Place], practice)
			}
			if o.Place == x.at {
				near.Printed(t, "joints", room.Value(t, o, "n"), x.count, 0, practice)
			}
		}
	}
}

// TestFloating: a floating portable generator is a note, and so is an inverter behind outlets of its own.
func TestFloating(t *testing.T) {
	for _, o := range room.Judge(t, Rule, "testdata/good-2.yaml") {
		if o.Verdict > check.Note {
			t.Errorf("%+v", o)
		}
	}
	notes := 0
	for _, o := range room.Judge(t, Rule, "testdata/bad-4.yaml") {
		if o.Verdict == check.Note {
			notes++
		}
	}
	if notes != 2 {
		t.Errorf("%d notes, wanted one for the generator and one for the small inverter, %s", notes, practice)
	}
}
