package web

import (
	"net/http"
	"strings"
	"testing"
)

// TestNotKnownIsNoZero: a figure that cannot be worked out is shown as not known, and not as the zero that stands for it.
func TestNotKnownIsNoZero(t *testing.T) {
	path := rigFile(t, "campwright: 1\nname: x\nkind: van\nmodules:\n  m: {isc: unknown, imp: unknown}\nbank: {chemistry: LFP, block: {capacity: unknown}}\n")
	v := decoded[RigView](t, get(newTestServer(t, path), "/api/rig"))
	looked := 0
	for _, s := range v.Sections {
		eachRow(s.Parts, func(r *Row) {
			if r.Path == "modules/m/isc" || r.Path == "modules/m/imp" || r.Path == "bank/block/capacity" {
				looked++
				if r.Text.US != "not known" || r.Text.Metric != "not known" || r.State != "unknown" {
					t.Errorf("%s: %+v", r.Path, r)
				}
			}
		})
	}
	if looked != 3 {
		t.Errorf("%d of 3 values were looked at", looked)
	}
}

// TestChargeLineAsksForTheVehicle: a charge line without a vehicle asks for its alternator, until one is told of.
func TestChargeLineAsksForTheVehicle(t *testing.T) {
	path := rigFile(t, "campwright: 1\nname: x\nkind: van\nbank: {chemistry: LFP, block: {capacity: 100 Ah}}\n")
	s := newTestServer(t, path)
	if v := decoded[RigView](t, get(s, "/api/rig")); len(v.Asks) > 0 {
		t.Errorf("it is asked for %v", v.Asks)
	}
	v := decoded[RigView](t, post(t, s, "/api/part", PartAsk{Revision: revisionOf(t, s), Do: "add", Path: "charge line", Kind: "30 A dc-dc"}))
	if len(v.Asks) != 1 || v.Asks[0].List != "vehicle/alternators" || v.Asks[0].At != "charge line" {
		t.Fatalf("it is asked for %v", v.Asks)
	}
	w := post(t, s, "/api/part", PartAsk{Revision: revisionOf(t, s), Do: "add", Path: v.Asks[0].List, Values: map[string]string{"rated": "160 A"}})
	if w.Code != http.StatusOK {
		t.Fatalf("%d: %s", w.Code, w.Body)
	}
	if v := decoded[RigView](t, w); len(v.Asks) > 0 || !strings.Contains(fileText(t, path), "rated: 160 A") {
		t.Errorf("it is still asked for %v in\n%s", v.Asks, fileText(t, path))
	}
}
