package arrows

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// A key stands in square brackets: two or more capitals, digits and hyphens, at least one of them a letter.
var (
	keyUsed  = regexp.MustCompile(`\[([A-Z][A-Z0-9]*(?:-[A-Z0-9]+)*)\]`)
	keyEntry = regexp.MustCompile(`(?m)^## \[([A-Z][A-Z0-9]*(?:-[A-Z0-9]+)*)\]`)
)

// notKeys are words in brackets that are not citations.
var notKeys = map[string]bool{"PASS": true, "NOTE": true, "WARN": true, "FAIL": true, "STOP": true, "V": true, "A": true, "W": true, "K": true, "C": true, "J": true, "L": true, "H": true, "N": true, "R": true, "S": true, "X": true, "I": true, "E": true, "T": true, "OPTIONS": true, "FLAGS": true, "RIG": true, "FILE": true, "VA": true, "A-Z": true, "Z": true, "F": true, "KEY": true, "MN": true, "EXAMPLE": true}

// TestEverySourceHasAnEntryAndAUse holds doc/SOURCES.md against the comments, both ways.
func TestEverySourceHasAnEntryAndAUse(t *testing.T) {
	root := filepath.Join("..", "..")
	list, err := os.ReadFile(filepath.Join(root, "doc", "SOURCES.md"))
	if err != nil {
		t.Fatal(err)
	}
	entries := map[string]bool{}
	for _, m := range keyEntry.FindAllStringSubmatch(string(list), -1) {
		if entries[m[1]] {
			t.Errorf("doc/SOURCES.md: two entries for [%s]", m[1])
		}
		entries[m[1]] = true
	}
	if len(entries) < 10 {
		t.Fatalf("only %d entries in doc/SOURCES.md", len(entries))
	}
	used := map[string]string{}
	err = filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() && path != root && (strings.HasPrefix(entry.Name(), ".") || entry.Name() == "node_modules" || entry.Name() == "testdata") { // .git, .cache
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, ".go") && !strings.HasSuffix(path, ".py") && filepath.Base(filepath.Dir(path)) != "doc" || entry.IsDir() || entry.Name() == "SOURCES.md" || entry.Name() == "sources_test.go" {
			return nil
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		for _, m := range keyUsed.FindAllStringSubmatch(string(text), -1) {
			used[m[1]] = path
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for key, path := range used {
		if !entries[key] && !notKeys[key] {
			t.Errorf("%s cites [%s], which has no entry in doc/SOURCES.md", path, key)
		}
	}
	for key := range entries {
		if used[key] == "" {
			t.Errorf("doc/SOURCES.md has an entry [%s] that nothing uses", key)
		}
	}
}
