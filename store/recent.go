package store

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
)

// Recent is the list of rigs that were opened last, in a folder of the user's settings. The rigs themselves lie where they are.
type Recent struct{ folder string }

// mostRecent is how many are remembered.
const mostRecent = 12

// RecentIn keeps the list in a folder, which is made with the first rig. An empty folder keeps none.
func RecentIn(folder string) Recent { return Recent{folder} }

func (r Recent) file() string { return filepath.Join(r.folder, "recent.json") }

// List returns the paths of the rigs that are still there, the last opened first. A list that does not read is as good as none.
func (r Recent) List() []string {
	if r.folder == "" {
		return nil
	}
	data, err := os.ReadFile(r.file())
	if err != nil {
		return nil
	}
	var all, there []string
	if json.Unmarshal(data, &all) != nil {
		return nil
	}
	for _, path := range all {
		if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() {
			there = append(there, path)
		}
	}
	return there
}

// Add puts a rig at the head of the list.
func (r Recent) Add(path string) error {
	if r.folder == "" {
		return nil
	}
	full, err := filepath.Abs(path)
	if err != nil {
		return fmt.Errorf("list of recent rigs: %w", err)
	}
	list := append([]string{full}, slices.DeleteFunc(r.List(), func(p string) bool { return p == full })...)
	data, err := json.MarshalIndent(list[:min(len(list), mostRecent)], "", "  ")
	if err != nil {
		return fmt.Errorf("list of recent rigs: %w", err)
	}
	next := r.file() + ".next"
	err = errors.Join(os.MkdirAll(r.folder, 0o700), os.WriteFile(next, append(data, '\n'), 0o600))
	if err == nil {
		err = os.Rename(next, r.file())
	}
	if err != nil {
		return fmt.Errorf("list of recent rigs: %w", err)
	}
	return nil
}

// Create makes a new rig file, which must not be there yet, and opens nothing.
func Create(path string, text []byte) error {
	if !editable(text) {
		return ErrText
	}
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s is there already: %w", filepath.Base(path), fs.ErrExist)
	}
	if err != nil {
		return fmt.Errorf("rig %s cannot be made: %w", filepath.Base(path), err)
	}
	_, err = f.Write(text)
	if err = errors.Join(err, f.Sync(), f.Close()); err != nil {
		return fmt.Errorf("rig %s cannot be made: %w", filepath.Base(path), errors.Join(err, os.Remove(path)))
	}
	return nil
}
