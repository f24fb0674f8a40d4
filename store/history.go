package store

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"campwright/rig"
)

// What an entry of the journal is.
const (
	whatBegin   = "begin"   // the text that the first change found
	whatEdit    = "edit"    // edits of the rig
	whatText    = "text"    // the whole text written anew
	whatOutside = "outside" // changed by somebody else
	whatUndo    = "undo"
	whatRedo    = "redo"
	whatName    = "name" // the present text gets a name
)

// entry is one line of the journal, as JSON. Entries are only ever added.
type entry struct {
	What   string     `json:"what"`
	At     time.Time  `json:"at"`
	From   string     `json:"from"` // revision before it
	To     string     `json:"to"`   // and after
	Full   string     `json:"full,omitempty"`
	Splice splice     `json:"splice,omitzero"`
	Edits  []rig.Edit `json:"edits,omitempty"`
	Of     int        `json:"of,omitempty"` // for undo and redo: the number of the entry it is about
	Name   string     `json:"name,omitempty"`
	Note   string     `json:"note,omitempty"`
}

func (e entry) line() ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(e); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// history is the journal in memory. Only the last texts are kept: the text after an entry is found by its splice from the text before.
type history struct {
	entries []entry
	undo    []int // numbers of the entries that can be taken back, the next one last
	redo    []int
	texts   map[string][]byte // of the last entries, by revision
	recent  []string          // their order
}

// mostTexts is how many texts are kept while the journal is read; two programs writing at once are never further apart than this.
const mostTexts = 64

func (h *history) empty() bool { return len(h.entries) == 0 }

// head is the revision after the last entry.
func (h *history) head() string {
	if h.empty() {
		return ""
	}
	return h.entries[len(h.entries)-1].To
}

// begin starts a history that has no journal yet.
func (h *history) begin(text []byte, at time.Time) {
	h.add(entry{What: whatBegin, At: at.UTC(), To: hashOf(text), Full: string(text)}, text)
}

// add takes in an entry whose text is known.
func (h *history) add(e entry, text []byte) {
	n := len(h.entries)
	h.entries = append(h.entries, e)
	h.remember(e.To, bytes.Clone(text))
	switch e.What {
	case whatEdit, whatText, whatOutside:
		h.undo, h.redo = append(h.undo, n), nil
	case whatUndo:
		if k := len(h.undo); k > 0 {
			h.redo, h.undo = append(h.redo, h.undo[k-1]), h.undo[:k-1]
		}
	case whatRedo:
		if k := len(h.redo); k > 0 {
			h.undo, h.redo = append(h.undo, h.redo[k-1]), h.redo[:k-1]
		}
	}
}

func (h *history) remember(revision string, text []byte) {
	if h.texts == nil {
		h.texts = map[string][]byte{}
	}
	if _, known := h.texts[revision]; !known {
		h.recent = append(h.recent, revision)
	}
	h.texts[revision] = text
	if len(h.recent) > mostTexts {
		delete(h.texts, h.recent[0])
		h.recent = h.recent[1:]
	}
}

// replay reads a journal. A line that does not read, or that does not follow from a text before it, is passed over: what follows may
// still be good, since another program may have written it.
func (h *history) replay(data []byte) {
	for len(data) > 0 {
		end := bytes.IndexByte(data, '\n')
		if end < 0 {
			return
		}
		line := data[:end]
		data = data[end+1:]
		var e entry
		if json.Unmarshal(line, &e) != nil {
			continue
		}
		if text, ok := h.follow(e); ok {
			h.add(e, text)
		}
	}
}

// follow returns the text after an entry.
func (h *history) follow(e entry) ([]byte, bool) {
	text := []byte(e.Full)
	if e.What != whatBegin {
		before, known := h.texts[e.From]
		if !known {
			return nil, false
		}
		var err error
		if text, err = e.Splice.apply(before); err != nil {
			return nil, false
		}
	}
	return text, hashOf(text) == e.To
}

// textOf returns the text of a revision, played again from the beginning.
func (h *history) textOf(revision string) ([]byte, error) {
	if text, ok := h.texts[revision]; ok {
		return bytes.Clone(text), nil
	}
	again := history{}
	for _, e := range h.entries {
		text, ok := again.follow(e)
		if !ok {
			continue
		}
		again.add(e, text)
		if e.To == revision {
			return bytes.Clone(text), nil
		}
	}
	return nil, fmt.Errorf("%w: %s", ErrUnknown, revision)
}

// target returns the text that an undo or redo leads to, and the entry it is about.
func (h *history) target(what string, now []byte) (text []byte, of int, err error) {
	stack := h.undo
	if what == whatRedo {
		stack = h.redo
	}
	if len(stack) == 0 {
		return nil, 0, ErrNothing
	}
	of = stack[len(stack)-1]
	s := h.entries[of].Splice
	if what == whatUndo {
		s = s.back()
	}
	text, err = s.apply(now)
	return text, of, err
}

func (h *history) undoWords() string { return h.wordsOf(h.undo) }
func (h *history) redoWords() string { return h.wordsOf(h.redo) }

func (h *history) wordsOf(stack []int) string {
	if len(stack) == 0 {
		return ""
	}
	return h.words(h.entries[stack[len(stack)-1]])
}

// words says what an entry did.
func (h *history) words(e entry) string {
	switch e.What {
	case whatBegin:
		return "as it was found"
	case whatText:
		if e.Note != "" {
			return short(e.Note)
		}
		return "the file's text"
	case whatOutside:
		return "a change made outside"
	case whatUndo, whatRedo:
		if e.Of > 0 && e.Of < len(h.entries) {
			return e.What + " of " + h.words(h.entries[e.Of])
		}
		return e.What
	case whatName:
		return "kept as " + e.Name
	}
	switch {
	case e.Note != "" && (len(e.Edits) != 1 || structured(e.Edits[0])):
		return short(e.Note)
	case len(e.Edits) == 0:
		return "a change"
	case len(e.Edits) == 1:
		return editWords(e.Edits[0])
	}
	return fmt.Sprintf("%d changes%s", len(e.Edits), toWhat(e.Edits))
}

// toWhat names the part of the rig that edits have in common: " to the wiring"; empty where they have none.
func toWhat(edits []rig.Edit) string {
	head := ""
	for _, e := range edits {
		first, _, _ := strings.Cut(e.Path, "/")
		if head != "" && first != head {
			return ""
		}
		head = first
	}
	return " to the " + head
}

// structured tells whether an edit is about more than one value, whose text tells nobody anything.
func structured(e rig.Edit) bool {
	return strings.HasPrefix(e.Old, "{") || strings.HasPrefix(e.Old, "[{") || strings.HasPrefix(e.New, "{") || strings.HasPrefix(e.New, "[{")
}

func editWords(e rig.Edit) string {
	where := Where(e.Path)
	switch {
	case structured(e) && e.Old == "":
		return where + " added"
	case structured(e) && e.New == "":
		return where + " removed"
	case structured(e):
		return where + " changed"
	case e.Old == e.New:
		return where + ": " + short(e.New) + " is right"
	case e.Old == "":
		return where + ": " + short(e.New) + " added"
	case e.New == "":
		return where + ": " + short(e.Old) + " removed"
	}
	return where + ": " + short(e.Old) + " to " + short(e.New)
}

// short cuts a text for a line.
func short(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > 40 {
		return string(r[:38]) + "…"
	}
	return s
}

// label names the present text for people: the last kept revision and the changes since.
func (h *history) label() string {
	since, name := 0, ""
	for i := len(h.entries) - 1; i >= 0; i-- {
		e := h.entries[i]
		if e.What == whatName {
			name = e.Name
			break
		}
		if e.What != whatBegin {
			since++
		}
	}
	changes := fmt.Sprintf("%d changes", since)
	if since == 1 {
		changes = "1 change"
	}
	switch {
	case name == "" && since == 0:
		return "as found"
	case name == "":
		return changes
	case since == 0:
		return name
	}
	return name + " and " + changes
}
