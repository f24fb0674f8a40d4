package cli

import (
	"bytes"
	"fmt"
	"io"
	"unicode"
	"unicode/utf8"

	"campwright/system"
)

// plain passes text on with every character escaped that would steer a terminal or turn the direction of writing: a name out of a file must not rewrite the line that
// tells of it. The escapes are those of JSON, so that JSON says the same after them.
type plain struct {
	w    io.Writer
	rest []byte // of a character that is not whole yet
}

func (p *plain) Write(b []byte) (int, error) {
	text := append(p.rest, b...)
	p.rest = nil
	var out bytes.Buffer
	for len(text) > 0 {
		r, size := utf8.DecodeRune(text)
		switch {
		case r == utf8.RuneError && size == 1 && !utf8.FullRune(text):
			p.rest = append([]byte(nil), text...)
			text = nil
			continue
		case steers(r):
			fmt.Fprintf(&out, "\\u%04x", r)
		default:
			out.Write(text[:size])
		}
		text = text[size:]
	}
	if _, err := p.w.Write(out.Bytes()); err != nil {
		return 0, err
	}
	return len(b), nil
}

// once is for tables that people read: what a name and its kind both say is written once. Each row must come in one Write.
type once struct{ w io.Writer }

func (o once) Write(b []byte) (int, error) {
	if _, err := io.WriteString(o.w, system.Once(string(b))); err != nil {
		return 0, err
	}
	return len(b), nil
}

// steers tells whether a character acts on the terminal or on the direction of writing in place of being shown.
func steers(r rune) bool {
	return unicode.IsControl(r) && r != '\n' && r != '\t' && r != '\r' || unicode.Is(unicode.Bidi_Control, r) || r == '\u2028' || r == '\u2029'
}
