package web

import (
	"sync"

	"campwright/store"
)

// lastReading keeps what was understood last: a page asks several times about one text. What it returns is shared and must not be changed.
type lastReading struct {
	mu   sync.Mutex
	text string
	kept reading
}

// understood reads a text that stands in a file, or returns what was understood of it before.
func (l *lastReading) understood(file string, state store.State) reading {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.kept.file != file || l.text != string(state.Text) || l.text == "" {
		l.text, l.kept = string(state.Text), understood(file, state)
	}
	r := l.kept
	r.state, r.text, r.revision = state, Text{state.Text}, state.Revision
	return r
}
