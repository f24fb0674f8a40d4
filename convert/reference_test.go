package convert

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// reference returns the path of a file of the reference folder named by CAMPWRIGHT_REFERENCE: handbook tables with their origin, and
// answers computed with general-purpose tools by two implementations that agree. Without the variable the test is skipped.
func reference(t testing.TB, elements ...string) string {
	t.Helper()
	dir := os.Getenv("CAMPWRIGHT_REFERENCE")
	if dir == "" {
		t.Skip("REFERENCE ABSENT: set CAMPWRIGHT_REFERENCE to the folder of handbook tables and independent answers")
	}
	return filepath.Join(append([]string{dir}, elements...)...)
}

// referenceRows reads a table, each row by column name, and fails when it has fewer rows than least.
func referenceRows(t testing.TB, least int, elements ...string) []map[string]string {
	t.Helper()
	f, err := os.Open(reference(t, elements...))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, r := range all[1:] {
		row := map[string]string{}
		for i, name := range all[0] {
			row[name] = r[i]
		}
		rows = append(rows, row)
	}
	if len(rows) < least {
		t.Fatalf("%v has %d rows, want at least %d", elements, len(rows), least)
	}
	return rows
}

// referenceJSON decodes a file of the reference folder.
func referenceJSON(t testing.TB, into any, elements ...string) {
	t.Helper()
	b, err := os.ReadFile(reference(t, elements...))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, into); err != nil {
		t.Fatal(err)
	}
}

// number reads one cell.
func number(t testing.TB, row map[string]string, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(row[column], 64)
	if err != nil {
		t.Fatalf("column %q: %v", column, err)
	}
	return v
}
