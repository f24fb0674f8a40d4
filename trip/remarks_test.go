package trip

import (
	"strings"
	"testing"
)

// TestRemarks_WithoutModules: snow on modules and smoke before the sun are told to a rig that has modules, and to no other.
func TestRemarks_WithoutModules(t *testing.T) {
	const head = "campwright: 1\nname: x\nkind: van\nbank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 100 Ah}}\nappliances: [{name: lamp, power: 5 W}]\n"
	const roof = "modules: {m: {power: 200 W, voc: 24.3 V, isc: 10.4 A, vmp: 20.4 V, imp: 9.8 A}}\ncontrollers: {c: {survives: 100 V, output: 30 A}}\narrays: [{name: roof, module: m, controller: c}]\n"
	for what, trip := range map[string]string{
		"snow": "trip: [{place: 47 N 100 W, from: 2027-01-05, nights: 2}]\n", "wildfires": "trip: [{place: 40 N 118 W, from: 2027-07-20, nights: 2}]\n",
	} {
		for modules, want := range map[string]bool{roof: true, "": false} {
			a := answered(t, head+modules+trip, 10)
			if got := strings.Contains(strings.Join(a.Remarks, "\n"), what); got != want {
				t.Errorf("%s told: %v, with modules: %v; %q", what, got, modules != "", a.Remarks)
			}
		}
	}
}
