package load_test

import (
	"encoding/csv"
	"io"
	"os"
	"path/filepath"
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

// reference reads a file of the reference folder.
func reference(t *testing.T, parts ...string) []byte {
	t.Helper()
	path := filepath.Join(append([]string{folder(t, "CAMPWRIGHT_REFERENCE", "REFERENCE")}, parts...)...)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// table reads a CSV file of the reference folder: one map from heading to text for each row.
func table(t *testing.T, parts ...string) []map[string]string {
	t.Helper()
	return rows(t, strings.NewReader(string(reference(t, parts...))))
}

func rows(t *testing.T, r io.Reader) []map[string]string {
	t.Helper()
	records, err := csv.NewReader(r).ReadAll()
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
