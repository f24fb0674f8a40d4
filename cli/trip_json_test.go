package cli_test

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"path/filepath"
	"strings"
	"testing"

	"campwright/cli"
	"campwright/trip"
)

// TestTripJSON holds the JSON of a demo rig's answer against the answer's own type: nothing is in it that the type does not name, nothing
// follows it, and it says the sentence that the text says.
func TestTripJSON(t *testing.T) {
	run := func(args ...string) []byte {
		t.Helper()
		var out, complaints bytes.Buffer
		args = append([]string{"trip", filepath.Join("..", "examples", "northern-van.yaml"), "--members", "4", "--step", "60"}, args...)
		if code := cli.Run(context.Background(), args, cli.Env{Stdin: strings.NewReader(""), Stdout: &out, Stderr: &complaints}); code != cli.Fine {
			t.Fatalf("exit status %d: %s", code, complaints.String())
		}
		return out.Bytes()
	}
	d := json.NewDecoder(bytes.NewReader(run("--json", "--advise", "--trace")))
	d.DisallowUnknownFields()
	var a trip.Answer
	if err := d.Decode(&a); err != nil {
		t.Fatal(err)
	}
	if _, err := d.Token(); err != io.EOF {
		t.Errorf("something follows the answer: %v", err)
	}
	// the van crosses into a zone an hour ahead, so that its stay is an hour short of whole days
	if len(a.Days) != a.Basis.Nights || len(a.Stores) == 0 || len(a.Trace.SoC) != 24*len(a.Days)-1 || a.Advice == nil {
		t.Errorf("%d days, %d stores, %d steps in the trace, advice %v for %d nights", len(a.Days), len(a.Stores), len(a.Trace.SoC), a.Advice != nil, a.Basis.Nights)
	}
	if text := string(run()); !strings.Contains(text, a.Sentence) {
		t.Errorf("the text does not say %q:\n%s", a.Sentence, text)
	}
}
