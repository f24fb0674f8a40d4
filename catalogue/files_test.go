package catalogue_test

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"campwright/internal/outside"
)

// reference reads one of the handbook tables.
func reference(t *testing.T, name string) []byte {
	t.Helper()
	return outside.Reference(t, "trade", name)
}

// table reads one of them that is a CSV file.
func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	return outside.Table(t, "trade", name)
}

var number = outside.Number

// sources returns the keys that have an entry in the list of sources.
func sources(t *testing.T) map[string]bool {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "doc", "SOURCES.md"))
	if err != nil {
		t.Fatal(err)
	}
	keys := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?m)^## \[([A-Z0-9-]+)\]`).FindAllSubmatch(text, -1) {
		keys["["+string(m[1])+"]"] = true
	}
	if len(keys) < 20 {
		t.Fatalf("only %d keys in the list of sources", len(keys))
	}
	return keys
}
