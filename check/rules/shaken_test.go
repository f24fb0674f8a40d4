package rules_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"campwright/check"
	"campwright/check/rules"
	"campwright/figure"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

var all = flag.Bool("all", false, "let every value take every variant")

// TestShaken judges the demo rigs with each value in turn left out, unknown, and at either end of its range: no panic, every outcome whole, every
// printed working true, and no rule passes on a value that it shows as unknown. With -all every value takes every variant in turn, a minute's
// work; without it each takes one of them, another from value to value.
func TestShaken(t *testing.T) {
	if testing.Short() {
		t.Skip("the ordinary rigs are enough for a short run")
	}
	judged := 0
	for n, name := range examples(t) {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		doc, faults := rig.Decode(bytes.NewReader(text))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		var values []rig.Value
		rig.Walk(&doc, func(path string, v *rig.Value) { values = append(values, *v) })
		for _, f := range rig.Fields() { // whole sections
			if strings.Contains(f.Path, "/") || f.Needs {
				continue
			}
			old, err := rig.Read(text, f.Path)
			if err != nil || old == "" {
				continue
			}
			edited, err := rig.Apply(text, []rig.Edit{{Path: f.Path, Old: old}})
			if err != nil {
				t.Fatal(err)
			}
			next, _ := rig.Decode(bytes.NewReader(edited)) // its references may lead nowhere
			judged++
			shaken(t, filepath.Base(name)+" without "+f.Path, next)
		}
		for i, v := range values {
			list := variants(v)
			if !*all {
				list = list[(i+n)%len(list):][:1]
			}
			for _, becomes := range list {
				edited, err := rig.Apply(text, []rig.Edit{{Path: v.At.Path, Old: v.Text(), New: becomes}})
				if err != nil {
					continue // a part that cannot do without it
				}
				next, faults := rig.Decode(bytes.NewReader(edited))
				if len(faults) > 0 {
					continue
				}
				judged++
				shaken(t, fmt.Sprintf("%s with %s %q", filepath.Base(name), v.At.Path, becomes), next)
			}
		}
	}
	if judged < 300 {
		t.Fatalf("only %d rigs judged", judged)
	}
	t.Logf("%d rigs judged", judged)
}

// variants are what a value is changed to: nothing, unknown, and the ends of its range.
func variants(v rig.Value) []string {
	list := []string{"", "unknown"}
	f, ok := rig.FieldOf(v.At.Path)
	if !ok {
		return list
	}
	for _, limits := range f.Limits {
		low, high, _ := strings.Cut(limits, " to ")
		list = append(list, low, high)
	}
	return list
}

func shaken(t *testing.T, what string, doc rig.Rig) {
	t.Helper()
	defer func() {
		if p := recover(); p != nil {
			t.Errorf("%s: panic: %v", what, p)
		}
	}()
	c, err := check.Prepare(doc, room.Find)
	if err != nil {
		t.Errorf("%s: %v", what, err)
		return
	}
	r := rules.Judge(c)
	for i := range r.Outcomes {
		o := &r.Outcomes[i]
		rule, _ := rules.Find(o.Rule)
		sound(t, what, rule, o)
		if o.Verdict != check.Pass {
			continue
		}
		for _, term := range o.Numbers.Terms {
			if term.Figure.State == figure.Unknown && !strings.Contains(o.Title, "heater keeps") {
				t.Errorf("%s: %s passes at %s on %s, which is unknown", what, o.Rule, o.Place, term.Symbol)
			}
		}
	}
}
