package cli

import (
	"strings"
	"testing"

	"campwright/check"
)

// TestPassLineTaken: a pass with a margin over a rating that nobody wrote says so beside the margin.
func TestPassLineTaken(t *testing.T) {
	margin := 0.65
	o := check.Outcome{Rule: "M18", Part: "controller closet", Title: "controller's input bears the array", Margin: &margin, Detail: "The input limit of closet is taken, not read off the label."}
	if line := passLine(&o); !strings.Contains(line, "65 % to spare") || !strings.Contains(line, "taken, not read") {
		t.Errorf("%q", line)
	}
}
