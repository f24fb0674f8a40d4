package catalogue_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// folder returns the folder that an environment variable names, and skips the test loudly when it is not set.
func folder(t *testing.T, variable, name string) string {
	t.Helper()
	dir := os.Getenv(variable)
	if dir == "" {
		t.Skipf("%s ABSENT: %s is not set, so this check did not run", name, variable)
	}
	return dir
}

// reference reads a file of the reference folder's handbook tables.
func reference(t *testing.T, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(folder(t, "CAMPWRIGHT_REFERENCE", "REFERENCE"), "trade", name))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// table reads a CSV file of the reference folder: one map from heading to text for each row.
func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	records, err := csv.NewReader(strings.NewReader(string(reference(t, name)))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var list []map[string]string
	for _, record := range records[1:] {
		row := map[string]string{}
		for i, text := range record {
			row[records[0][i]] = text
		}
		list = append(list, row)
	}
	if len(list) == 0 {
		t.Fatal("a table without rows")
	}
	return list
}

// number reads one field of a row.
func number(t *testing.T, row map[string]string, field string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(row[field], 64)
	if err != nil {
		t.Fatalf("field %q: %v", field, err)
	}
	return v
}

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
