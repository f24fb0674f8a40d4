package rig

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

const editText = `# The head.
campwright: 1   # the format
name: "Lark"
kind: van

# Panels, as bought.
modules:
  one: {power: 100 W, voc: 22 V}   # the first
  two:
    power: 200 W # label
    # measured twice
    voc: 24 V

controllers: {c: {output: 20 A}}
arrays:
  # the first array
  - name: front
    module: one
    controller: c
    tilt: 5 deg
  - {name: rear, module: two, controller: c}
charge line:
- fuse: 60 A
- plug: 175 A   # grey one
appliances:
  - name: A/C
    power: 900 W at 60 %  # nameplate
  - name: pump
    power: {rate: 7 A, duty: 5 %}
note: |
  Two lines
  of text.
stores: {propane: 2 x 30 lb, grey: 40 gal,
  black: 30 gal}
aims:
  must never lose: [pump]
# The end.
`

// Each edit against the change it makes in the lines, written by hand. Lines that are not named must stay as they are.
func TestApply(t *testing.T) {
	cases := []struct {
		name     string
		edits    []Edit
		from, to string // what is replaced by what in the whole text
	}{
		{"value in block", []Edit{{"modules/two/voc", "24 V", "24.3 V"}}, "    voc: 24 V\n", "    voc: 24.3 V\n"},
		{"value in brackets", []Edit{{"modules/one/power", "100 W", "about 105 W"}}, "{power: 100 W,", "{power: about 105 W,"},
		{"old told in another unit of the same text", []Edit{{"stores/grey", "40 gallons", "151 L"}}, "grey: 40 gal", "grey: 151 L"},
		{"quoted text", []Edit{{"name", "Lark", "Lark: \"two\""}}, `name: "Lark"`, `name: "Lark: \"two\""`},
		{"word", []Edit{{"kind", "van", "fifth wheel"}}, "kind: van", "kind: fifth wheel"},
		{"text of several lines", []Edit{{"note", "Two lines\nof text.\n", "One line."}}, "note: |\n  Two lines\n  of text.\n", "note: One line.\n"},
		{"a duty in one text", []Edit{{"appliances/A/C/power/duty", "60 %", "about 50 %"}}, "900 W at 60 %", "900 W at about 50 %"},
		{"a duty taken away", []Edit{{"appliances/A/C/power/duty", "60 %", ""}}, "900 W at 60 %", "900 W"},
		{"a duty as a key", []Edit{{"appliances/pump/power/duty", "5 %", "6 %"}}, "duty: 5 %", "duty: 6 %"},
		{"cylinders in part", []Edit{{"stores/propane/count", "2", "3"}}, "2 x 30 lb", "3 x 30 lb"},
		{"a member by its number", []Edit{{"charge line/2/plug", "175 A", "120 A"}}, "plug: 175 A", "plug: 120 A"},
		{"a named member by its number", []Edit{{"arrays/1/tilt", "5 deg", "10 deg"}}, "tilt: 5 deg", "tilt: 10 deg"},
		{"a name in a list", []Edit{{"arrays/front/name", "front", "bow"}}, "- name: front", "- name: bow"},
		{"the name of a group", []Edit{{"modules/two/name", "two", "2: second"}}, "  two:\n", "  \"2: second\":\n"},
		{"a name inside brackets", []Edit{{"controllers/c/name", "c", "roof, right"}}, "{c: {output", "{\"roof, right\": {output"},
		{"a key added in block, in the order of the document", []Edit{{"modules/two/isc", "", "10 A"}}, "    voc: 24 V\n", "    voc: 24 V\n    isc: 10 A\n"},
		{"a key added in brackets", []Edit{{"modules/one/isc", "", "6 A"}}, "voc: 22 V}", "voc: 22 V, isc: 6 A}"},
		{"a key added to a list member", []Edit{{"arrays/front/in series", "", "2"}}, "    controller: c\n", "    controller: c\n    in series: 2\n"},
		{"a group added on one line", []Edit{{"roof/length", "", "5 m"}}, "kind: van\n", "kind: van\nroof: {length: 5 m}\n"},
		{"groups added inside one another", []Edit{{"arrays/front/run/gauge", "", "10 AWG"}}, "    tilt: 5 deg\n", "    tilt: 5 deg\n    run: {gauge: 10 AWG}\n"},
		{"a whole group added", []Edit{{"bank", "", "{chemistry: LFP, blocks: 2, block: {voltage: 12.8 V, capacity: 100 Ah}}"}},
			"  - {name: rear, module: two, controller: c}\n", "  - {name: rear, module: two, controller: c}\n\nbank: {chemistry: LFP, blocks: 2, block: {voltage: 12.8 V, capacity: 100 Ah}}\n"},
		{"a named member added", []Edit{{"modules/three", "", "power: 300 W\nvoc: 40 V"}}, "    voc: 24 V\n", "    voc: 24 V\n  three: {power: 300 W, voc: 40 V}\n"},
		{"a list member added by name", []Edit{{"arrays/side", "", "{module: one, controller: c}"}},
			"controller: c}\n", "controller: c}\n  - {name: side, module: one, controller: c}\n"},
		{"a list member added by number", []Edit{{"charge line/3", "", "{relay: {rated: 100 A}}"}}, "# grey one\n", "# grey one\n- relay: {rated: 100 A}\n"},
		{"a list begun", []Edit{{"trip/1", "", "{place: 33.5 N 114.2 W, nights: 3}"}}, "  black: 30 gal}\n", "  black: 30 gal}\n\ntrip:\n  - {place: 33.5 N 114.2 W, nights: 3}\n"},
		{"a name added to a list of names", []Edit{{"aims/must never lose/2", "", "A/C"}}, "[pump]", "[pump, A/C]"},
		{"a key removed", []Edit{{"arrays/front/tilt", "5 deg", ""}}, "    tilt: 5 deg\n", ""},
		{"a key removed with its own comment", []Edit{{"modules/two/power", "200 W", ""}}, "    power: 200 W # label\n", ""},
		{"a key removed from brackets", []Edit{{"modules/one/power", "100 W", ""}}, "{power: 100 W, voc", "{voc"},
		{"the last key removed from brackets", []Edit{{"modules/one/voc", "22 V", ""}}, "100 W, voc: 22 V}", "100 W}"},
		{"a key removed over a line end", []Edit{{"stores/black", "30 gal", ""}}, "40 gal,\n  black: 30 gal}", "40 gal}"},
		{"the first key behind a dash removed", []Edit{{"arrays/front/name", "front", ""}}, "- name: front\n    module", "- module"},
		{"the only key removed", []Edit{{"charge line/2/plug", "175 A", ""}}, "- plug: 175 A   # grey", "- {}   # grey"},
		{"a list member removed", []Edit{{"arrays/rear", "{name: rear, module: two, controller: c}", ""}}, "  - {name: rear, module: two, controller: c}\n", ""},
		{"a named member removed", []Edit{{"modules/two", "{power: 200 W, voc: 24 V}", ""}}, "  two:\n    power: 200 W # label\n    # measured twice\n    voc: 24 V\n", ""},
		{"the only member removed goes with its list", []Edit{{"controllers/c", "{output: 20 A}", ""}}, "controllers: {c: {output: 20 A}}\n", ""},
		{"a group replaced", []Edit{{"modules/two", "{voc: 24 V, power: 200 W}", "{power: 220 W}"}},
			"  two:\n    power: 200 W # label\n    # measured twice\n    voc: 24 V\n", "  two: {power: 220 W}\n"},
		{"a list member replaced", []Edit{{"charge line/1", "fuse: 60 A", "{fuse: 80 A, position maximum: 100 A}"}}, "- fuse: 60 A\n", "- {fuse: 80 A, position maximum: 100 A}\n"},
		{"several edits, one after the other", []Edit{{"modules/two/isc", "", "10 A"}, {"modules/two/isc", "10 A", "10.4 A"}, {"modules/two/voc", "24 V", ""}},
			"    voc: 24 V\n", "    isc: 10.4 A\n"},
	}
	for _, c := range cases {
		if strings.Count(editText, c.from) != 1 {
			t.Errorf("%s: the text to change stands there %d times", c.name, strings.Count(editText, c.from))
			continue
		}
		for _, ends := range []string{"\n", "\r\n"} {
			for _, mark := range []string{"", "\ufeff"} {
				source := mark + strings.ReplaceAll(editText, "\n", ends)
				want := mark + strings.ReplaceAll(strings.Replace(editText, c.from, c.to, 1), "\n", ends)
				edits := append([]Edit(nil), c.edits...)
				got, err := Apply([]byte(source), edits)
				if err != nil {
					t.Errorf("%s: %v", c.name, err)
					continue
				}
				if d := cmp.Diff(want, string(got)); d != "" {
					t.Errorf("%s: %s", c.name, d)
				}
			}
		}
	}
}

// Edits that must not be made, each with the words of its refusal.
func TestApplyRefuses(t *testing.T) {
	cases := []struct {
		edit  Edit
		words string
	}{
		{Edit{"modules/two/voc", "25 V", "26 V"}, `expected "25 V", found "24 V"`},
		{Edit{"modules/two/isc", "10 A", "11 A"}, "nothing stands there"},
		{Edit{"modules/two/voc", "", "26 V"}, "stands there already"},
		{Edit{"modules/two/voc", "", ""}, "neither"},
		{Edit{"modules/two/voc", "24 V", "24 A"}, "expected a voltage"},
		{Edit{"modules/two/voc", "24 V", "2400 V"}, "out of range"},
		{Edit{"modules/two/volts", "", "24 V"}, "no key"},
		{Edit{"modules/nine/voc", "", "24 V"}, ""},
		{Edit{"kind", "van", "boat"}, "not one of the words"},
		{Edit{"modules/two/name", "two", "one"}, "already used"},
		{Edit{"charge line/5", "", "{fuse: 60 A}"}, "no member number 5"},
		{Edit{"arrays/side", "", "{name: other, module: one, controller: c}"}, "the text names"},
		{Edit{"arrays/side", "", "{name: side, module: one}"}, "missing"},
		{Edit{"arrays/side", "", "{name: side, module: one"}, "not YAML"},
		{Edit{"modules/two/voc/rate", "", "24 V"}, "nothing lies below"},
		{Edit{"roof/length", "", "5 m\nwidth: 2 m"}, "unknown unit"},
		{Edit{"name", "Lark", "two\nlines"}, "more than one line"},
	}
	for _, c := range cases {
		got, err := Apply([]byte(editText), []Edit{{"people", "", "2"}, c.edit})
		if err == nil || got != nil || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%+v: got %d bytes and %v, want an error with %q", c.edit, len(got), err, c.words)
		}
	}
	if _, err := Apply([]byte("a: [1\n"), []Edit{{"people", "", "2"}}); err == nil {
		t.Error("a broken text was edited")
	}
}

// Read gives what Apply asks for, at every value of the demo rigs; an edit and its reverse leave the text as it was.
func TestReadAndReverse(t *testing.T) {
	edits, seen := 0, 0
	for _, path := range append(files(t, "../examples/*.yaml", 3), files(t, "testdata/v1-*.yaml", 2)...) {
		data := read(t, path)
		r := whole(t, string(data))
		Walk(&r, func(place string, v *Value) {
			old, err := Read(data, place)
			if v.At.Line == 0 && strings.HasSuffix(place, "/count") {
				return
			}
			if seen++; seen%4 != 0 {
				return // a quarter of the places is plenty, and each edit reads the file several times
			}
			if err != nil || old == "" {
				t.Errorf("%s: %s: %q, %v", path, place, old, err)
				return
			}
			fresh := "unknown"
			if old == "unknown" {
				return
			}
			e := Edit{place, old, fresh}
			changed, err := Apply(data, []Edit{e})
			if err != nil {
				t.Errorf("%s: %v", path, err)
				return
			}
			back, err := Apply(changed, []Edit{e.Reverse()})
			if err != nil {
				t.Errorf("%s: back: %v", path, err)
				return
			}
			if a, b := whole(t, string(back)), r; !cmp.Equal(a, b, bare) {
				t.Errorf("%s: %s: edit and reverse changed the rig: %s", path, place, cmp.Diff(b, a, bare))
			}
			if n := bytes.Count(changed, []byte("\n")); n != bytes.Count(data, []byte("\n")) {
				t.Errorf("%s: %s: the edit changed the number of lines", path, place)
			}
			edits++
		})
	}
	if edits < 100 {
		t.Fatalf("only %d edits tried", edits)
	}
}

// said compares rigs by what a file of them says: a list without members says nothing.
var said = cmp.Options{bare, cmpopts.EquateEmpty()}

// mutate changes a rig at random: values, texts, members removed, doubled under another name, added and swapped.
func mutate(t *rapid.T, r *Rig) {
	var places []reflect.Value
	var lists []reflect.Value
	w := walker{part: func(path string, v reflect.Value, s *shape) {
		for i := range s.fields {
			f := &s.fields[i]
			x := f.at(v)
			switch f.form {
			case formValue:
				places = append(places, x)
			case formList, formNamed:
				lists = append(lists, x)
			}
			if f.form == formGroup && x.Kind() == reflect.Pointer {
				places = append(places, x)
			}
		}
	}}
	w.group(reflect.ValueOf(r).Elem(), document, "")
	for range rapid.IntRange(1, 5).Draw(t, "changes") {
		if rapid.Bool().Draw(t, "value") {
			x := places[rapid.IntRange(0, len(places)-1).Draw(t, "place")]
			switch v := x.Addr().Interface().(type) {
			case *Value:
				if rapid.Bool().Draw(t, "clear") {
					*v = Value{}
				} else {
					*v = Value{State: 2}
				}
			default:
				x.SetZero()
			}
			continue
		}
		x := lists[rapid.IntRange(0, len(lists)-1).Draw(t, "list")]
		n := x.Len()
		if n == 0 {
			continue
		}
		i, j := rapid.IntRange(0, n-1).Draw(t, "i"), rapid.IntRange(0, n-1).Draw(t, "j")
		switch rapid.IntRange(0, 2).Draw(t, "how") {
		case 0:
			x.Set(reflect.AppendSlice(x.Slice3(0, i, i), x.Slice(i+1, n)))
		case 1:
			m := copyOf(x.Index(i))
			if name := m.FieldByName("Name"); name.IsValid() {
				name.SetString(name.String() + rapid.SampledFrom([]string{" again", "/2", ": b", " #3"}).Draw(t, "name"))
			}
			x.Set(reflect.Append(x, m))
		case 2:
			a := copyOf(x.Index(i))
			x.Index(i).Set(copyOf(x.Index(j)))
			x.Index(j).Set(a)
		}
	}
}

// The edits between two rigs, made in the file of the first, give the second; and no edits give the file unchanged.
func TestDiffApply(t *testing.T) {
	var sources [][]byte
	for _, path := range append(files(t, "../examples/*.yaml", 3), files(t, "testdata/v1-*.yaml", 2)...) {
		data := read(t, path)
		sources = append(sources, data, bytes.ReplaceAll(data, []byte("\n"), []byte("\r\n")))
		r := whole(t, string(data))
		if edits := Diff(r, r.Clone()); len(edits) != 0 {
			t.Errorf("%s differs from itself: %v", path, edits)
		}
		same, err := Apply(data, nil)
		if err != nil || !bytes.Equal(same, data) {
			t.Errorf("%s: no edits change the text: %v", path, err)
		}
	}
	made := 0
	rapid.Check(t, func(t *rapid.T) {
		source := rapid.SampledFrom(sources).Draw(t, "source")
		a, _ := Decode(bytes.NewReader(source))
		b := a.Clone()
		mutate(t, &b)
		if _, faults := Decode(bytes.NewReader(Encode(b))); hasShapeFaults(faults) {
			t.Skip("the changed rig is not one that a file can say")
		}
		edits := Diff(a, b)
		text, err := Apply(source, edits)
		if err != nil {
			t.Fatalf("%v\nedits: %+v", err, edits)
		}
		got, _ := Decode(bytes.NewReader(text))
		want, _ := Decode(bytes.NewReader(Encode(b)))
		if d := cmp.Diff(want, got, said); d != "" {
			t.Fatalf("%s\nedits: %+v", d, edits)
		}
		made += len(edits)
	})
	if made < 50 {
		t.Fatalf("only %d edits made", made)
	}
}

// hasShapeFaults tells whether a rig breaks more than references: names used twice, what is missing, empty links.
func hasShapeFaults(faults Faults) bool {
	for _, f := range faults {
		if !strings.HasPrefix(f.Problem, "no such name") && !strings.HasPrefix(f.Problem, "a link of") && !strings.HasPrefix(f.Problem, "a stop") && !strings.HasPrefix(f.Problem, "a position") {
			return true
		}
	}
	return false
}
