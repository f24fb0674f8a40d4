package store

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"campwright/rig"
)

// takenSheet is a file as a first sheet is written, with remarks of every kind.
const takenSheet = `campwright: 1
name: First sheet                 # taken: not answered
kind: van
modules:
  usual 200:                      # taken, all of it: figures usual for a 200 W module
    power: 200 W
    cells: 36
bank:
  chemistry: LFP                  # taken
  blocks: 3                       # taken: sized for the stay
  block:                          # taken, all of it: a usual block
    capacity: 100 Ah
    weight: about 26 lb (22 lb to 31 lb)
vehicle:                          # taken, all of it: usual for a van
  alternators:
    - rated: about 180 A (140 A to 220 A)
      hot idle: about 81 A (49 A to 121 A)
charge line:                      # taken, all of it: usual
  - fuse: 60 A
  - run: {gauge: 4 AWG, length: 18 ft}
appliances:
  - name: lights                  # taken: usually aboard, with usual figures, each
    runs on: dc
    power: about 3 W (1.5 W to 6 W)
  - name: kettle
    runs on: ac
    power: 1200 W
stores:
  grey: 15 gal                    # read off the tank
`

func TestTaken(t *testing.T) {
	taken := Taken([]byte(takenSheet))
	for path, want := range map[string]bool{
		"name": true, "kind": false, "modules/usual 200/power": true, "modules/usual 200/name": true, "bank/chemistry": true, "bank/blocks": true,
		"bank/block/capacity": true, "bank/bay": false, "vehicle/alternators/1/rated": true, "vehicle/alternators/1/hot idle": true,
		"charge line/1/fuse": true, "charge line/2/run/gauge": true, "appliances/lights/power": true, "appliances/kettle/power": false, "stores/grey": false,
	} {
		if got := taken(path); got != want {
			t.Errorf("%s: taken %v, want %v", path, got, want)
		}
	}
}

// TestEditOwnsRemarks edits values that a first sheet took, and looks at the remarks around them.
func TestEditOwnsRemarks(t *testing.T) {
	for _, c := range []struct {
		name, path, old, text string
		has, lost             []string
		owned, still          []string // paths that are the owner's after it, and that are still taken
	}{
		{"a value with its own remark", "bank/blocks", "3", "4", []string{"  blocks: 4\n"}, []string{"sized for the stay"}, []string{"bank/blocks"}, []string{"bank/chemistry", "bank/block/capacity"}},
		{"a value in a part", "bank/block/capacity", "100 Ah", "280 Ah", []string{"capacity: 280 Ah  # yours\n", "# taken, but for what says yours: a usual block\n"}, []string{"all of it: a usual block"},
			[]string{"bank/block/capacity"}, []string{"bank/block/weight"}},
		{"the first value of a member", "vehicle/alternators/1/rated", "about 180 A (140 A to 220 A)", "160 A", []string{"- rated: 160 A  # yours\n"}, nil,
			[]string{"vehicle/alternators/1/rated"}, []string{"vehicle/alternators/1/hot idle"}},
		{"a value on one line with others", "charge line/2/run/length", "18 ft", "20 ft", []string{"length: 20 ft}  # yours\n"}, nil, []string{"charge line/2/run/length"}, []string{"charge line/1/fuse"}},
		{"a value of a named member", "appliances/lights/power", "about 3 W (1.5 W to 6 W)", "4 W measured", []string{"power: 4 W measured  # yours\n", "- name: lights                  # taken, but for what says yours: usually aboard"}, nil,
			[]string{"appliances/lights/power"}, []string{"appliances/lights/runs on"}},
		{"a value added to a part", "modules/usual 200/fuse", "", "20 A", []string{"fuse: 20 A  # yours\n"}, nil, []string{"modules/usual 200/fuse"}, []string{"modules/usual 200/power"}},
		{"a value that was nobody's guess", "stores/grey", "15 gal", "30 gal", []string{"grey: 30 gal                    # read off the tank\n"}, []string{"yours"}, []string{"stores/grey"}, []string{"name"}},
		{"a value taken away", "modules/usual 200/cells", "36", "", nil, []string{"yours", "cells"}, nil, []string{"modules/usual 200/power"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := openOn(t, takenSheet)
			state, err := s.State()
			if err != nil {
				t.Fatal(err)
			}
			state, err = s.Edit(state.Revision, []rig.Edit{{Path: c.path, Old: c.old, New: c.text}}, "")
			if err != nil {
				t.Fatal(err)
			}
			text := string(state.Text)
			for _, want := range c.has {
				if !strings.Contains(text, want) {
					t.Errorf("missing %q in\n%s", want, text)
				}
			}
			for _, gone := range c.lost {
				if strings.Contains(text, gone) {
					t.Errorf("still there: %q in\n%s", gone, text)
				}
			}
			taken := Taken(state.Text)
			for _, path := range c.owned {
				if taken(path) {
					t.Errorf("%s still counts as taken", path)
				}
			}
			for _, path := range c.still {
				if !taken(path) {
					t.Errorf("%s no longer counts as taken", path)
				}
			}
			if _, faults := rig.Decode(strings.NewReader(text)); len(faults) > 0 && strings.Contains(faults[0].Problem, "yaml") {
				t.Errorf("the text no longer reads: %v", faults)
			}
			back, err := s.Undo(state.Revision)
			if err != nil || string(back.Text) != takenSheet {
				t.Errorf("undo does not lead back to the text as it was: %v", err)
			}
		})
	}
}

func TestMarkTaken(t *testing.T) {
	after, err := rig.Apply([]byte(takenSheet), []rig.Edit{{Path: "appliances/fan", New: `{name: fan, runs on: dc, power: 20 W}`}})
	if err != nil {
		t.Fatal(err)
	}
	marked := MarkTaken([]byte(takenSheet), after, "a usual fan")
	if taken := Taken(marked); !taken("appliances/fan/power") || taken("appliances/kettle/power") {
		t.Errorf("the wrong part counts as taken in\n%s", marked)
	}
	if doc, _ := rig.Decode(strings.NewReader(string(marked))); len(doc.Appliances) != 3 || doc.Appliances[2].Name != "fan" {
		t.Errorf("the text reads otherwise with its remark: %+v", doc.Appliances)
	}
}

func TestWordsOfChanges(t *testing.T) {
	for _, c := range []struct {
		entry entry
		words string
	}{
		{entry{What: whatEdit, Note: "accepted the proposed wiring", Edits: []rig.Edit{{Path: "wiring", New: "{bus bars: {bank: {}}}"}}}, "accepted the proposed wiring"},
		{entry{What: whatEdit, Edits: []rig.Edit{{Path: "wiring/wires/1", New: "{a: b}"}, {Path: "wiring/wires/2", New: "{a: c}"}}}, "2 changes to the wiring"},
		{entry{What: whatEdit, Edits: []rig.Edit{{Path: "people", Old: "2", New: "3"}, {Path: "bank/blocks", Old: "2", New: "3"}, {Path: "note", New: "x"}}}, "3 changes"},
		{entry{What: whatEdit, Edits: []rig.Edit{{Path: "wiring", New: "{bus bars: {bank: {}}}"}}}, "wiring added"},
		{entry{What: whatEdit, Edits: []rig.Edit{{Path: "appliances/kettle", Old: "{name: kettle}"}}}, "kettle removed"},
		{entry{What: whatEdit, Note: "a third", Edits: []rig.Edit{{Path: "people", Old: "2", New: "3"}}}, "people: 2 to 3"},
		{entry{What: whatText, Note: "kettle added"}, "kettle added"},
		{entry{What: whatText}, "the file's text"},
	} {
		if got := (&history{}).words(c.entry); got != c.words {
			t.Errorf("%+v: %q, want %q", c.entry, got, c.words)
		}
	}
}

func openOn(t *testing.T, text string) *Store {
	t.Helper()
	path := filepath.Join(t.TempDir(), "rig.yaml")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	s, err := Open(path, clock)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestConfirmed says of values that were taken that they are right: the text of the values stays, and what was taken beside them stays
// taken. (A property of the file; no source.)
func TestConfirmed(t *testing.T) {
	for _, c := range []struct {
		path, text string
		others     []string // that stay taken
	}{
		{"bank/chemistry", "LFP", []string{"bank/blocks", "name"}},
		{"bank/blocks", "3", []string{"bank/chemistry"}},
		{"modules/usual 200/power", "200 W", []string{"modules/usual 200/cells"}},
		{"bank/block/weight", "about 26 lb (22 lb to 31 lb)", []string{"bank/block/capacity"}},
		{"vehicle/alternators/1/rated", "about 180 A (140 A to 220 A)", []string{"vehicle/alternators/1/hot idle"}},
		{"charge line/1/fuse", "60 A", []string{"charge line/2/run/gauge"}},
		{"charge line/2/run/length", "18 ft", []string{"charge line/1/fuse"}},
		{"appliances/lights/power", "about 3 W (1.5 W to 6 W)", []string{"name"}},
	} {
		after, err := applied([]byte(takenSheet), []rig.Edit{{Path: c.path, Old: c.text, New: c.text}})
		if err != nil {
			t.Errorf("%s: %v", c.path, err)
			continue
		}
		if now, err := rig.Read(after, c.path); err != nil || now != c.text {
			t.Errorf("%s: reads %q, %v", c.path, now, err)
		}
		taken := Taken(after)
		if taken(c.path) {
			t.Errorf("%s is still taken:\n%s", c.path, after)
		}
		for _, other := range c.others {
			if !taken(other) {
				t.Errorf("%s was confirmed, and %s with it:\n%s", c.path, other, after)
			}
		}
	}
	if words := editWords(rig.Edit{Path: "bank/blocks", Old: "3", New: "3"}); words != "bank, blocks: 3 is right" {
		t.Errorf("it is told as %q", words)
	}
	same, err := applied([]byte(takenSheet), []rig.Edit{{Path: "appliances/kettle/power", Old: "1200 W", New: "1200 W"}})
	if err != nil || string(same) != takenSheet {
		t.Errorf("the owner's own value was confirmed: %v\n%s", err, same)
	}
}
