// Package room opens the test rigs of a rule's room for its tests.
package room

import (
	"bytes"
	"os"
	"testing"

	"campwright/check"
	"campwright/rig"
	"campwright/system"
)

// Find is the climate inside the program, remembered: test rigs share their places.
var Find = check.Remember(system.FindClimate)

// Open prepares a rig file, such as "testdata/bad-1.yaml", after the edits given.
func Open(t testing.TB, path string, edits ...rig.Edit) check.Case {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if len(edits) > 0 {
		if text, err = rig.Apply(text, edits); err != nil {
			t.Fatalf("%s: %v", path, err)
		}
	}
	doc, faults := rig.Decode(bytes.NewReader(text))
	if len(faults) > 0 {
		t.Fatalf("%s: %v", path, faults)
	}
	c, err := check.Prepare(doc, Find)
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	return c
}

// Judge runs one rule on a rig file, after the edits given.
func Judge(t testing.TB, rule check.Rule, path string, edits ...rig.Edit) []check.Outcome {
	t.Helper()
	return check.Judge(Open(t, path, edits...), []check.Rule{rule}).Outcomes
}

// One runs one rule on a rig file and returns its only outcome, after the edits given. It fails where there are more or fewer, or where the
// verdict is another than wanted.
func One(t testing.TB, want check.Verdict, rule check.Rule, path string, edits ...rig.Edit) check.Outcome {
	t.Helper()
	list := Judge(t, rule, path, edits...)
	if len(list) != 1 {
		t.Fatalf("%s: %d outcomes of %s, wanted one: %+v", path, len(list), rule.ID, list)
	}
	if list[0].Verdict != want {
		t.Errorf("%s: %s says %s, wanted %s: %s %v", path, rule.ID, list[0].Verdict, want, list[0].Working.Line(), list[0].Measure)
	}
	return list[0]
}

// Value returns the figure of a symbol in an outcome's working, workings inside it included.
func Value(t testing.TB, o check.Outcome, symbol string) float64 {
	t.Helper()
	if x, ok := o.Figure(symbol); ok {
		return x
	}
	t.Fatalf("%s at %s: no figure %q in %q", o.Rule, o.Place, symbol, o.Numbers.Formula)
	return 0
}
