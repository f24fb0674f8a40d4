package rig

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"testing"

	"campwright/figure"
	"github.com/google/go-cmp/cmp"
)

// bare compares rigs by what they say: places are left out, and so is the unit of a value written in two units together, which may
// need more digits than two units give.
var bare = cmp.Options{
	cmp.Transformer("noPlace", func(At) string { return "" }),
	cmp.FilterPath(func(p cmp.Path) bool { return p.Last().String() == ".Unit" }, cmp.Comparer(func(a, b string) bool {
		return a == b || strings.Contains(a, " ") || strings.Contains(b, " ")
	})),
}

// seedFiles are the documents a fuzz target starts from.
func seedFiles(t testing.TB) [][]byte {
	var seeds [][]byte
	for _, path := range append(append(files(t, "../examples/*.yaml", 3), files(t, "testdata/v1-*.yaml", 2)...), files(t, "testdata/bad/*.yaml", 9)...) {
		seeds = append(seeds, read(t, path))
	}
	return seeds
}

// The good files, written and read again, say the same, and what is written does not change when it is written once more.
func TestEncodeReadsBack(t *testing.T) {
	for _, path := range append(files(t, "../examples/*.yaml", 3), files(t, "testdata/v1-*.yaml", 2)...) {
		r := whole(t, string(read(t, path)))
		text := Encode(r)
		again, faults := Decode(bytes.NewReader(text))
		if faults != nil {
			t.Errorf("%s: what was written has faults:\n%v\n%s", path, faults, text)
			continue
		}
		if d := cmp.Diff(r, again, bare); d != "" {
			t.Errorf("%s: %s", path, d)
		}
		if third := Encode(again); !bytes.Equal(text, third) {
			t.Errorf("%s: written again it differs:\n%s\n%s", path, text, third)
		}
		if os.Getenv("SHOW") != "" {
			fmt.Println(string(text))
		}
	}
}

// The file that uses every key really does: every field of the document that can be present is.
func TestEverythingUsesEveryKey(t *testing.T) {
	r := whole(t, string(read(t, "testdata/v1-everything.yaml")))
	absent, seen := []string{}, 0
	WalkAll(&r, func(path string, v *Value) {
		seen++
		if v.State == figure.Absent {
			absent = append(absent, path)
		}
	})
	for _, path := range absent {
		if !strings.Contains(path, "charge line/") && !strings.HasSuffix(path, "/duty") {
			t.Errorf("%s is not used", path)
		}
	}
	if seen < 150 {
		t.Fatalf("only %d values seen", seen)
	}
}

// FuzzDecode: whatever the text, no panic; faults are sorted and complete; a text without faults is written and read back as the same
// rig.
func FuzzDecode(f *testing.F) {
	seeds := seedFiles(f)
	if len(seeds) < 14 {
		f.Fatalf("only %d seeds found", len(seeds))
	}
	for _, s := range seeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		r, faults := Decode(bytes.NewReader(data))
		for i, x := range faults {
			if x.Problem == "" || i > 0 && faults[i-1].Line > x.Line {
				t.Fatalf("fault %d: %+v", i, x)
			}
		}
		text := Encode(r)
		if faults != nil {
			return
		}
		again, faults := Decode(bytes.NewReader(text))
		if faults != nil {
			t.Fatalf("what was written has faults:\n%v\n%s", faults, text)
		}
		if d := cmp.Diff(r, again, bare); d != "" {
			t.Fatalf("%s\n%s", d, text)
		}
	})
}

// FuzzApply: whatever the text and the edit, no panic; an edit that is made leaves a text that says what was asked for there.
func FuzzApply(f *testing.F) {
	seeds := append(seedFiles(f), []byte(editText))
	if len(seeds) < 15 {
		f.Fatalf("only %d seeds found", len(seeds))
	}
	for _, s := range seeds {
		f.Add(s, "name", "Lark")
		f.Add(s, "roof/length", "5 m")
		f.Add(s, "appliances/A/C/power/duty", "30 %")
		f.Add(s, "trip/1", "{drive: 3 h}")
		f.Add(s, "modules/one/voc", "")
	}
	f.Fuzz(func(t *testing.T, data []byte, path, fresh string) {
		old, err := Read(data, path)
		if err != nil {
			return
		}
		text, err := Apply(data, []Edit{{path, old, fresh}})
		if err != nil {
			if text != nil {
				t.Fatal("an error and a text")
			}
			return
		}
		got, err := Read(text, path)
		if fresh != "" && (err != nil || got == "") {
			t.Fatalf("%q set at %q in\n%s\nleaves %q, %v in\n%s", fresh, path, data, got, err, text)
		}
	})
}
