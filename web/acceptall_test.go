package web

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"campwright/check"
	"campwright/check/rules"
	"campwright/design"
	"campwright/rig"
	"campwright/starter"
	"campwright/system"
)

// begunRigs are rigs as they are begun, of every kind with many sorts of wishes.
func begunRigs(t *testing.T) map[string][]byte {
	t.Helper()
	texts := map[string][]byte{}
	for i, kind := range []string{"van", "travel trailer", "fifth wheel", "motorhome", "truck camper"} {
		for k, wishes := range []string{"none", "2 laptops, internet, microwave", "air conditioner, microwave, television", "kettle, hair dryer"} {
			n := 4*i + k
			a := starter.Usual()
			err := errors.Join(a.Set("kind", kind), a.Set("wishes", wishes), a.Set("when", fmt.Sprintf("2027-0%d-10", 4+n%6)),
				a.Set("refrigerator", [...]string{"propane", "electric", "household"}[n%3]), a.Set("heat", [...]string{"propane", "diesel"}[n%2]))
			if err != nil {
				t.Fatal(err)
			}
			s, err := starter.Build(a)
			if err != nil {
				t.Fatal(err)
			}
			texts[fmt.Sprintf("%s, %s", kind, wishes)] = s.Text
		}
	}
	return texts
}

// TestAcceptedIsNoWorse takes every proposal of a rig into its file, all at once and in the demo rigs each by itself too: no rule may find
// anything worse than before. What could not be judged before may be a question then; what no standard part does is told before it is accepted.
// (A property of what is proposed; no source.)
func TestAcceptedIsNoWorse(t *testing.T) {
	texts := begunRigs(t)
	for _, name := range demoRigs {
		texts[name] = readExample(t, name)
	}
	looked := 0
	for name, text := range texts {
		doc, faults := rig.Decode(bytes.NewReader(text))
		if len(faults) > 0 {
			t.Fatal(name, faults)
		}
		w, err := design.Wire(doc)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		before, a := worstFound(t, text), w.Answer()
		look := func(what string, edits []rig.Edit) {
			if len(edits) == 0 {
				return
			}
			looked++
			after, err := rig.Apply(text, edits)
			if err != nil {
				t.Errorf("%s, %s: %v", name, what, err)
				return
			}
			for key, o := range worstFound(t, after) {
				was, there := before[key]
				told := o.Rule == "M41" && strings.Contains(strings.Join(a.Problems, "; "), "full load")
				if o.Verdict > max(was.Verdict, check.Note) && (there || o.Verdict != check.Undecided) && !told {
					t.Errorf("%s, %s: %s %s, %s before: %s; %s", name, what, o.Verdict, key, was.Verdict, o.Title, o.Detail)
				}
			}
		}
		look("all", a.Edits)
		for i := range a.Runs {
			if a.Runs[i].Known == "proposed" && strings.HasSuffix(name, ".yaml") {
				look(a.Runs[i].Name, acceptance(w, a.Runs, i))
			}
		}
	}
	if looked < 80 {
		t.Errorf("only %d proposals were taken", looked)
	}
}

// worstFound is the worst outcome of each rule at each place.
func worstFound(t *testing.T, text []byte) map[string]check.Outcome {
	t.Helper()
	doc, faults := rig.Decode(bytes.NewReader(text))
	if len(faults) > 0 {
		t.Fatalf("%v\n%s", faults, text)
	}
	c, err := check.Prepare(doc, check.Remember(system.FindClimate))
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]check.Outcome{}
	for _, o := range rules.Judge(c).Outcomes {
		key := o.Rule + " " + o.Place
		if was, ok := found[key]; !ok || o.Verdict > was.Verdict {
			found[key] = o
		}
	}
	return found
}
