package rules_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"campwright/check"
	"campwright/check/rules"
	"campwright/rig"
	"campwright/tools/newrule/room"
)

// worst returns the worst that each rule says of a rig, questions apart: a rule that finds and asks is told by what it finds.
func worst(c check.Case) map[string]check.Verdict {
	list := map[string]check.Verdict{}
	for _, o := range rules.Judge(c).Outcomes {
		if was, seen := list[o.Rule]; !seen || was == check.Undecided || o.Verdict != check.Undecided && o.Verdict > was {
			list[o.Rule] = o.Verdict
		}
	}
	return list
}

// TestPlanted: in a rig into which mistakes of the practice list were planted, each is found with its verdict, and nothing else is.
func TestPlanted(t *testing.T) {
	planted := map[check.Verdict][]string{
		check.Stop: {"M01", "M34", "M58", "M67", "M68", "M78", "N02"},
		check.Fail: {"M06", "M09", "M16", "M18", "M19", "M20", "M23", "M24", "M25", "M32", "M35", "M38", "M42", "M46", "M50", "M54", "M55", "M61", "M65", "N01", "N03", "N06", "N08"},
		check.Warn: {"M04", "M10", "M21", "M26", "M41", "M52", "M53", "M62"},
	}
	got := worst(room.Open(t, "testdata/planted.yaml"))
	count := 0
	for verdict, ids := range planted {
		for _, id := range ids {
			count++
			if got[id] != verdict {
				t.Errorf("%s planted: %s, wanted %s", id, got[id], verdict)
			}
		}
	}
	if count < 25 {
		t.Fatalf("only %d mistakes planted", count)
	}
	for id, v := range got {
		if v >= check.Warn && v != check.Undecided && !slices.Contains(planted[v], id) {
			t.Errorf("%s was not planted and says %s", id, v)
		}
	}
}

// converted is scenario S11 on the day the batteries change and nothing else does.
var converted = []rig.Edit{
	{Path: "bank/chemistry", Old: "flooded", New: "LFP"},
	{Path: "bank/blocks", Old: "2", New: "3"},
	{Path: "bank/in series", Old: "2", New: "1"},
	{Path: "bank/block", Old: "{voltage: 6 V, capacity: 220 Ah, resistance: 2.5 mohm, charge limit: 45 A}", New: "{capacity: 100 Ah, resistance: 3 mohm, charge limit: 100 A, discharge limit: 100 A, peak limit: 200 A, charges above: 0 C}"},
}

// TestS11 is scenario S11: what the lead-acid bank was silently relied on for. The relay, the main fuse, the controller's profile and its compensation
// must change with the batteries; the restart setting should; the inverter stays within the new limit.
func TestS11(t *testing.T) {
	before := worst(room.Open(t, "testdata/s11-before.yaml"))
	c := room.Open(t, "testdata/s11-before.yaml", converted...)
	after := worst(c)
	for id, want := range map[string]check.Verdict{"M65": check.Fail, "M32": check.Fail, "M19": check.Fail, "M20": check.Fail, "M62": check.Warn, "M23": check.Pass, "M68": check.Pass} {
		if v, judged := after[id]; !judged || v != want {
			t.Errorf("%s after the change: %s, wanted %s", id, v, want)
		}
		if v, judged := before[id]; want == check.Fail && id != "M65" && judged && v >= check.Warn {
			t.Errorf("%s before the change: %s", id, v)
		}
	}
	for _, o := range rules.Judge(c).Outcomes {
		if o.Rule == "M20" && o.Verdict == check.Fail && len(check.Cures(c, o, rules.All())) == 0 {
			t.Error("no cure for the compensation")
		}
	}
}

// TestS12 is scenario S12: a fuse of 200 A on 6 AWG fails, two unequal modules on one controller are a warning, a second inverter with its own bond while the
// first is on is a STOP, and what nobody has looked at is asked for, not passed.
func TestS12(t *testing.T) {
	c := room.Open(t, "testdata/s12.yaml")
	got := worst(c)
	for id, want := range map[string]check.Verdict{"M38": check.Fail, "M04": check.Warn, "M58": check.Stop} {
		if got[id] != want {
			t.Errorf("%s: %s, wanted %s", id, got[id], want)
		}
	}
	asked := 0
	for _, o := range rules.Judge(c).Outcomes {
		if o.Verdict == check.Undecided {
			asked++
		}
	}
	if asked < 5 {
		t.Errorf("only %d questions about a rig that nobody knows", asked)
	}
	alone := worst(room.Open(t, "testdata/s12.yaml", rig.Edit{Path: "inverters/second/feeds", Old: "panel", New: "own outlets"}, rig.Edit{Path: "shore/bonds neutral", Old: "unknown", New: "no"}))
	if alone["M58"] >= check.Warn {
		t.Errorf("with outlets of its own: %s", alone["M58"])
	}
	fmt.Fprintln(t.Output(), len(got), "rules judged")
}

// TestMissing takes one value after another out of the rig of many mistakes: a mistake that does not hang on the value is still found, one that does is
// a question and no verdict, nothing passes that failed before, and the first sentence says that something is missing.
func TestMissing(t *testing.T) {
	whole := worst(room.Open(t, "testdata/planted.yaml"))
	for _, x := range []struct {
		path, was string
		hangs     []string // rules whose verdict hangs on the value
	}{
		{"controllers/fore/survives", "100 V", []string{"M01"}},
		{"controllers/aft/output", "40 A", nil},
		{"inverters/main/power", "2000 W", []string{"M23"}},
		{"vehicle/alternators/1/rated", "130 A", nil},
		{"bank/block/capacity", "200 Ah", nil},
	} {
		c := room.Open(t, "testdata/planted.yaml", rig.Edit{Path: x.path, Old: x.was, New: "unknown"})
		report := rules.Judge(c)
		if len(report.Missing) == 0 || !strings.Contains(report.Sentence, "missing") {
			t.Errorf("%s unknown: %q", x.path, report.Sentence)
		}
		got := map[string]check.Verdict{}
		for _, o := range report.Outcomes {
			got[o.Rule] = max(got[o.Rule], o.Verdict)
		}
		for id, was := range whole {
			now, judged := got[id]
			switch {
			case slices.Contains(x.hangs, id):
				if now != check.Undecided {
					t.Errorf("%s unknown: %s says %s, wanted a question", x.path, id, now)
				}
			case was >= check.Fail && (!judged || now < check.Warn):
				t.Errorf("%s unknown: %s was %s and says %s", x.path, id, was, now)
			}
		}
		for _, id := range []string{"M34", "M58", "N02"} {
			if got[id] != check.Stop {
				t.Errorf("%s unknown: %s says %s, wanted STOP", x.path, id, got[id])
			}
		}
	}
}
