package cli

import (
	"bytes"
	"encoding/json"
	"testing"
)

// TestPlain escapes what would turn the writing or steer a terminal, also when it comes in pieces, and leaves the rest alone. The characters are those with the
// Unicode property Bidi_Control, and C0 and C1.
func TestPlain(t *testing.T) {
	for text, want := range map[string]string{
		"Kühlschrank ❄ 🚐\t1\n": "Kühlschrank ❄ 🚐\t1\n",
		"a\u202eb":             "a\\u202eb",
		"a\u2066b\x1b[2Jc":     "a\\u2066b\\u001b[2Jc",
		"a\u0085b":             "a\\u0085b",
	} {
		var whole, pieces bytes.Buffer
		w, p := &plain{w: &whole}, &plain{w: &pieces}
		if n, err := w.Write([]byte(text)); n != len(text) || err != nil {
			t.Errorf("%q: wrote %d, %v", text, n, err)
		}
		for i := range len(text) {
			if _, err := p.Write([]byte{text[i]}); err != nil {
				t.Fatal(err)
			}
		}
		if whole.String() != want || pieces.String() != want {
			t.Errorf("%q comes out as %q, in pieces as %q, wanted %q", text, whole.String(), pieces.String(), want)
		}
	}
	var out bytes.Buffer
	if err := json.NewEncoder(&plain{w: &out}).Encode("a\u202eb"); err != nil {
		t.Fatal(err)
	}
	var back string
	if err := json.Unmarshal(out.Bytes(), &back); err != nil || back != "a\u202eb" {
		t.Errorf("JSON reads back as %q, %v", back, err)
	}
}
