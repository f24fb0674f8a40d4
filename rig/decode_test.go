package rig

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"campwright/figure"
	"campwright/internal/near"
	"campwright/quantity"
)

// files returns the documents that match, and fails when there are fewer than expected.
func files(t testing.TB, pattern string, least int) []string {
	t.Helper()
	paths, err := filepath.Glob(pattern)
	if err != nil || len(paths) < least {
		t.Fatalf("%s: found %d files, want %d: %v", pattern, len(paths), least, err)
	}
	return paths
}

func read(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// whole decodes a text that must have no faults.
func whole(t testing.TB, text string) Rig {
	t.Helper()
	r, faults := Decode(strings.NewReader(text))
	if faults != nil {
		t.Fatalf("faults:\n%v", faults)
	}
	return r
}

// The demo rigs and the kept files of each version decode without a fault.
func TestDecodeGoodFiles(t *testing.T) {
	for _, path := range append(files(t, "../examples/*.yaml", 3), files(t, "testdata/v1-*.yaml", 2)...) {
		r, faults := Decode(bytes.NewReader(read(t, path)))
		if faults != nil {
			t.Errorf("%s:\n%v", path, faults)
		}
		states := map[figure.State]int{}
		Walk(&r, func(path string, v *Value) {
			states[v.State]++
			if v.At.Line == 0 && !strings.HasSuffix(path, "/count") || v.At.Path != path {
				t.Errorf("%s: value %s stands at %+v", path, v.Text(), v.At)
			}
		})
		for s, name := range map[figure.State]string{figure.Plain: "plain", figure.About: "about", figure.Measured: "measured", figure.Unknown: "unknown"} {
			if states[s] == 0 {
				t.Errorf("%s has no %s value", path, name)
			}
		}
	}
}

// Module data of the demo rigs agree with themselves: power is voltage times current at the point of greatest power.
func TestExampleModules(t *testing.T) {
	seen := 0
	for _, path := range files(t, "../examples/*.yaml", 3) {
		r, _ := Decode(bytes.NewReader(read(t, path)))
		for _, m := range r.Modules {
			near.Rel(t, path+" "+m.Name, m.Vmp.Quantity.Base*m.Imp.Quantity.Base, m.Power.Quantity.Base, 0.01, "labels round to two or three digits")
			for _, v := range []Value{m.VocPerC, m.IscPerC, m.PowerPerC} {
				if !v.Given() {
					t.Errorf("%s: %s lacks a coefficient", path, m.Name)
				}
			}
			if !(m.Voc.Quantity.Base > m.Vmp.Quantity.Base && m.Isc.Quantity.Base > m.Imp.Quantity.Base) {
				t.Errorf("%s: %s has its point of greatest power beyond its ends", path, m.Name)
			}
			seen++
		}
	}
	if seen < 4 {
		t.Fatalf("only %d modules seen", seen)
	}
}

var faultMark = regexp.MustCompile(`# fault: ([^#]*[^# ])`)

// Every bad file names, on the line of each fault, what its message must say. No fault may be missing and none may be added.
func TestDecodeBadFiles(t *testing.T) {
	total := 0
	for _, path := range files(t, "testdata/bad/*.yaml", 9) {
		data := read(t, path)
		_, faults := Decode(bytes.NewReader(data))
		byLine := map[int][]string{}
		for i, f := range faults {
			byLine[f.Line] = append(byLine[f.Line], f.Error())
			if i > 0 && (faults[i-1].Line > f.Line || faults[i-1].Line == f.Line && faults[i-1].Column > f.Column) {
				t.Errorf("%s: fault %d is out of order", path, i)
			}
			if f.Line > 0 && f.Column < 1 || f.Problem == "" {
				t.Errorf("%s: incomplete fault %+v", path, f)
			}
		}
		for i, line := range strings.Split(string(data), "\n") {
			marks := faultMark.FindAllStringSubmatch(line, -1)
			got := byLine[i+1]
			if len(marks) != len(got) {
				t.Errorf("%s:%d: %d faults, want %d: %q", path, i+1, len(got), len(marks), got)
			}
			for _, m := range marks {
				want := strings.TrimSpace(m[1])
				found := false
				for _, g := range got {
					found = found || strings.Contains(g, want)
				}
				if !found {
					t.Errorf("%s:%d: no fault says %q, got %q", path, i+1, want, got)
				}
				total++
			}
		}
	}
	if total < 80 {
		t.Fatalf("only %d faults were looked for", total)
	}
}

// The column of a fault is counted in characters and points to the very part of the text it is about.
func TestFaultPlaces(t *testing.T) {
	text := "campwright: 1\nname: \"Fjällsjö\" # é\nkind: van\n# ° µ\nroof: {length: 5 A, width: 2 m}\nappliances:\n  - {name: é, power: '20 W at 60 Ω', on: 18:00-22:00, count: 2.5}\n"
	_, faults := Decode(strings.NewReader(text))
	want := []struct {
		line, column int
		path, value  string
	}{{5, 16, "roof/length", "5 A"}, {7, 31, "appliances/é/power", "60 Ω"}, {7, 62, "appliances/é/count", "2.5"}}
	if len(faults) != len(want) {
		t.Fatalf("faults:\n%v", faults)
	}
	for i, w := range want {
		f := faults[i]
		if f.Line != w.line || f.Column != w.column || f.Path != w.path || f.Value != w.value {
			t.Errorf("fault %d: %+v, want %+v", i, f, w)
		}
	}
}

// What is refused before parsing, each with a file just inside and just outside the limit.
func TestDecodeLimits(t *testing.T) {
	head := "campwright: 1\nname: a\nkind: van\n"
	deep := func(n int) string { return head + "note: " + strings.Repeat("[", n) + strings.Repeat("]", n) + "\n" }
	indented := func(n int) string {
		var b strings.Builder
		for i := range n {
			b.WriteString(strings.Repeat(" ", i) + "a:\n")
		}
		return b.String()
	}
	comment := func(n int) string { return head + strings.Repeat("#", n-len(head)-1) + "\n" }
	cases := []struct{ name, text, refused string }{
		{"1 MB", comment(mostBytes), ""},
		{"over 1 MB", comment(mostBytes + 1), "too large"},
		{"20,000 lines", head + strings.Repeat("\n", mostLines-4), ""},
		{"over 20,000 lines", head + strings.Repeat("\n", mostLines-3), "20000 lines"},
		{"31 brackets", deep(mostLevels - 1), ""},
		{"32 brackets below a key", deep(mostLevels), "nested too deeply"},
		{"50,000 brackets", deep(50000), "nested too deeply"},
		{"32 levels of indentation", indented(mostLevels), ""},
		{"33 levels of indentation", indented(mostLevels + 1), "nested too deeply"},
		{"a hundred dashes", strings.Repeat("- ", 100) + "a\n", "nested too deeply"},
		{"a hundred tags", "a: " + strings.Repeat("!a ", 100) + "b\n", "nested too deeply"},
		{"not UTF-8", head + "note: \xff\n", "not UTF-8"},
		{"UTF-16", "\xff\xfec\x00a\x00", "UTF-16"},
		{"zero byte", head + "note: a\x00b\n", "control character U+0000"},
		{"empty", "", "empty"},
		{"only a comment", "# nothing\n", "empty"},
		{"a list", "- a\n", "a group of keys"},
		{"two documents", head + "---\n" + head, "second document"},
		{"one document with its mark", "---\n" + head, ""},
	}
	for _, c := range cases {
		_, faults := Decode(strings.NewReader(c.text))
		got := faults.Error()
		if len(got) > 300 {
			got = got[:300]
		}
		for _, word := range []string{"too large", "20000 lines", "nested too deeply", "UTF", "control character", "empty", "a group of keys", "second"} {
			if c.refused == "" && strings.Contains(got, word) && !strings.Contains(c.text, "note") {
				t.Errorf("%s: refused: %s", c.name, got)
			}
		}
		if c.refused != "" && !strings.Contains(got, c.refused) {
			t.Errorf("%s: got %q, want %q", c.name, got, c.refused)
		}
	}
}

// Values keep their state, their ends and their place.
func TestDecodeValues(t *testing.T) {
	r := whole(t, `campwright: 1
name: values
kind: van
modules:
  zeta: {voc: about 24 V, isc: 9 A to 11 A, vmp: about 20 V +- 1 V, imp: 9 A measured, fuse: unknown}
  alpha: {power: about 100 W +- 10 %, noct: about 45 C +- 9 F, voc per C: -65 mV/C, weight: 20 to 26 lb, size: 58.7 x 26.8 in}
appliances:
  - {name: fridge, power: about 45 W at 30 % to 40 %, on: "23:00-02:00", standby: none}
  - {name: pump, power: {rate: 7.2 A measured, duty: about 5 %}}
stores: {propane: 2 x 30 lb}
trip:
  - {place: "Dry Fork (33.5 N 114.2 W)", from: 2027-01-05, nights: 3}
  - {place: "-33.5, 151.25", drive: 1 h}
aims: {dark nights: at most 1 in 100, must never lose: [fridge]}
`)
	if r.Modules[0].Name != "zeta" || r.Modules[1].Name != "alpha" {
		t.Errorf("named groups lost their order: %s, %s", r.Modules[0].Name, r.Modules[1].Name)
	}
	z, a := r.Modules[0], r.Modules[1]
	cases := []struct {
		path           string
		v              Value
		state          figure.State
		base, low, top float64
		text           string
	}{
		{"modules/zeta/voc", z.Voc, figure.About, 24, 0, 0, "about 24 V"},
		{"modules/zeta/isc", z.Isc, figure.About, 10, 9, 11, "9 A to 11 A"},
		{"modules/zeta/vmp", z.Vmp, figure.About, 20, 19, 21, "19 V to 21 V"},
		{"modules/zeta/imp", z.Imp, figure.Measured, 9, 0, 0, "9 A measured"},
		{"modules/zeta/fuse", z.Fuse, figure.Unknown, 0, 0, 0, "unknown"},
		{"modules/alpha/power", a.Power, figure.About, 100, 90, 110, "90 W to 110 W"},
		{"modules/alpha/noct", a.NOCT, figure.About, 45, 40, 50, "40 C to 50 C"},
		{"modules/alpha/voc per C", a.VocPerC, figure.Plain, -0.065, 0, 0, "-65 mV/C"},
		{"modules/alpha/weight", a.Weight, figure.About, 23 * 0.45359237, 20 * 0.45359237, 26 * 0.45359237, "20 lb to 26 lb"},
		{"modules/alpha/size/length", a.Size.Length, figure.Plain, 58.7 * 0.0254, 0, 0, "58.7 in"},
		{"appliances/fridge/power/rate", r.Appliances[0].Power.Rate, figure.About, 45, 0, 0, "about 45 W"},
		{"appliances/fridge/power/duty", r.Appliances[0].Power.Duty, figure.About, 0.35, 0.3, 0.4, "30 % to 40 %"},
		{"appliances/fridge/standby", r.Appliances[0].Standby, figure.Plain, 0, 0, 0, "0 W"},
		{"appliances/pump/power/rate", r.Appliances[1].Power.Rate, figure.Measured, 7.2, 0, 0, "7.2 A measured"},
		{"stores/propane/count", r.Stores.Propane.Count, figure.Plain, 2, 0, 0, "2"},
		{"stores/propane/each", r.Stores.Propane.Each, figure.Plain, 30 * 0.45359237, 0, 0, "30 lb"},
		{"trip/1/nights", r.Trip[0].Nights, figure.Plain, 3, 0, 0, "3"},
	}
	for _, c := range cases {
		if c.v.State != c.state || c.v.At.Path != c.path || c.v.At.Line == 0 || c.v.Text() != c.text {
			t.Errorf("%s: %+v written %q, want state %d at a line, written %q", c.path, c.v, c.v.Text(), c.state, c.text)
		}
		near.Abs(t, c.path, c.v.Quantity.Base, c.base, 1e-12, "the same arithmetic up to rounding")
		near.Abs(t, c.path+" low", c.v.Low, c.low, 1e-12, "the same arithmetic up to rounding")
		near.Abs(t, c.path+" high", c.v.High, c.top, 1e-12, "the same arithmetic up to rounding")
	}
	if v := z.NOCT; v.State != figure.Absent || v.At.Line != 0 || v.At.Path != "modules/zeta/noct" || v.Given() || v.Known() {
		t.Errorf("a value left out is %+v", v)
	}
	if h := r.Appliances[0].On; h.Minutes() != 180 || h.At.Line != 8 {
		t.Errorf("hours past midnight: %+v, %d minutes", h, h.Minutes())
	}
	if p := r.Trip[0].Place; p.Name != "Dry Fork" || p.Latitude != 33.5 || p.Longitude != -114.2 || !p.HasSpot {
		t.Errorf("place with a name: %+v", p)
	}
	if p := r.Trip[1].Place; p.Name != "" || p.Latitude != -33.5 || p.Longitude != 151.25 || !p.HasSpot {
		t.Errorf("place by signed numbers: %+v", p)
	}
	if d := r.Trip[0].From; d.Text() != "2027-01-05" {
		t.Errorf("date: %+v", d)
	}
	if c := r.Aims.Dark; c.Of != 0.01 {
		t.Errorf("chance: %+v", c)
	}
	if k := r.Modules[1].VocPerC.Quantity.Kind; k != quantity.VoltagePerDegree {
		t.Errorf("coefficient in volts has kind %v", k)
	}
}

// Large documents, well formed or not, are read in a time that a person does not notice much; the limit is ten times what it takes.
func TestDecodeLargeDocuments(t *testing.T) {
	many := func(n int, format func(i int) string) string {
		var b strings.Builder
		for i := range n {
			b.WriteString(format(i))
		}
		return b.String()
	}
	for name, text := range map[string]string{
		"one key many times":    strings.Repeat("abc: 12 V # c\n", 19000),
		"brackets left open":    strings.Repeat("a: [1\n", 15000),
		"quotes left open":      strings.Repeat("a: \"x\n", 19000),
		"many arrays, one name": "arrays:\n" + strings.Repeat("  - {name: a, module: b, controller: c}\n", 19000),
		"references to nowhere": "arrays:\n" + many(9000, func(i int) string { return fmt.Sprintf("  - {name: m%d, module: x%d, controller: c}\n", i, i) }) +
			"modules:\n" + many(9000, func(i int) string { return fmt.Sprintf("  m%d: {power: 100 W}\n", i) }),
	} {
		begin := time.Now()
		_, faults := Decode(strings.NewReader(text))
		if took := time.Since(begin); took > 15*time.Second {
			t.Errorf("%s: took %v", name, took)
		}
		if len(faults) == 0 || len(faults) > mostFaults+1 {
			t.Errorf("%s: %d faults", name, len(faults))
		}
	}
}
