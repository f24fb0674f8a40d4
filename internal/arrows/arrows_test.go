package arrows

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// allowed says what each package of the product may import from the product. The order is from the top of the house to its ground.
var allowed = map[string][]string{
	"cmd/campwright": {"cli", "web", "examples", "trip", "rig"},
	"examples":       {},

	"cli":     {"weather", "check", "check/rules", "design", "starter", "trip", "system", "catalogue", "place", "climate", "sun", "rig", "figure", "quantity"},
	"web":     {"weather", "store", "check", "check/rules", "design", "starter", "trip", "system", "catalogue", "place", "climate", "sun", "conductor", "rig", "figure", "quantity"},
	"store":   {"rig", "figure", "quantity"},
	"weather": {"sun"},

	"check":       {"system", "catalogue", "place", "rig", "sun", "climate", "pv", "convert", "battery", "load", "gas", "conductor", "circuit", "figure", "quantity"},
	"check/rules": {"check/rules", "check", "system", "catalogue", "rig", "sun", "climate", "pv", "convert", "battery", "load", "gas", "conductor", "circuit", "figure", "quantity"},
	"design":      {"system", "catalogue", "rig", "conductor", "circuit", "convert", "battery", "pv", "load", "figure", "quantity"},
	"starter":     {"system", "catalogue", "place", "rig", "sun", "climate", "pv", "convert", "battery", "load", "gas", "figure", "quantity"},
	"trip":        {"system", "place", "rig", "sun", "climate", "pv", "convert", "battery", "load", "gas", "figure", "quantity"},
	"system":      {"catalogue", "place", "rig", "sun", "climate", "pv", "convert", "battery", "load", "gas", "conductor", "circuit", "figure", "quantity"},

	"catalogue": {"rig", "figure", "quantity"},
	"place":     {},
	"rig":       {"figure", "quantity"},

	"climate":   {"sun", "figure", "quantity"},
	"pv":        {"sun", "figure", "quantity"},
	"convert":   {"pv", "figure", "quantity"},
	"circuit":   {"conductor", "figure", "quantity"},
	"sun":       {"figure", "quantity"},
	"battery":   {"figure", "quantity"},
	"load":      {"figure", "quantity"},
	"gas":       {"figure", "quantity"},
	"conductor": {"figure", "quantity"},

	"figure":   {"quantity"},
	"quantity": {},
}

// outside are packages of the project that are not part of the product; they may import anything.
var outside = []string{"internal", "tools", "doc"}

// adapters may reach the operating system, the network and the log; nothing below them may.
var adapters = []string{"cmd/campwright", "cli", "web", "weather", "store"}

// banned are the standard packages that only adapters may import.
var banned = []string{"os", "net", "net/http", "log", "log/slog", "database/sql", "os/exec", "os/signal", "syscall", "math/rand"}

func TestArrowsPointDown(t *testing.T) {
	seen := map[string]bool{}
	files := 0
	walkSource(t, func(dir, file string, imports []string) {
		if slices.ContainsFunc(outside, func(o string) bool { return dir == o || strings.HasPrefix(dir, o+"/") }) {
			return
		}
		files++
		dir = room(dir)
		row, known := allowed[dir]
		if !known {
			t.Errorf("%s: package %q has no row in the table of arrows", file, dir)
			return
		}
		seen[dir] = true
		for _, path := range imports {
			if inner, ours := strings.CutPrefix(path, "campwright/"); ours && !slices.Contains(row, room(inner)) {
				t.Errorf("%s: %s may not import %s", file, dir, inner)
			}
			if slices.Contains(banned, path) && !slices.Contains(adapters, dir) {
				t.Errorf("%s: %s is below the adapters and may not import %q", file, dir, path)
			}
		}
	})
	if files < 20 {
		t.Fatalf("looked at only %d files: the walk is broken", files)
	}
	for dir := range allowed {
		if !seen[dir] {
			t.Errorf("the table has a row for %q, which does not exist", dir)
		}
	}
}

// room returns the row of a package: each rule has a room of its own, and all have the same doors.
func room(dir string) string {
	if strings.HasPrefix(dir, "check/rules/") {
		return "check/rules"
	}
	return dir
}

// walkSource calls see for every Go file of the project that is not a test, with the folder and the imported paths.
func walkSource(t *testing.T, see func(dir, file string, imports []string)) {
	t.Helper()
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	set := token.NewFileSet()
	err = filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := entry.Name()
		if entry.IsDir() && path != root && (strings.HasPrefix(name, ".") || name == "node_modules" || name == "testdata" || name == "bin") {
			return filepath.SkipDir
		}
		if entry.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		source, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		parsed, err := parser.ParseFile(set, path, source, parser.ImportsOnly)
		if err != nil {
			return err
		}
		var imports []string
		for _, spec := range parsed.Imports {
			imports = append(imports, strings.Trim(spec.Path.Value, `"`))
		}
		relative, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		see(filepath.ToSlash(filepath.Dir(relative)), relative, imports)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
