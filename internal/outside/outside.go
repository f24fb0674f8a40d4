// Package outside reads, for tests, what the program is checked against: the folder of handbook values and the folder of measurements, which lie
// outside the project. Where a folder is not named, the test skips, and says so.
package outside

import (
	"bytes"
	"compress/gzip"
	"encoding/csv"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// Folder returns the folder that an environment variable names, and skips the test loudly when it is not set.
func Folder(t testing.TB, variable, name string) string {
	t.Helper()
	dir := os.Getenv(variable)
	if dir == "" {
		t.Skipf("%s ABSENT: %s is not set, so this check did not run", name, variable)
	}
	return dir
}

// Reference reads a file of the folder of handbook values.
func Reference(t testing.TB, parts ...string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(append([]string{Folder(t, "CAMPWRIGHT_REFERENCE", "REFERENCE")}, parts...)...))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// Table reads a CSV file of the folder of handbook values: one map from heading to text for each row.
func Table(t testing.TB, parts ...string) []map[string]string {
	t.Helper()
	return rows(t, bytes.NewReader(Reference(t, parts...)))
}

// Measured reads a compressed CSV file of the folder of measurements.
func Measured(t testing.TB, parts ...string) []map[string]string {
	t.Helper()
	file, err := os.Open(filepath.Join(append([]string{Folder(t, "CAMPWRIGHT_MEASURED", "MEASURED")}, parts...)...))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	unpacked, err := gzip.NewReader(file)
	if err != nil {
		t.Fatal(err)
	}
	return rows(t, unpacked)
}

// Recordings returns the paths of the appliances recorded second by second.
func Recordings(t testing.TB) []string {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(Folder(t, "CAMPWRIGHT_MEASURED", "MEASURED"), "appliances_1s", "*.csv.gz"))
	if err != nil || len(paths) < 15 {
		t.Fatalf("found %d recordings: %v", len(paths), err)
	}
	return paths
}

func rows(t testing.TB, r io.Reader) []map[string]string {
	t.Helper()
	records, err := csv.NewReader(r).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var list []map[string]string
	for i, record := range records {
		if i == 0 {
			continue
		}
		row := map[string]string{}
		for k, text := range record {
			row[records[0][k]] = text
		}
		list = append(list, row)
	}
	if len(list) == 0 {
		t.Fatal("a table without rows")
	}
	return list
}

// Number reads one field of a row.
func Number(t testing.TB, row map[string]string, field string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(row[field], 64)
	if err != nil {
		t.Fatalf("field %q: %v", field, err)
	}
	return v
}
