package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestRegistryIsCurrent: the registry in the tree is the one that the rooms give.
func TestRegistryIsCurrent(t *testing.T) {
	root, err := rootOf()
	if err != nil {
		t.Fatal(err)
	}
	rules := filepath.Join(root, "check", "rules")
	rooms, err := Rooms(rules)
	if err != nil || len(rooms) < 2 {
		t.Fatalf("%d rooms, %v", len(rooms), err)
	}
	want, err := Registry(rules)
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile(filepath.Join(rules, "registry.go"))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("check/rules/registry.go is not what the rooms give; run go generate ./check")
	}
}

// TestMakeRoom: a new room has everything to fill, a second one of the name is refused, and so are ids and titles out of form.
func TestMakeRoom(t *testing.T) {
	rules := t.TempDir()
	if err := makeRoom(rules, "M99", "a mistake to look for"); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"rule.go", "rule_test.go", "testdata/bad-1.yaml", "testdata/good-1.yaml", "testdata/edge-inside-1.yaml", "testdata/edge-outside-1.yaml"} {
		text, err := os.ReadFile(filepath.Join(rules, "m99", name))
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(text), "%!") {
			t.Errorf("%s: %s", name, text)
		}
	}
	rooms, err := Rooms(rules)
	if err != nil || len(rooms) != 1 || rooms[0] != "m99" {
		t.Errorf("rooms %v, %v", rooms, err)
	}
	for _, bad := range [][2]string{{"M99", "a mistake to look for"}, {"X01", "a mistake to look for"}, {"M1", "a mistake to look for"},
		{"M98", "one"}, {"M98", "far too many words for the title of a rule"}} {
		if err := makeRoom(rules, bad[0], bad[1]); err == nil {
			t.Errorf("%q is taken", bad)
		}
	}
}
