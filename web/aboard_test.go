package web

import (
	"bytes"
	"strings"
	"testing"

	"campwright/rig"
	"campwright/system"
)

func completed(t *testing.T, text []byte) *rig.Rig {
	t.Helper()
	said, faults := rig.Decode(bytes.NewReader(text))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	full, _ := system.Complete(said)
	return &full
}

// TestAboard_Sentence: ratings of the demo files added up by hand, 2 × 200 + 3 × 220 W and 3 × 100 Ah × 12.8 V; by 1 lb = 0.45359237 kg and
// 1 US gal = 3.785411784 L.
func TestAboard_Sentence(t *testing.T) {
	got := aboard(completed(t, readExample(t, "desert-trailer.yaml")))
	want := Both{
		US:     "1,060 W of solar on 2 controllers, 300 Ah (3.84 kWh) of LFP, 2,000 W of inverter, charging from sun, engine, shore and generator, 60 lb of propane and 50 gal of water.",
		Metric: "1,060 W of solar on 2 controllers, 300 Ah (3.84 kWh) of LFP, 2,000 W of inverter, charging from sun, engine, shore and generator, 27.2 kg of propane and 189 L of water.",
	}
	if got != want {
		t.Errorf("%+v", got)
	}
}

// TestAboard_HalfKnown: what is an estimate or missing makes the whole an estimate; what is not there is not told.
func TestAboard_HalfKnown(t *testing.T) {
	const head = "campwright: 1\nname: n\nkind: van\n"
	for _, c := range []struct{ text, want string }{
		{head, "Nothing is known yet of what this van carries."},
		{head + "bank: {chemistry: AGM, blocks: 2, in series: 2, block: {voltage: 6 V, capacity: about 200 Ah}}\n", "About 400 Ah (4.8 kWh) of AGM."},
		{head + "bank: {chemistry: flooded, block: {voltage: 12 V, capacity: unknown}}\n", "Flooded lead-acid bank of unknown size."},
		{head + "bank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 1280 Wh}}\ninverters: {a: {power: 1000 W}, b: {power: 500 W}}\n", "100 Ah (1.28 kWh) of LFP, 2 inverters, 1,500 W."},
		{head + "stores: {fresh water: 20 gal}\n", "20 gal of water."},
	} {
		if got := aboard(completed(t, []byte(c.text))); got.US != c.want {
			t.Errorf("%q, want %q", got.US, c.want)
		}
	}
}

func TestAboard_Totals(t *testing.T) {
	v := decoded[RigView](t, get(newTestServer(t, exampleRig(t)), "/api/rig"))
	got := map[string]string{}
	for _, s := range v.Sections {
		if s.Total.US != "" {
			got[s.Path] = s.Total.US
		}
	}
	// By hand from the file: controllers of 50 and 50 A or as written, 28 + 2 + 35 nights.
	for path, want := range map[string]string{"arrays": "1,060 W", "bank": "3.84 kWh", "inverters": "2,000 W", "charge line": "30 A", "shore": "60 A", "generators": "1,800 W", "trip": "65 nights"} {
		if got[path] != want {
			t.Errorf("%s: %q, want %q", path, got[path], want)
		}
	}
	if v.Sentence.US == "" || v.Sentence.US == v.Sentence.Metric {
		t.Errorf("%+v", v.Sentence)
	}
	if len(v.Alike) == 0 || v.Alike[0].N <= mostRepeated {
		t.Errorf("told once: %+v", v.Alike)
	}
	for _, s := range v.Sections {
		eachRow(s.Parts, func(r *Row) {
			for _, a := range v.Alike {
				if r.State == "about" && r.Why == a.Why {
					t.Errorf("%s: told twice: %s", r.Path, r.Why)
				}
			}
		})
	}
}

// TestAboard_OneThingInALink: a link of the charge line offers what belongs to the one thing that it is, and no second one, which the
// document would refuse.
func TestAboard_OneThingInALink(t *testing.T) {
	v := decoded[RigView](t, get(newTestServer(t, exampleRig(t)), "/api/rig"))
	links := 0
	for _, s := range v.Sections {
		if s.Path != "charge line" {
			continue
		}
		for _, p := range s.Parts {
			links++
			for _, key := range p.Unsaid {
				text := "campwright: 1\nname: x\nkind: van\nvehicle: {}\ncharge line:\n  - {}\n"
				edits := []rig.Edit{}
				for _, row := range p.Rows {
					if row.Raw != "" {
						edits = append(edits, rig.Edit{Path: "charge line/1" + strings.TrimPrefix(row.Path, p.Path), New: row.Raw})
					}
				}
				edits = append(edits, rig.Edit{Path: "charge line/1/" + key, New: "unknown"})
				after, err := rig.Apply([]byte(text), edits)
				if err != nil {
					continue // a word or a day, which cannot be unknown
				}
				_, faults := rig.Decode(bytes.NewReader(after))
				for _, f := range faults {
					if strings.Contains(f.Problem, "parts") {
						t.Errorf("%s offers %s: %v", p.Name, key, f)
					}
				}
			}
		}
	}
	if links != 5 {
		t.Errorf("%d links were looked at", links)
	}
}
