package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

func TestRecent(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "settings", "campwright")
	r := RecentIn(folder)
	if got := r.List(); got != nil {
		t.Errorf("list of nothing: %v", got)
	}
	rigs := t.TempDir()
	var paths []string
	for i := range 15 {
		path := filepath.Join(rigs, fmt.Sprintf("rig %d.yaml", i))
		if err := errors.Join(os.WriteFile(path, []byte(sample), 0o644), r.Add(path)); err != nil {
			t.Fatal(err)
		}
		paths = append([]string{path}, paths...)
	}
	if got := r.List(); !slices.Equal(got, paths[:mostRecent]) {
		t.Errorf("list %v", got)
	}
	if err := errors.Join(r.Add(paths[4]), os.Remove(paths[0])); err != nil {
		t.Fatal(err)
	}
	if got := r.List(); len(got) != mostRecent-1 || got[0] != paths[4] || slices.Contains(got, paths[0]) {
		t.Errorf("list %v", got)
	}
	for _, bad := range []string{"", "{", "[1]", "null"} {
		if err := os.WriteFile(filepath.Join(folder, "recent.json"), []byte(bad), 0o600); err != nil {
			t.Fatal(err)
		}
		if got := r.List(); len(got) != 0 {
			t.Errorf("list of %q: %v", bad, got)
		}
	}
	if err := r.Add(paths[1]); err != nil || len(r.List()) != 1 {
		t.Errorf("after a bad list: %v", err)
	}
	if none := RecentIn(""); none.Add(paths[1]) != nil || none.List() != nil {
		t.Error("no folder keeps something")
	}
}

func TestCreate(t *testing.T) {
	path := filepath.Join(t.TempDir(), "new.yaml")
	if err := Create(path, []byte(sample)); err != nil || onDisk(t, path) != sample {
		t.Fatalf("%v", err)
	}
	if err := Create(path, []byte("x")); !errors.Is(err, fs.ErrExist) || onDisk(t, path) != sample {
		t.Errorf("a file that is there: %v", err)
	}
	if err := Create(filepath.Join(t.TempDir(), "no", "new.yaml"), []byte(sample)); err == nil {
		t.Error("a folder that is not there")
	}
	if err := Create(filepath.Join(t.TempDir(), "x.yaml"), []byte("\xff")); !errors.Is(err, ErrText) {
		t.Errorf("no text: %v", err)
	}
}
