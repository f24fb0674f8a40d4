package cli

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"campwright/quantity"
	"campwright/rig"

	"github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"
)

// compiled returns the schema as a general validator of JSON Schema 2020-12 reads it, which also holds it against the draft's own schema.
func compiled(t testing.TB) *jsonschema.Schema {
	t.Helper()
	var text bytes.Buffer
	if err := writeSchema(&text); err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(&text)
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("rig.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("rig.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// instance turns YAML into what a JSON validator takes.
func instance(t testing.TB, text []byte) (any, error) {
	t.Helper()
	plain, err := yaml.YAMLToJSON(text)
	if err != nil {
		return nil, err
	}
	return jsonschema.UnmarshalJSON(bytes.NewReader(plain))
}

// Every good file is good to an independent validator too.
func TestSchema_GoodFiles(t *testing.T) {
	s := compiled(t)
	seen := 0
	for _, pattern := range []string{"../examples/*.yaml", "../rig/testdata/*.yaml"} {
		paths, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range paths {
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if _, faults := rig.Decode(bytes.NewReader(text)); faults.Err() != nil {
				t.Fatalf("%s is no good file: %v", path, faults)
			}
			seen++
			x, err := instance(t, text)
			if err != nil {
				t.Errorf("%s: %v", path, err)
				continue
			}
			if err := s.Validate(x); err != nil {
				t.Errorf("%s: %v", path, err)
			}
		}
	}
	if seen < 5 {
		t.Fatalf("looked at %d files", seen)
	}
}

// Every bad file is refused, but for what a schema cannot see: where a name leads, and what is no YAML.
func TestSchema_BadFiles(t *testing.T) {
	s := compiled(t)
	paths, err := filepath.Glob("../rig/testdata/bad/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	refused := 0
	for _, path := range paths {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		x, err := instance(t, text)
		if err != nil { // it never reaches a schema
			continue
		}
		if base := filepath.Base(path); base == "references.yaml" || base == "refused.yaml" {
			continue
		}
		if s.Validate(x) == nil {
			t.Errorf("%s passes", path)
		}
		refused++
	}
	if refused < 4 {
		t.Fatalf("refused %d files", refused)
	}
}

// One fault at a time is refused, and the same place put right is taken.
func TestSchema_OneFault(t *testing.T) {
	s := compiled(t)
	check := func(text string, good bool) {
		t.Helper()
		x, err := instance(t, []byte("campwright: 1\nname: one\nkind: van\n"+text+"\n"))
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		if err := s.Validate(x); (err == nil) != good {
			t.Errorf("%s: taken %v, want %v (%v)", text, err == nil, good, err)
		}
	}
	for _, c := range [][2]string{
		{"colour: white", "note: white"},
		{"people: 2 A", "people: 2"},
		{"people: 2.5", "people: about 2"},
		{"people: 21", "people: 20"},
		{"roof: {length: 288}", "roof: {length: 288 in}"},
		{"roof: {length: 5 A}", "roof: {length: about 5 feet +- 1 foot}"},
		{"roof: large", "roof: {}"},
		{"modules: {m: {voc: 24.3 A}}", "modules: {m: {voc: 24.3 V measured}}"},
		{"modules: {m: {voc: 24.3 A to 25 A}}", "modules: {m: {voc: 24.3 to 25 V}}"},
		{"modules: {m: {volts: 24.3 V}}", "modules: {m: {voc per C: \"\\u22120.29 %/\\u00b0C\"}}"},
		{"modules: {m: {weight: n/a}}", "modules: {m: {weight: unknown}}"},
		{"modules: {m: {weight: 20}}", "modules: {m: {weight: 20 pounds}}"},
		{"modules: {m: {size: 58.7 in}}", "modules: {m: {size: 58.7 x 26.8 in}}"},
		{"modules: {m: {cells: 36.5}}", "modules: {m: {cells: 36}}"},
		{"modules: [{power: 100 W}]", "modules: {m: {power: 100 W}}"},
		{"arrays: [{name: a, module: m}]", "arrays: [{name: a, module: m, controller: c}]"},
		{"arrays: {a: {module: m, controller: c}}", "arrays: [{name: 7, module: m, controller: c}]"},
		{"arrays: [{name: a, module: m, controller: c, run: {gauge: 6}}]", "arrays: [{name: a, module: m, controller: c, run: {gauge: AWG 6}}]"},
		{"arrays: [{name: a, module: m, controller: c, run: {gauge: 6 A}}]", "arrays: [{name: a, module: m, controller: c, run: {gauge: 4/0}}]"},
		{"arrays: [{name: a, module: m, controller: c, fitted: 3/4/2027}]", "arrays: [{name: a, module: m, controller: c, fitted: about 2027-04-03}]"},
		{"bank: {chemistry: lithium, block: {}}", "bank: {chemistry: LFP, block: {}}"},
		{"bank: {chemistry: LFP}", "bank: {chemistry: LFP, block: {capacity: 1.2 kWh}}"},
		{"bank: {chemistry: LFP, block: {capacity: 100 A}}", "bank: {chemistry: LFP, block: {capacity: 100 amp-hours}}"},
		{"inverters: {i: {on: 6-22}}", "inverters: {i: {on: 06:00-22:00}}"},
		{"inverters: {i: {on: night}}", "inverters: {i: {on: when used}}"},
		{"appliances: [{name: a, power: 20 ft at 60 %}]", "appliances: [{name: a, power: 20 W at 60 %}]"},
		{"appliances: [{name: a, power: {rate: 20 W, duti: 50 %}}]", "appliances: [{name: a, power: {rate: 20 W, duty: 50 %}}]"},
		{"appliances: [{name: a, power: {duty: 50 %}}]", "appliances: [{name: a, power: 1.4 A at unknown}]"},
		{"appliances: [{name: a, keeps: none}]", "appliances: [{name: a, keeps: 64 F}]"},
		{"appliances: [{name: a, per day: 20}]", "appliances: [{name: a, per day: 1 h 30 min}]"},
		{"stores: {fresh water: 50 lb}", "stores: {fresh water: 50 gallons}"},
		{"stores: {propane: unknown things}", "stores: {propane: 2 x 30 lb}"},
		{"trip: [{fills: \"all, gray\"}]", "trip: [{fills: \"propane, grey\"}]"},
		{"trip: [{record low: 14}]", "trip: [{record low: -14 C}]"},
		{"aims: {must never lose: lamp}", "aims: {must never lose: [lamp]}"},
		{"aims: {dark nights: seldom}", "aims: {dark nights: at most 1 in 100}"},
		{"accepted: [{rule: M10}]", "accepted: [{rule: M10, reason: mine}]"},
	} {
		check(c[0], false)
		check(c[1], true)
	}
	for _, text := range []string{"campwright: 2\nname: one\nkind: van", "name: one\nkind: van", "campwright: 1\nname: one\nkind: hovercraft", "campwright: 1\nname: \"\"\nkind: van", "[]"} {
		x, err := instance(t, []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		if s.Validate(x) == nil {
			t.Errorf("passes: %s", text)
		}
	}
}

// spellings are ways to write a value that the program reads.
var spellings = []string{"5 feet", "5'6\"", "5 ft 6 in", "1 h 30 min", "12 amps", "12 VDC", "1,400 BTU/hr", "4/0", "#6", "6 gauge", "2 AWG", "$120", "-$5", "20 \u00b0C", "3 per day",
	"\u22125 C", "1e3 W", "2.5 kWh", "100 amp-hours", "0.5 gallons per hour", "15 %", "1/2 in", "2 1/2 in", ".5 A", "7 mph", "90 W/K", "50 BTU/h/\u00b0F", "3 milliohms", "3 m\u03a9", "3", "36.5"}

// The schema never refuses a text that the program reads, and refuses each unit of another kind.
func TestSchema_AgainstTheReader(t *testing.T) {
	s := compiled(t)
	taken, refused := 0, 0
	for _, f := range rig.Fields() {
		if f.Form != "value" || strings.Contains(f.Path, "*") || strings.Count(f.Path, "/") != 1 {
			continue
		}
		kinds := kindsOf(f)
		group, key, _ := strings.Cut(f.Path, "/")
		texts := append([]string(nil), spellings...)
		primary := map[string]bool{}
		for _, k := range quantity.Kinds() {
			for _, u := range quantity.Units(k) {
				texts = append(texts, "5 "+u)
				primary["5 "+u] = true
			}
		}
		for _, one := range texts {
			for _, text := range []string{one, "about " + one, one + " measured", "about " + one + " +- " + one, "about " + one + " (" + one + " to 6" + strings.TrimPrefix(one, "5") + ")"} {
				_, err := rig.ParseValue(text, kinds...)
				doc := map[string]any{"campwright": 1, "name": "one", "kind": "van", group: map[string]any{key: text}}
				if group == "bank" {
					doc[group] = map[string]any{"chemistry": "LFP", "block": map[string]any{}, key: text}
				}
				passes := s.Validate(doc) == nil
				if err == nil && !passes {
					t.Errorf("%s: %q is read and refused by the schema", f.Path, text)
				}
				if err == nil {
					taken++
				}
				if _, plain := quantity.Parse(one, kinds...); plain != nil && primary[one] && text != one+" measured" {
					refused++
					if passes && one != "5 $" {
						t.Errorf("%s: %q passes", f.Path, text)
					}
				}
			}
		}
	}
	if taken < 300 || refused < 3000 {
		t.Fatalf("took %d texts and refused %d", taken, refused)
	}
}
