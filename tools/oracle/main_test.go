package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const kept = "../../internal/oracle/testdata"

func TestRun(t *testing.T) {
	empty := t.TempDir()
	broken := t.TempDir()
	raw, err := os.ReadFile(filepath.Join(kept, "celltemp.json"))
	if err != nil {
		t.Fatal(err)
	}
	spoilt := strings.Replace(string(raw), `"cell_temp_c": 51.4070351759`, `"cell_temp_c": 52.4070351759`, 1)
	if spoilt == string(raw) {
		t.Fatal("nothing was spoilt")
	}
	if err := os.WriteFile(filepath.Join(broken, "celltemp.json"), []byte(spoilt), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		args []string
		code int
		says string
	}{
		{"kept files", []string{kept}, 0, "all within tolerance"},
		{"empty folder", []string{empty}, 1, "holds none of the files"},
		{"beyond", []string{broken}, 1, "1 BEYOND"},
		{"no folder", nil, 2, "one folder of answers is wanted"},
		{"two folders", []string{kept, kept}, 2, "one folder of answers is wanted"},
		{"not a folder", []string{filepath.Join(kept, "celltemp.json")}, 2, "is not a folder"},
		{"unknown flag", []string{"-loud", kept}, 2, "flag provided but not defined"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var out, errs bytes.Buffer
			if code := run(c.args, &out, &errs); code != c.code {
				t.Errorf("exit %d, want %d", code, c.code)
			}
			if !strings.Contains(out.String()+errs.String(), c.says) {
				t.Errorf("does not say %q:\n%s%s", c.says, out.String(), errs.String())
			}
		})
	}
}

func TestRunJSON(t *testing.T) {
	var out, errs bytes.Buffer
	if code := run([]string{"-json", kept}, &out, &errs); code != 0 {
		t.Fatalf("exit %d: %s", code, errs.String())
	}
	var report struct {
		Files []string
		Lines []struct {
			File, Field string
			Count       int
			Target      struct{ Absolute, Relative float64 }
		}
	}
	if err := json.Unmarshal(out.Bytes(), &report); err != nil {
		t.Fatal(err)
	}
	if len(report.Files) < 8 || len(report.Lines) < 100 {
		t.Fatalf("%d files, %d fields", len(report.Files), len(report.Lines))
	}
	for _, l := range report.Lines {
		if l.Count == 0 || l.Field == "" || l.File == "" {
			t.Errorf("%+v", l)
		}
	}
}
