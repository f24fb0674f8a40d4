package rules_test

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"campwright/check"
	"campwright/check/rules"
	"campwright/figure"
	"campwright/tools/newrule/room"
)

// expected returns the findings that a test rig names in its comments: "# expect: STOP at arrays/roof".
func expected(t *testing.T, path string) []string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var list []string
	for s := bufio.NewScanner(f); s.Scan(); {
		if e, ok := strings.CutPrefix(s.Text(), "# expect: "); ok {
			list = append(list, e)
		}
	}
	slices.Sort(list)
	return list
}

func judge(c check.Case, rule check.Rule) []check.Outcome {
	return check.Judge(c, []check.Rule{rule}).Outcomes
}

func found(list []check.Outcome) []string {
	var out []string
	for i := range list {
		if o := &list[i]; o.Verdict > check.Pass {
			out = append(out, fmt.Sprintf("%s at %s", o.Verdict, o.Place))
		}
	}
	slices.Sort(out)
	return out
}

var cited = regexp.MustCompile(`\[([A-Z0-9-]+)\]`)

// TestRecords holds every record to what the house asks of it.
func TestRecords(t *testing.T) {
	sources, err := os.ReadFile("../../doc/SOURCES.md")
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, r := range rules.All() {
		if seen[r.ID] {
			t.Errorf("%s stands twice", r.ID)
		}
		seen[r.ID] = true
		for what, text := range map[string]string{"title": r.Title, "holds": r.Holds} {
			if n := len(strings.Fields(text)); n < 2 || n > 7 {
				t.Errorf("%s: %s %q has %d words, wanted 2 to 7", r.ID, what, text, n)
			}
		}
		for what, text := range map[string]string{"What": r.What, "Why": r.Why, "Except": r.Except, "Formula": r.Formula, "Source": r.Source, "Sure": r.Sure} {
			if len(text) < 8 {
				t.Errorf("%s: %s is %q", r.ID, what, text)
			}
		}
		keys := cited.FindAllStringSubmatch(r.Source, -1)
		if len(keys) == 0 && !strings.Contains(r.Source, check.Practice) {
			t.Errorf("%s: source %q names neither a key nor common practice", r.ID, r.Source)
		}
		for _, k := range keys {
			if !strings.Contains(string(sources), "## ["+k[1]+"]") {
				t.Errorf("%s: source [%s] has no entry in doc/SOURCES.md", r.ID, k[1])
			}
		}
		if _, ok := check.CautionFor(r.Caution); r.Caution != "" && !ok {
			t.Errorf("%s: caution %q is none", r.ID, r.Caution)
		}
		if r.Worst < check.Note {
			t.Errorf("%s: worst verdict is %s", r.ID, r.Worst)
		}
	}
	if len(seen) < 2 {
		t.Fatalf("only %d rules", len(seen))
	}
}

// TestRooms holds every rule to the rigs of its room: bad ones fire with the verdicts they name, good ones pass with a margin, and a pair lies
// just inside and just outside of the limit.
func TestRooms(t *testing.T) {
	for _, r := range rules.All() {
		t.Run(r.ID, func(t *testing.T) {
			dir := filepath.Join(strings.ToLower(r.ID), "testdata")
			worst := check.Pass
			count := map[string]int{}
			files, err := filepath.Glob(filepath.Join(dir, "*.yaml"))
			if err != nil {
				t.Fatal(err)
			}
			for _, path := range files {
				kind := strings.TrimRight(strings.TrimSuffix(filepath.Base(path), ".yaml"), "0123456789-")
				count[kind]++
				c := room.Open(t, path)
				list := judge(c, r)
				want, got := expected(t, path), found(list)
				if !slices.Equal(want, got) {
					t.Errorf("%s: found %q, wanted %q", path, got, want)
				}
				switch kind {
				case "bad", "edge-outside":
					if len(want) == 0 {
						t.Errorf("%s expects nothing", path)
					}
				case "good":
					if len(want) > 0 {
						t.Errorf("%s expects %q", path, want)
					}
					if !slices.ContainsFunc(list, func(o check.Outcome) bool { return o.Verdict == check.Pass }) {
						t.Errorf("%s: no pass", path)
					}
				case "edge-inside":
					if len(want) > 0 {
						t.Errorf("%s expects %q", path, want)
					}
				case "undecided":
					if !strings.HasPrefix(strings.Join(want, " "), "UNDECIDED") {
						t.Errorf("%s expects %q", path, want)
					}
				default:
					t.Errorf("%s: no such kind of test rig", path)
				}
				for i := range list {
					if v := list[i].Verdict; v != check.Undecided {
						worst = max(worst, v)
					}
					sound(t, path, r, &list[i])
				}
			}
			for _, kind := range []string{"bad", "good", "edge-inside", "edge-outside"} {
				if count[kind] == 0 {
					t.Errorf("no %s-*.yaml in %s", kind, dir)
				}
			}
			if worst != r.Worst {
				t.Errorf("the worst of its test rigs is %s, its record says %s", worst, r.Worst)
			}
		})
	}
}

// sound holds one outcome to what every outcome must have.
func sound(t *testing.T, path string, r check.Rule, o *check.Outcome) {
	t.Helper()
	at := fmt.Sprintf("%s: %s %s at %s", path, o.Rule, o.Verdict, o.Place)
	if n := len(strings.Fields(o.Title)); n < 2 || n > 7 {
		t.Errorf("%s: title %q has %d words", at, o.Title, n)
	}
	if o.Place == "" || o.Part == "" || o.Source == "" || o.Sure == "" {
		t.Errorf("%s: place %q, part %q, source %q, sure %q", at, o.Place, o.Part, o.Source, o.Sure)
	}
	if o.Verdict == check.Pass && o.Margin == nil && o.Detail == "" {
		t.Errorf("%s: a pass without margin", at)
	}
	if o.Margin != nil && (math.IsNaN(*o.Margin) || math.IsInf(*o.Margin, 0)) {
		t.Errorf("%s: margin %v", at, *o.Margin)
	}
	if o.Verdict == check.Pass && o.Margin != nil && *o.Margin < 0 {
		t.Errorf("%s: a pass with margin %v", at, *o.Margin)
	}
	if o.Verdict >= check.Warn && (o.Consequence == "" || len(o.Ways) < 2 && o.Verdict != check.Undecided) {
		t.Errorf("%s: consequence %q, ways %q", at, o.Consequence, o.Ways)
	}
	if o.Verdict == check.Undecided && len(o.Measure) == 0 {
		t.Errorf("%s: undecided without a reading that would settle it", at)
	}
	workings(t, at, o.Numbers, 0)
	if strings.Contains(o.Working.Line(), "no number") {
		t.Errorf("%s: %s", at, o.Working.Line())
	}
}

// workings works out a printed working and those inside it.
func workings(t *testing.T, at string, w figure.Working, depth int) {
	t.Helper()
	if w.Formula == "" {
		if depth == 0 && len(w.Terms) == 0 {
			return
		}
		t.Errorf("%s: terms without a formula", at)
		return
	}
	if strings.Contains(w.Formula, "=") {
		if err := check.Recompute(w, 1e-6); err != nil {
			if !(strings.Contains(err.Error(), "unknown symbol") && depth == 0 && strings.Contains(at, "UNDECIDED")) {
				t.Errorf("%s: %v", at, err)
			}
		}
	}
	for _, term := range w.Terms {
		if term.Figure.Working != nil {
			workings(t, at+" "+term.Symbol, *term.Figure.Working, depth+1)
		}
	}
}
