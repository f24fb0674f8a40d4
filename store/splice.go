package store

import (
	"bytes"
	"errors"
	"fmt"
	"unicode/utf8"
)

// splice is the difference of two texts: at a place, so much was taken out and so much put in. It can be made and taken back.
type splice struct {
	At  int    `json:"at"` // [bytes]
	Cut string `json:"cut"`
	Put string `json:"put"`
}

var errSplice = errors.New("the change does not fit the text")

// spliceOf returns the one splice that turns a into b. Both are UTF-8; no character is cut in two.
func spliceOf(a, b []byte) splice {
	begin := 0
	for begin < len(a) && begin < len(b) && a[begin] == b[begin] {
		begin++
	}
	end := 0
	for end < len(a)-begin && end < len(b)-begin && a[len(a)-1-end] == b[len(b)-1-end] {
		end++
	}
	inside := func(text []byte, i int) bool { return i < len(text) && !utf8.RuneStart(text[i]) }
	for begin > 0 && (inside(a, begin) || inside(b, begin)) {
		begin--
	}
	for end > 0 && (inside(a, len(a)-end) || inside(b, len(b)-end)) {
		end--
	}
	return splice{At: begin, Cut: string(a[begin : len(a)-end]), Put: string(b[begin : len(b)-end])}
}

// apply makes the splice.
func (s splice) apply(text []byte) ([]byte, error) {
	if s.At < 0 || s.At > len(text) || !bytes.HasPrefix(text[s.At:], []byte(s.Cut)) {
		return nil, fmt.Errorf("%w at byte %d", errSplice, s.At)
	}
	out := make([]byte, 0, len(text)-len(s.Cut)+len(s.Put))
	out = append(out, text[:s.At]...)
	out = append(out, s.Put...)
	return append(out, text[s.At+len(s.Cut):]...), nil
}

// back is the splice that takes this one back.
func (s splice) back() splice { return splice{At: s.At, Cut: s.Put, Put: s.Cut} }
