package rules_test

import (
	"strings"
	"testing"

	"campwright/check"
	"campwright/check/rules"
	"campwright/rig"
	"campwright/system"
)

// TestStandIns holds rigs in which something is missing, or cannot be served, to what follows by hand from the rest.
func TestStandIns(t *testing.T) {
	for _, x := range []struct {
		name, text string
		want       map[string]check.Verdict // worst of each rule
	}{
		{"a module without its open-circuit voltage leaves a bare cable to the first fuse what it is", gap, map[string]check.Verdict{"M34": check.Stop, "M38": check.Fail}},
		{"a module of which little is told leaves the cut-offs in the wrong order", cutOffs, map[string]check.Verdict{"M35": check.Fail}},
		{"a winch that its line starves counts in the fuses before it: 900 W and 300 W at 12.8 V are 94 A through 60 A", winch, map[string]check.Verdict{"M39": check.Fail, "M42": check.Fail, "M41": check.Fail}},
		{"a 48 V block has 16 cells: 56.8 V are 3.55 V a cell", label48, map[string]check.Verdict{"M19": check.Pass}},
	} {
		doc, faults := rig.Decode(strings.NewReader(x.text))
		if err := faults.Err(); err != nil {
			t.Fatalf("%s: %v", x.name, err)
		}
		c, err := check.Prepare(doc, system.FindClimate)
		if err != nil {
			t.Fatal(err)
		}
		got := map[string]check.Verdict{}
		for _, o := range rules.Judge(c).Outcomes {
			got[o.Rule] = max(got[o.Rule], o.Verdict)
		}
		for id, want := range x.want {
			if v, judged := got[id]; !judged || v != want {
				t.Errorf("%s: %s says %s, wanted %s", x.name, id, v, want)
			}
		}
	}
}

const (
	gap = `campwright: 1
name: gap
kind: van
modules: {field: {vmp: 40 V, imp: 10 A, isc: 10.6 A}}
controllers: {c: {survives: 100 V, output: 30 A}}
arrays: [{name: roof, module: field, controller: c}]
bank: {chemistry: LFP, blocks: 2, block: {voltage: 12.8 V, capacity: 100 Ah, discharge limit: 100 A, resistance: 3 mohm}}
inverters: {main: {power: 2000 W}}
wiring:
  bus bars: {main: {rating: 300 A}}
  runs:
    - {from: bank, to: bus bar main, gauge: 4/0 AWG, length: 5 ft, devices: [{kind: fuse, rating: 300 A, family: strip limiter fuse, at: 48 in}]}
    - {from: bus bar main, to: inverter main, gauge: 2 AWG, length: 12 ft}
`
	cutOffs = `campwright: 1
name: cutoffs with a gap elsewhere
kind: van
bank: {chemistry: LFP, block: {capacity: 200 Ah}, inverter off at: 12.0 V, loads off at: 10.8 V, opens at: 11.2 V}
inverters: {main: {power: 1000 W}}
modules: {roof: {power: 200 W}}
controllers: {c: {kind: step-down, output: 30 A}}
arrays: [{name: a, module: roof, controller: c}]
`
	winch = `campwright: 1
name: a load left out
kind: van
bank: {chemistry: LFP, block: {capacity: 200 Ah, resistance: 3 mohm, charge limit: 100 A, discharge limit: 200 A}}
appliances: [{name: winch, runs on: dc, power: 900 W}, {name: lights, runs on: dc, power: 300 W}]
wiring:
  bus bars: {main: {rating: 50 A}}
  fuse blocks: {board: {rating: 50 A, branches: [{feeds: [winch], fuse: 30 A, gauge: 6 AWG, length: 60 ft}, {feeds: [lights], fuse: 40 A, gauge: 8 AWG, length: 3 ft}]}}
  runs:
    - {from: bank, to: bus bar main, gauge: 1/0 AWG, length: 1 ft, devices: [{kind: fuse, rating: 60 A, family: class T fuse, at: 6 in}]}
    - {from: bus bar main, to: fuse block board, gauge: 1/0 AWG, length: 3 ft}
`
	label48 = `campwright: 1
name: LFP at 48 V
kind: van
bank: {chemistry: LFP, block: {voltage: 48 V, capacity: 100 Ah}, opens at: 40 V, inverter off at: 44 V}
shore: {inlet: 30 A, chargers: {a: {output: 20 A, absorption: 56.8 V, float: 54 V, equalizes: no, compensation: none}}}
inverters: {main: {power: 3000 W}}
`
)
