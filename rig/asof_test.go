package rig

import (
	"strings"
	"testing"

	"campwright/figure"
	"github.com/google/go-cmp/cmp"
)

const dated = `campwright: 1
name: over the years
kind: van
modules:
  m: {power: 100 W}
controllers:
  c: {output: 20 A}
arrays:
  - {name: first, module: m, controller: c, removed: 2025-06-01}
  - {name: second, module: m, controller: c, fitted: 2025-06-01}
  - {name: always, module: m, controller: c}
  - {name: unsure, module: m, controller: c, fitted: unknown}
bank:
  chemistry: AGM
  block: {capacity: 100 Ah}
  fitted: 2024-01-01
  removed: 2026-01-01
charge line:
  - fuse: 60 A
  - dc-dc: {output: 30 A, fitted: 2025-01-01}
`

// A part is there from the day it was fitted to the day before it was removed; both ends with a day on each side.
func TestAt(t *testing.T) {
	r := whole(t, dated)
	before := r.Clone()
	cases := []struct {
		day    string
		arrays string
		bank   bool
		links  int
	}{
		{"2023-12-31", "first always unsure", false, 1},
		{"2024-01-01", "first always unsure", true, 1},
		{"2024-12-31", "first always unsure", true, 1},
		{"2025-01-01", "first always unsure", true, 2},
		{"2025-05-31", "first always unsure", true, 2},
		{"2025-06-01", "second always unsure", true, 2},
		{"2025-12-31", "second always unsure", true, 2},
		{"2026-01-01", "second always unsure", false, 2},
	}
	for _, c := range cases {
		day, err := ParseDate(c.day)
		if err != nil {
			t.Fatal(err)
		}
		then := r.At(day)
		names := make([]string, 0, 4)
		for _, a := range then.Arrays {
			names = append(names, a.Name)
		}
		if got := strings.Join(names, " "); got != c.arrays || (then.Bank != nil) != c.bank || len(then.ChargeLine) != c.links {
			t.Errorf("%s: arrays %q, bank %v, %d links", c.day, got, then.Bank != nil, len(then.ChargeLine))
		}
		if then.Bank != nil {
			then.Bank.Chemistry = "changed"
		}
		then.Arrays[0].Name = "changed"
	}
	if d := cmp.Diff(before, r); d != "" {
		t.Errorf("the rig itself was changed: %s", d)
	}
	if d := cmp.Diff(r, r.At(Date{})); d != "" {
		t.Errorf("without a day: %s", d)
	}
	if r.At(Date{State: figure.Unknown}).Bank == nil {
		t.Error("an unknown day took the bank away")
	}
}

func TestDates(t *testing.T) {
	for text, ok := range map[string]bool{"2024-02-29": true, "2023-02-29": false, "2000-02-29": true, "1900-02-29": false, "2100-02-28": true, "2027-04-31": false,
		"2027-12-31": true, "2027-13-01": false, "2027-00-10": false, "2027-01-00": false, "1899-12-31": false, "1900-01-01": true, "2199-12-31": true, "2200-01-01": false,
		"27-01-05": false, "2027-1-5": true, "about 2020-01-01": true, "05.01.2027": false} {
		d, err := ParseDate(text)
		if (err == nil) != ok {
			t.Errorf("%s: %+v, %v", text, d, err)
		}
		if again, err := ParseDate(d.Text()); ok && (err != nil || again != d) {
			t.Errorf("%s is written %q", text, d.Text())
		}
	}
}

// TestOneUnitAtATime: the charge line is a chain with one dc-dc unit at its end. One that was replaced may stand in the file with its
// days; two on the same day are refused, since they would have to be one. (A property of the document; no source.)
func TestOneUnitAtATime(t *testing.T) {
	const head = "campwright: 1\nname: x\nkind: van\nvehicle: {}\ncharge line:\n  - fuse: 60 A\n"
	for _, c := range []struct {
		first, second string
		faults        int
	}{
		{"output: 30 A", "output: 30 A", 1},
		{"output: 30 A, removed: 2025-05-01", "output: 50 A, fitted: 2025-05-01", 0},
		{"output: 30 A, fitted: 2025-06-01", "output: 50 A, removed: 2025-05-01", 0},
		{"output: 30 A, removed: 2025-05-02", "output: 50 A, fitted: 2025-05-01", 1},
		{"output: 30 A, removed: 2025-05-01", "output: 50 A", 1},
	} {
		_, faults := Decode(strings.NewReader(head + "  - dc-dc: {" + c.first + "}\n  - dc-dc: {" + c.second + "}\n"))
		if len(faults) != c.faults {
			t.Errorf("%s; %s: %d faults, wanted %d: %v", c.first, c.second, len(faults), c.faults, faults)
		}
		for _, f := range faults {
			if f.Line != 8 || f.Path != "charge line/2/dc-dc" && f.Path != "charge line/3/dc-dc" {
				t.Errorf("the fault is told at line %d, %s", f.Line, f.Path)
			}
		}
	}
}
