package sun

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"strconv"
	"testing"
)

// read decodes a JSON file of testdata.
func read(t testing.TB, name string, into any) {
	t.Helper()
	data, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, into); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
}

// row is one line of a table by column name.
type row map[string]string

// num returns a number of the row; a field that is not a number ends the test.
func (r row) num(t testing.TB, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("column %q: %v in %v", column, err, r)
	}
	return v
}

// table reads a CSV file with a heading and demands the number of rows it is known to have.
func rows(t testing.TB, path string, want int) []row {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []row
	for _, line := range lines[1:] {
		r := row{}
		for i, v := range line {
			r[lines[0][i]] = v
		}
		out = append(out, r)
	}
	if len(out) != want {
		t.Fatalf("%s has %d rows, want %d", path, len(out), want)
	}
	return out
}

// reference returns the folder of references that are not part of the project, or skips the test.
func reference(t testing.TB) string {
	t.Helper()
	dir := os.Getenv("CAMPWRIGHT_REFERENCE")
	if dir == "" {
		t.Skip("REFERENCE ABSENT: set CAMPWRIGHT_REFERENCE to hold this against the yearly traces")
	}
	return dir
}
