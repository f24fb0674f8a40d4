package cli

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"campwright/figure"
	"campwright/rig"
	"campwright/system"
)

// Every quantity of a completed rig has its row, once, known in the way the document says; nothing is shown that is not there.
func TestAboard_ShowsEverything(t *testing.T) {
	paths, err := filepath.Glob("../examples/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	more, err := filepath.Glob("../rig/testdata/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	compared := 0
	for _, path := range append(paths, more...) {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		doc, faults := rig.Decode(strings.NewReader(string(text)))
		if err := faults.Err(); err != nil {
			t.Fatal(err)
		}
		full, _ := system.Complete(doc)
		rows := map[string]aboardRow{}
		for _, p := range aboard(&doc, &full, text) {
			for _, r := range p.Rows {
				if _, twice := rows[r.Path]; twice {
					t.Errorf("%s: %s has two rows", path, r.Path)
				}
				rows[r.Path] = r
				if r.Doc == "" && !strings.HasPrefix(r.Path, "name") {
					t.Errorf("%s: %s is not explained", path, r.Path)
				}
			}
		}
		rig.WalkAll(&full, func(at string, v *rig.Value) {
			r, there := rows[at]
			if !there { // a size and cylinders are one row
				cut := strings.LastIndexByte(at, '/')
				r, there = rows[at[:max(cut, 0)]]
				if v.State == figure.Absent || strings.HasSuffix(at, "/count") {
					return
				}
			}
			if !there {
				t.Errorf("%s: %s has no row", path, at)
				return
			}
			if r.State != stateWords[v.State] {
				t.Errorf("%s: %s is shown as %s, and is %s", path, at, r.State, v.State)
			}
			if v.Known() && r.Value.Written == "" {
				t.Errorf("%s: %s is shown without its value", path, at)
			}
			compared++
		})
	}
	if compared < 500 {
		t.Fatalf("compared %d rows", compared)
	}
}

// Parts stand in the order of the file, and what the file has not follows what it follows in the document.
func TestAboard_OrderOfTheFile(t *testing.T) {
	const text = `campwright: 1
trip: [{place: Moab, from: 2027-05-01, nights: 2}]
name: upside down
kind: van
bank: {chemistry: LFP, block: {capacity: 100 Ah}}
"modules": {m: {voc: 22 V, isc: 5 A, vmp: 18 V, imp: 4.8 A}}
`
	doc, faults := rig.Decode(strings.NewReader(text))
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	full, _ := system.Complete(doc)
	var titles []string
	for _, p := range aboard(&doc, &full, []byte(text)) {
		if p.Depth == 0 {
			titles = append(titles, p.Title)
		}
	}
	trip, bank, modules := slices.Index(titles, "trip"), slices.Index(titles, "bank"), slices.Index(titles, "modules")
	if titles[0] != "the rig" || trip != 1 || !(trip < bank && bank < modules) {
		t.Errorf("order %q", titles)
	}
}
