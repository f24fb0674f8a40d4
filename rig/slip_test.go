package rig

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// slipSheet is a text with every layout that people write: keys below keys, lists, groups in brackets on one line and over several.
const slipSheet = `campwright: 1
name: Plover                       # ours
kind: van
note: bought used
  and rebuilt
modules:
  field 200:                       # the pair
    power: 200 W
    voc: 24.3 V
    isc: 10.4 A
    vmp: 20.4 V
    imp: 9.8 A
controllers:
  pantry: {survives: 100 V, output: 30 A}
arrays:
  - name: front
    module: field 200
    controller: pantry
    strings: 2
    run: {gauge: 10 AWG, length: 31 ft}
    fitted: 2020-04-18
bank:
  chemistry: LFP
  blocks: 2
  block: {
    voltage: 12.8 V,
    capacity: 100 Ah
  }
appliances:
  - name: fan
    runs on: dc
    power: about 30 W
  - name: "lamp #2"
    runs on: dc
    power: 8 W
aims:
  floor: 20 %
  must never lose: [fan, "lamp #2"]
`

// TestSlips: one slip of the pen is one fault, in its own line, told in words for it.
//
// The slips are those that people make in such files; common practice, no source.
func TestSlips(t *testing.T) {
	for _, c := range []struct {
		what, from, to string
		line           int
		problem        string
	}{
		{"nothing", "", "", 0, ""},
		{"a brace not closed", "length: 31 ft}", "length: 31 ft", 20, "a bracket that is opened here is not closed"},
		{"a brace not closed at the end of a part", "output: 30 A}", "output: 30 A", 14, "a bracket that is opened here is not closed"},
		{"a brace over lines not closed", "    capacity: 100 Ah\n  }", "    capacity: 100 Ah", 25, "a bracket that is opened here is not closed"},
		{"a bracket not closed at the end", "[fan, \"lamp #2\"]", "[fan, \"lamp #2\"", 38, "a bracket that is opened here is not closed"},
		{"a brace not opened", "run: {gauge", "run: gauge", 20, "a bracket that is closed here was never opened"},
		{"one brace too many", "31 ft}", "31 ft}}", 20, "something stands behind the closing bracket"},
		{"a brace closed as a bracket", "31 ft}", "31 ft]", 20, "a bracket { is closed with ]"},
		{"a comma missing", "10 AWG, length", "10 AWG length", 20, "“length” begins in the middle of a value"},
		{"a quote not closed", `name: Plover  `, `name: "Plover `, 2, "a quote that is opened here is not closed"},
		{"a quote not closed in a list", `- name: fan`, `- name: "fan`, 30, "a quote that is opened here is not closed"},
		{"a single quote not closed", "chemistry: LFP", "chemistry: 'LFP", 23, "a quote that is opened here is not closed"},
		{"text behind a quote", `- name: "lamp #2"`, `- name: "lamp #2" yellow`, 33, "text behind the closing quote"},
		{"no colon", "isc: 10.4 A", "isc 10.4 A", 10, "a colon is missing"},
		{"no colon behind a name", "field 200:     ", "field 200", 7, "a colon is missing"},
		{"no colon behind a part", "controllers:\n", "controllers\n", 13, "a colon is missing"},
		{"no colon before a brace", "run: {", "run {", 20, "a colon is missing"},
		{"no blank after the colon", "isc: 10.4 A", "isc:10.4 A", 10, "no blank after the colon"},
		{"two keys in a line", "blocks: 2\n", "blocks: 2 in series: 2\n", 24, "“in series” begins in the middle of a value"},
		{"too deep", "    isc: 10.4 A", "     isc: 10.4 A", 10, "indented deeper than the line above, which has its value already"},
		{"the first of a part too deep", "    power: 200 W", "     power: 200 W", 8, "indented unlike the lines that it stands with"},
		{"much too deep", "    isc: 10.4 A", "          isc: 10.4 A", 10, "indented deeper than the line above, which has its value already"},
		{"not deep enough", "    isc: 10.4 A", "   isc: 10.4 A", 10, "indented unlike the lines that it stands with"},
		{"a member too deep", "  - name: \"lamp", "   - name: \"lamp", 33, "indented unlike the lines that it stands with"},
		{"a part that is indented", "\nbank:\n", "\n bank:\n", 22, "indented unlike the lines that it stands with"},
		{"a tab", "    isc: 10.4 A", "\tisc: 10.4 A", 10, "tab in the indentation"},
		{"a tab among blanks", "    isc: 10.4 A", "  \tisc: 10.4 A", 10, "tab in the indentation"},
		{"a key twice", "voc: 24.3 V\n", "voc: 24.3 V\n    voc: 24.3 V\n", 10, "this key is already written on line 9"},
		{"a wrong value beside a slip is told too", "isc: 10.4 A\n    vmp: 20.4 V", "isc: 10.4 A\n    vmp 20.4 V", 11, "a colon is missing"},
	} {
		t.Run(c.what, func(t *testing.T) {
			if c.line > 0 && strings.Count(slipSheet, c.from) != 1 {
				t.Fatalf("%q stands %d times in the text", c.from, strings.Count(slipSheet, c.from))
			}
			_, faults := Decode(strings.NewReader(strings.Replace(slipSheet, c.from, c.to, 1)))
			if c.line == 0 {
				if len(faults) > 0 {
					t.Error(faults)
				}
				return
			}
			if len(faults) != 1 || faults[0].Line != c.line || faults[0].Problem != c.problem {
				t.Errorf("wanted line %d: %s; got %d:\n%v", c.line, c.problem, len(faults), faults)
			}
		})
	}
}

// TestTwoSlips: two slips are told as two faults, and a wrong value beside them as a third.
func TestTwoSlips(t *testing.T) {
	text := strings.NewReplacer("31 ft}", "31 ft", "isc: 10.4 A", "isc 10.4 A", "strings: 2", "strings: many").Replace(slipSheet)
	_, faults := Decode(strings.NewReader(text))
	if len(faults) != 3 || faults[0].Line != 10 || faults[1].Line != 19 || faults[2].Line != 20 {
		t.Errorf("wanted one fault each in lines 10, 19 and 20:\n%v", faults)
	}
}

// TestSlipsInExamples makes a slip in many lines of the example rigs in turn: each is told, close to its line, and with little else.
func TestSlipsInExamples(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "examples", "*.yaml"))
	if err != nil || len(files) == 0 {
		t.Fatal("no examples", err)
	}
	for what, slip := range map[string]func(string) string{
		"brace":   func(l string) string { return cutLast(l, "}") },
		"bracket": func(l string) string { return cutLast(l, "]") },
		"colon":   func(l string) string { return strings.Replace(l, ": ", " ", 1) },
		"blank":   func(l string) string { return strings.Replace(l, ": ", ":", 1) },
		"quote":   func(l string) string { return strings.Replace(l, ": ", `: "`, 1) },
		"deeper":  func(l string) string { return " " + l },
		"tab":     func(l string) string { return strings.Repeat("\t", indentOf(l)/2) + l[indentOf(l):] },
	} {
		t.Run(what, func(t *testing.T) {
			made, one, step := 0, 0, 7
			if what == "brace" || what == "bracket" {
				step = 1
			}
			for _, file := range files {
				text, err := os.ReadFile(file)
				if err != nil {
					t.Fatal(err)
				}
				lines := strings.Split(string(text), "\n")
				for i := 0; i < len(lines); i += step {
					l := lines[i]
					body := withoutComment(l)
					if strings.TrimSpace(body) == "" || strings.HasPrefix(l, "campwright:") || what == "quote" && (strings.ContainsAny(body, `"{['`) || strings.HasSuffix(strings.TrimSpace(body), ":")) || (what == "colon" || what == "blank") && strings.Contains(body, "{") {
						continue
					}
					with := append([]string(nil), lines...)
					if with[i] = slip(l); with[i] == l {
						continue
					}
					_, faults := Decode(strings.NewReader(strings.Join(with, "\n")))
					if len(faults) == 0 {
						continue // it can be read as it stands
					}
					made++
					if len(faults) == 1 && faults[0].Line >= i && faults[0].Line <= i+2 {
						one++
					} else if testing.Verbose() {
						t.Logf("%s:%d: %s: %d faults, the first %v", filepath.Base(file), i+1, strings.TrimSpace(with[i]), len(faults), faults[0])
					}
				}
			}
			if made < 3 || float64(one) < 0.98*float64(made) {
				t.Errorf("of %d slips %d are told as one fault in their line", made, one)
			}
			t.Logf("of %d slips %d are told as one fault in their line", made, one)
		})
	}
}

// cutLast takes the last of a sign out of a line, before its comment.
func cutLast(l, sign string) string {
	at := strings.LastIndex(withoutComment(l), sign)
	if at < 0 {
		return l
	}
	return l[:at] + l[at+len(sign):]
}
