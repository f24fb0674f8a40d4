package main

import (
	"bytes"
	"os"
	"testing"
)

// TestPageIsCurrent: the page in the tree is the one that the records give.
func TestPageIsCurrent(t *testing.T) {
	want, err := Page("../../../check/rules")
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile("../../../doc/rules.md")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("doc/rules.md is not what the records give; run go generate ./check")
	}
	if len(want) < 10000 {
		t.Errorf("only %d bytes", len(want))
	}
}
