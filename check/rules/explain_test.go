package rules_test

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"campwright/check"
	"campwright/check/rules"
	"campwright/tools/newrule/room"
)

// TestEveryCaseHasAPlace: the cases M01 to M80 and N01 to N08 each have a rule or a reason why there is none, and not both.
func TestEveryCaseHasAPlace(t *testing.T) {
	want := map[string]bool{}
	for i := 1; i <= 80; i++ {
		want[fmt.Sprintf("M%02d", i)] = true
	}
	for i := 1; i <= 8; i++ {
		want[fmt.Sprintf("N%02d", i)] = true
	}
	seen := map[string]bool{}
	for _, r := range rules.All() {
		seen[r.ID] = true
	}
	for _, l := range check.Later() {
		if seen[l.ID] {
			t.Errorf("%s has a rule and a reason why it has none", l.ID)
		}
		seen[l.ID] = true
		if !slices.Contains([]string{"to come", "question", "commissioning", "reading"}, l.Kind) || l.Why == "" || l.Title == "" {
			t.Errorf("%+v", l)
		}
	}
	for id := range want {
		if !seen[id] {
			t.Errorf("%s has neither a rule nor a reason", id)
		}
	}
	if len(want) != 88 {
		t.Fatalf("%d cases", len(want))
	}
}

// TestExplain: rules by id and title, terms and rules of thumb by every name they go by are explained, each by itself.
func TestExplain(t *testing.T) {
	all := rules.All()
	tried := 0
	ask := func(word, kind, name string) {
		tried++
		x, near := check.Explain(word, all)
		if x.Kind != kind || !strings.HasPrefix(x.Name, name) || len(near) > 0 {
			t.Errorf("%q: %s %q, near %q; wanted %s %q", word, x.Kind, x.Name, near, kind, name)
		}
		for _, p := range x.Parts {
			if p.Text == "" {
				t.Errorf("%q: nothing under %q", word, p.Head)
			}
		}
	}
	for _, r := range all {
		ask(strings.ToLower(r.ID), "rule", r.ID)
		ask(r.Title, "rule", r.ID)
	}
	for _, l := range check.Later() {
		ask(l.ID, "rule", l.ID)
	}
	for _, e := range check.Thumbs() {
		for _, w := range append([]string{e.Name}, e.Also...) {
			ask(w, "rule of thumb", e.Name)
		}
		if e.Says == "" || e.Holds == "" || e.Fails == "" || e.Source == "" {
			t.Errorf("%q is not told whole", e.Name)
		}
	}
	for _, e := range check.Terms() {
		for _, w := range append([]string{e.Name}, e.Also...) {
			ask(w, "term", e.Name)
		}
	}
	if tried < 250 {
		t.Fatalf("only %d words tried", tried)
	}
}

// TestNear: what is mistyped is asked back, and nonsense is not.
func TestNear(t *testing.T) {
	for word, want := range map[string]string{"absorbtion": "absorption", "flot": "float", "five sun hour rule": "five sun hours", "aic rating": "interrupt rating", "m3": "M03"} {
		if _, near := check.Explain(word, rules.All()); !slices.Contains(near, want) {
			t.Errorf("%q: near %q, wanted %q among them", word, near, want)
		}
	}
	if _, near := check.Explain("xylophone quartet", rules.All()); len(near) > 0 {
		t.Errorf("nonsense is near %q", near)
	}
}

// TestThumbsHere: every rule of thumb says something of a demo rig, and names a place, a part or the bank's voltage.
func TestThumbsHere(t *testing.T) {
	said := map[string]bool{}
	for _, name := range examples(t) {
		c := room.Open(t, name)
		for _, e := range check.Thumbs() {
			x, _ := check.Explain(e.Name, rules.All())
			for _, line := range check.Here(x, c, rules.All()) {
				said[e.Name] = true
				if strings.Contains(line, "NaN") || strings.Contains(line, "Inf") || strings.Contains(line, "no number") || !strings.HasSuffix(line, ".") {
					t.Errorf("%s, %s: %q", name, e.Name, line)
				}
			}
		}
	}
	for _, e := range check.Thumbs() {
		if !said[e.Name] {
			t.Errorf("%q says nothing of any demo rig", e.Name)
		}
	}
}

// TestIdleThumb: 30 W for a day at 12.8 V are 56 Ah, the handbook's own line of rules of thumb (rules_of_thumb.csv).
func TestIdleThumb(t *testing.T) {
	c := room.Open(t, "m53/testdata/bad-1.yaml")
	c.Doc.Inverters[0].Idle.Quantity.Base = 30
	x, _ := check.Explain("idle is a load", rules.All())
	if here := check.Here(x, c, rules.All()); len(here) != 1 || !strings.Contains(here[0], "56.2 Ah a day at 12.8 V") {
		t.Errorf("%q", here)
	}
}

// TestCautionsCoverTheHandbook: every danger that the handbook's ready cautions name, as far as a rule of ours deals with it, has a caution here.
func TestCautionsCoverTheHandbook(t *testing.T) {
	folder := os.Getenv("CAMPWRIGHT_REFERENCE")
	if folder == "" {
		t.Skip("REFERENCE ABSENT: set CAMPWRIGHT_REFERENCE to the folder of handbook values")
	}
	text, err := os.ReadFile(filepath.Join(folder, "trade", "safety_cautions.json"))
	if err != nil {
		t.Fatal(err)
	}
	var handbook []struct{ ID, Topic, Text string }
	if err := json.Unmarshal(text, &handbook); err != nil || len(handbook) < 20 {
		t.Fatalf("%d cautions, %v", len(handbook), err)
	}
	// By topic of the handbook, a word that our caution of the kind must say.
	covers := map[string][2]string{
		"battery short circuit": {check.BatteryFault, "thousands of amps"}, "interrupt rating": {check.BatteryFault, "interrupt"},
		"PV is live in light": {check.SunLive, "Cover them"}, "cold voltage": {check.SunLive, "open voltage"}, "arc and 48 V": {check.SunLive, "arc"},
		"lithium cold charge": {check.ColdCells, "below freezing"}, "alternator": {check.AlternatorOn, "until it burns"},
		"neutral bonding": {check.ShorePower, "one place only"}, "transfer": {check.ShorePower, "same wires together"}, "shore supply check": {check.ShorePower, "under load"},
		"carbon monoxide": {check.Fumes, "carbon monoxide"}, "propane": {check.Fumes, "close the cylinder"}, "lead-acid": {check.LeadAcid, "hydrogen"}, "roof falls": {check.RoofWork, "helper"},
	}
	found := 0
	for _, h := range handbook {
		want, ok := covers[h.Topic]
		if !ok {
			continue
		}
		found++
		c, ok := check.CautionFor(want[0])
		if !ok || !strings.Contains(c.Text, want[1]) {
			t.Errorf("%s, %q: our caution %q does not say %q", h.ID, h.Topic, want[0], want[1])
		}
		if c.Text == h.Text {
			t.Errorf("%s: the handbook's own words", h.ID)
		}
	}
	if found != len(covers) {
		t.Fatalf("%d of %d topics found in the handbook", found, len(covers))
	}
}
