package rig

import (
	"bytes"
	"os"
	"regexp"
	"strings"
	"testing"

	"campwright/figure"
	"campwright/quantity"
)

// Every tag of document.go appears among the fields, each field has its sentence, its form and a path of its own.
func TestFields(t *testing.T) {
	source, err := os.ReadFile("document.go")
	if err != nil {
		t.Fatal(err)
	}
	keys := map[string]bool{}
	for _, m := range regexp.MustCompile("`rig:\"([^\"]*)\"").FindAllStringSubmatch(string(source), -1) {
		if m[1] != ",key" {
			keys[m[1]] = true
		}
	}
	seen := map[string]bool{}
	for _, f := range Fields() {
		if seen[f.Path] || f.Doc == "" || f.Form == "" || !strings.HasSuffix(f.Path, f.Key) {
			t.Errorf("field %+v", f)
		}
		seen[f.Path] = true
		delete(keys, f.Key)
		if f.Form == "value" && len(f.Kinds) == 0 {
			t.Errorf("%s measures nothing", f.Path)
		}
		if f.Form == "value" && len(f.Limits) != len(f.Kinds) {
			t.Errorf("%s: %d kinds and %d ranges", f.Path, len(f.Kinds), len(f.Limits))
		}
		again, ok := FieldOf(strings.ReplaceAll(f.Path, "*", "A/C"))
		if !ok || again.Doc != f.Doc || again.Form != f.Form {
			t.Errorf("%s is found as %+v", f.Path, again)
		}
	}
	if len(keys) > 0 || len(seen) < 220 {
		t.Errorf("%d fields; tags without one: %v", len(seen), keys)
	}
	for _, path := range []string{"", "a", "modules", "modules/*/colour", "modules/a", "bank/block/voltage/x", "trip/1"} {
		f, ok := FieldOf(path)
		if ok != (path == "modules") {
			t.Errorf("%q is found as %+v", path, f)
		}
	}
}

// Walk meets every value of a file once, in its order, and a change made there is a change of the rig.
func TestWalk(t *testing.T) {
	r := whole(t, string(read(t, "../examples/desert-trailer.yaml")))
	seen := map[string]bool{}
	Walk(&r, func(path string, v *Value) {
		if seen[path] || v.State == figure.Absent {
			t.Errorf("%s: %+v", path, v)
		}
		seen[path] = true
		if path == "arrays/front pair/run/length" {
			v.State = figure.Unknown
		}
	})
	for _, path := range []string{"people", "modules/late 220/size/width", "arrays/front pair/run/length", "appliances/refrigerator/electric/duty", "stores/propane/each", "charge line/5/dc-dc/output", "trip/2/drive"} {
		if !seen[path] {
			t.Errorf("%s was not met", path)
		}
	}
	if r.Arrays[0].Run.Length.State != figure.Unknown {
		t.Error("a change made while walking is lost")
	}
	all := 0
	WalkAll(&r, func(string, *Value) { all++ })
	if all <= len(seen) {
		t.Errorf("%d values in all, %d present", all, len(seen))
	}
}

// Validate finds in a rig put together by the program what Decode finds in a text, by path.
func TestValidate(t *testing.T) {
	r, faults := Decode(bytes.NewReader(read(t, "testdata/bad/references.yaml")))
	again := Validate(r)
	if len(again) != len(faults) || len(faults) < 8 {
		t.Fatalf("%d faults from the text, %d from the rig", len(faults), len(again))
	}
	paths := map[string]bool{}
	for _, f := range again {
		paths[f.Path+f.Problem] = true
	}
	for _, f := range faults {
		if !paths[f.Path+f.Problem] {
			t.Errorf("not found in the rig: %v", f)
		}
	}
	if faults := Validate(whole(t, dated)); faults != nil {
		t.Errorf("a sound rig has faults: %v", faults)
	}
	r = Rig{Version: Format + 1}
	if faults := Validate(r); len(faults) != 1 {
		t.Errorf("a later version: %v", faults)
	}
}

// Texts of values go both ways, and what cannot be meant is refused.
func TestValueText(t *testing.T) {
	for text, want := range map[string]string{
		"65 W": "65 W", "About 65 W": "about 65 W", "65 W, measured": "65 W measured", "about 65 W ± 10 W": "55 W to 75 W", "65 W +/- 10 %": "58.5 W to 71.5 W",
		"60 to 80 W": "60 W to 80 W", "about 65 W (60 W to 80 W)": "about 65 W (60 W to 80 W)", "UNKNOWN": "unknown", "none": "0 W", "about 60 W to 80 W": "60 W to 80 W",
	} {
		v, err := ParseValue(text, quantity.Power)
		if err != nil || v.Text() != want {
			t.Errorf("%q: %q, want %q, %v", text, v.Text(), want, err)
		}
		if again, err := ParseValue(v.Text(), quantity.Power); err != nil || again != v {
			t.Errorf("%q reads back as %+v, was %+v: %v", v.Text(), again, v, err)
		}
	}
	for text, words := range map[string]string{
		"": "empty", "65": "no unit", "65 A": "which is a current", "80 W to 60 W": "first end", "65 W +- 0 W": "above zero", "65 W +- 5 A": "expected a power",
		"about 65 W measured": "both", "60 W to 80 W measured": "one number", "65 W +- 5 W measured": "one number", "65 W (60 W to 80 W)": "not an estimate",
		"about 65 W (70 W to 80 W)": "outside", "tbd": "write unknown", "≈ 65 W": "write about", "about": "no number",
	} {
		v, err := ParseValue(text, quantity.Power)
		if err == nil || v != (Value{}) || !strings.Contains(err.Error(), words) {
			t.Errorf("%q: %+v, %v, want %q", text, v, err, words)
		}
	}
	if _, err := ParseValue("none", quantity.Temperature); err == nil {
		t.Error("no temperature was taken for a temperature of zero")
	}
}

func TestPlacesAndHorizons(t *testing.T) {
	for text, want := range map[string]string{
		"33.5 N 114.2 W": "33.5 N 114.2 W", "114.2 W 33.5 N": "33.5 N 114.2 W", "33.5, -114.2": "33.5 N 114.2 W", "-33.5 151.25": "33.5 S 151.25 E", "33.5°N, 114.2°W": "33.5 N 114.2 W",
		"Dry Fork (33.5 N 114.2 W)": "Dry Fork (33.5 N 114.2 W)", "Dry  Fork": "Dry Fork", "29 Palms way": "29 Palms way", "3 Springs": "3 Springs", "Loop (site 5)": "Loop (site 5)", "90 N 180 E": "90 N 180 E", "unknown": "unknown",
	} {
		p, bad := readPlace(text)
		if bad != nil || p.Text() != want {
			t.Errorf("%q: %q, want %q, %v", text, p.Text(), want, bad)
		}
	}
	for _, text := range []string{"", "33.5", "33.5 N", "33.5 N 33.5 N", "90.1 N 0 E", "0 N 180.1 W", "33,5 N 114,2 W", "X (95 N 10 E)"} {
		if p, bad := readPlace(text); bad == nil {
			t.Errorf("%q was read as %+v", text, p)
		}
	}
	points, err := ParseHorizon("N 5, E 20, 200 10.5, WNW 30 deg")
	if err != nil || len(points) != 4 || points[2] != (Bearing{200, 10.5}) || points[3] != (Bearing{292.5, 30}) {
		t.Errorf("%v, %v", points, err)
	}
	for _, text := range []string{"", "N", "N 5 E", "X 5", "N 90", "N -1", "N 5, 360 6", "361 5"} {
		if points, err := ParseHorizon(text); err == nil {
			t.Errorf("%q was read as %v", text, points)
		}
	}
}

func TestHours(t *testing.T) {
	words := []string{"always", "never"}
	for text, minutes := range map[string]int{"18:00-22:30": 270, "18:00 – 22:30, 06:00–07:00": 330, "23:00-02:00": 180, "00:00-24:00": 1440, "22:00-24:00": 120, "about 6:00 to 7:15": 75, "always": 0} {
		h, bad := readHours(text, words)
		if bad != nil || h.Minutes() != minutes {
			t.Errorf("%q: %d minutes, want %d, %v", text, h.Minutes(), minutes, bad)
		}
		again, bad := readHours(h.Text(), words)
		if bad != nil || again.Text() != h.Text() || again.Minutes() != minutes {
			t.Errorf("%q is written %q", text, h.Text())
		}
	}
	for _, text := range []string{"", "18-22", "18:00", "18:60-19:00", "24:01-25:00", "08:00-08:00", "18:00-22:00, 21:59-23:00", "23:00-02:00, 01:00-03:00", "allways", "6 pm-8 pm", "18:00-22:00,"} {
		if h, bad := readHours(text, words); bad == nil {
			t.Errorf("%q was read as %+v", text, h)
		}
	}
}
