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

// TestAcceptedIsNoWorse takes every proposal of a rig into its file, all at once and each by itself: no rule may find something grave that it
// did not find before, in what was proposed. (A property of what is proposed; no source.)
func TestAcceptedIsNoWorse(t *testing.T) {
	texts := map[string][]byte{}
	for _, name := range demoRigs {
		texts[name] = readExample(t, name)
	}
	for i, wish := range []string{"van", "travel trailer", "fifth wheel", "motorhome", "truck camper"} {
		a := starter.Usual()
		if err := errors.Join(a.Set("kind", wish), a.Set("when", "2027-05-10")); err != nil {
			t.Fatal(err)
		}
		s, err := starter.Build(a)
		if err != nil {
			t.Fatal(err)
		}
		texts[fmt.Sprintf("begun %d", i)] = s.Text
	}
	grave := func(text []byte) map[string]check.Outcome {
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
			if o.Verdict == check.Warn || o.Verdict >= check.Fail {
				found[o.Rule+" "+o.Place] = o
			}
		}
		return found
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
		before, a := grave(text), w.Answer()
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
			for key, o := range grave(after) {
				if stands, err := rig.Read(text, o.Place); err == nil && stands != "" && (o.Rule != "M41" || len(a.Problems) > 0) {
					continue // of what the owner has: it could not be judged before, or no standard part cures it, which is told
				}
				worse := true
				for was, b := range before {
					if strings.HasPrefix(was, o.Rule+" ") && b.Verdict >= o.Verdict {
						worse = false // found before as well, at the owner's own cable
					}
				}
				if worse {
					t.Errorf("%s, %s: %s %s: %s; %s", name, what, o.Verdict, key, o.Title, strings.TrimSpace(o.Detail))
				}
			}
		}
		look("all", a.Edits)
		for i := range a.Runs {
			if a.Runs[i].Known == "proposed" {
				look(a.Runs[i].Name, acceptance(w, a.Runs, i))
			}
		}
	}
	if looked < 50 {
		t.Errorf("only %d proposals were taken", looked)
	}
}
