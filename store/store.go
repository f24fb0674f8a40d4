// Package store keeps a rig's file on disk: it saves so that the file is always the old one or the new one, and writes a journal beside
// it in which every change can be found and undone, for as long as the journal is kept.
//
// The file is the owner's. It may be changed by an editor, by version control or by a second program while this one runs; what is found
// on disk is taken in as a change like any other, and a change that was made for another text than the one on disk is refused, so that
// nothing is lost.
//
// Left out: merging of two people's changes (version control does that), and any folder of the program's own beside the list of recent
// rigs.
package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"sync"
	"time"
	"unicode/utf8"

	"campwright/rig"
)

// Errors that a caller branches on.
var (
	ErrChanged = errors.New("the rig was changed elsewhere meanwhile") // the change was made for another text than the one on disk
	ErrNothing = errors.New("there is nothing to undo or redo")
	ErrUnknown = errors.New("no such revision")
	ErrText    = errors.New("the file is not text that can be edited")
)

// EditError is why an edit does not fit the text, in words for the person who made it.
type EditError struct{ Err error }

func (e *EditError) Error() string { return e.Err.Error() }

func (e *EditError) Unwrap() error { return e.Err }

// Store is one rig's file with its journal. It is safe from any goroutine.
type Store struct {
	mu      sync.Mutex
	disk    disk // nil for a rig that is only in memory
	name    string
	path    string
	journal string // path of the journal
	now     func() time.Time

	history history
	text    []byte
	mode    fs.FileMode
	changed time.Time
	strange bool  // what is on disk is no text; it is shown and not edited
	seen    int64 // length of the journal as we know it; -1 when there is none
	begun   bool  // the journal holds the text it begins with
	torn    bool  // its last line was cut off by a power cut
}

// State is the rig as it stands.
type State struct {
	Text     []byte
	Revision string    // names the text
	Label    string    // for people: the kept revision and how far it has gone since
	Changed  time.Time // of the file
	Undo     string    // what the next undo takes back, in words; empty when there is nothing
	Redo     string
	Saved    bool // it is a file; false for a rig in memory
}

// Open opens a rig's file. The file must be there; its journal is made with the first change.
func Open(path string, now func() time.Time) (*Store, error) { return open(path, now, osDisk{}) }

func open(path string, now func() time.Time, d disk) (*Store, error) {
	full, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("rig %s: %w", path, err)
	}
	if real, err := d.real(full); err == nil {
		full = real // a link is followed, so that a save replaces the file and not the link
	}
	s := &Store{disk: d, name: filepath.Base(full), path: full, journal: full + ".journal", now: now}
	if err := s.recover(); err != nil {
		return nil, err
	}
	if err := s.look(); err != nil {
		return nil, err
	}
	return s, nil
}

// Scratch is a rig in memory, such as a demo: all works on it, and nothing is kept.
func Scratch(name string, text []byte, now func() time.Time) *Store {
	s := &Store{name: name, now: now, text: bytes.Clone(text)}
	s.history.begin(text, now())
	return s
}

// Name returns the name of the file without its folder.
func (s *Store) Name() string { return s.name }

// Path returns where the file is; empty for a rig in memory.
func (s *Store) Path() string { return s.path }

// State reads the file again and returns the rig as it stands. What was changed outside is taken into the history.
func (s *Store) State() (State, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.look(); err != nil {
		return State{}, err
	}
	return s.state(), nil
}

// enter begins a change: it keeps other goroutines and other programs out, and reads what stands there now. leave ends it.
func (s *Store) enter() (leave func(), err error) {
	s.mu.Lock()
	free := func() {}
	if s.disk != nil {
		free = s.disk.lock(s.journal)
	}
	leave = func() {
		free()
		s.mu.Unlock()
	}
	if err := s.look(); err != nil {
		leave()
		return nil, err
	}
	return leave, nil
}

func (s *Store) state() State {
	return State{
		Text: bytes.Clone(s.text), Revision: hashOf(s.text), Label: s.history.label(), Changed: s.changed,
		Undo: s.history.undoWords(), Redo: s.history.redoWords(), Saved: s.disk != nil,
	}
}

// Edit makes edits for the text of a revision. ErrChanged means that another text stands there by now and an edit does not fit it.
func (s *Store) Edit(revision string, edits []rig.Edit, note string) (State, error) {
	leave, err := s.enter()
	if err != nil {
		return State{}, err
	}
	defer leave()
	if s.strange {
		return State{}, ErrText
	}
	text, err := applied(s.text, edits)
	if err != nil {
		if revision != hashOf(s.text) {
			return State{}, fmt.Errorf("%w: %w", ErrChanged, err)
		}
		return State{}, &EditError{err}
	}
	if err := s.commit(text, entry{What: whatEdit, Edits: edits, Note: note}); err != nil {
		return State{}, err
	}
	return s.state(), nil
}

// applied makes edits one after the other, and mends the remarks that each of them has made untrue. An edit that puts back what stands
// there says that it is right.
func applied(text []byte, edits []rig.Edit) ([]byte, error) {
	if !bytes.Contains(text, []byte(takenWord)) {
		return rig.Apply(text, edits)
	}
	for i := range edits {
		next, err := rig.Apply(text, edits[i:i+1])
		if err != nil {
			return nil, err
		}
		if e := &edits[i]; e.Old != "" && e.Old == e.New {
			next, err = confirmed(text, e.Path)
			if err != nil {
				return nil, err
			}
		} else {
			next = ownRemarks(text, next)
		}
		text = next
	}
	return text, nil
}

// Try tells what an edit would make of the present text, and changes nothing.
func (s *Store) Try(edits []rig.Edit) ([]byte, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	text, err := rig.Apply(s.text, edits)
	if err != nil {
		return nil, &EditError{err}
	}
	return text, nil
}

// Write replaces the whole text of a revision. Another text on disk is ErrChanged.
func (s *Store) Write(revision string, text []byte, note string) (State, error) {
	leave, err := s.enter()
	if err != nil {
		return State{}, err
	}
	defer leave()
	if revision != hashOf(s.text) {
		return State{}, ErrChanged
	}
	if !editable(text) {
		return State{}, ErrText
	}
	if bytes.Equal(text, s.text) {
		return s.state(), nil
	}
	if err := s.commit(text, entry{What: whatText, Note: note}); err != nil {
		return State{}, err
	}
	return s.state(), nil
}

// Undo takes back the last change of a revision that was not taken back yet.
func (s *Store) Undo(revision string) (State, error) { return s.step(revision, whatUndo) }

// Redo makes the last change again that was taken back.
func (s *Store) Redo(revision string) (State, error) { return s.step(revision, whatRedo) }

func (s *Store) step(revision, what string) (State, error) {
	leave, err := s.enter()
	if err != nil {
		return State{}, err
	}
	defer leave()
	if revision != hashOf(s.text) {
		return State{}, ErrChanged
	}
	text, of, err := s.history.target(what, s.text)
	if err != nil {
		return State{}, err
	}
	if err := s.commit(text, entry{What: what, Of: of}); err != nil {
		return State{}, err
	}
	return s.state(), nil
}

// Keep gives the present text a name to come back to.
func (s *Store) Keep(name, note string) (State, error) {
	leave, err := s.enter()
	if err != nil {
		return State{}, err
	}
	defer leave()
	if s.strange {
		return State{}, ErrText
	}
	if err := s.commit(s.text, entry{What: whatName, Name: name, Note: note}); err != nil {
		return State{}, err
	}
	return s.state(), nil
}

// Kept is a revision with a name.
type Kept struct {
	Revision string
	Name     string
	Note     string
	At       time.Time
}

// Kept returns the named revisions, the newest first.
func (s *Store) Kept() []Kept {
	s.mu.Lock()
	defer s.mu.Unlock()
	var list []Kept
	for _, e := range s.history.entries {
		if e.What == whatName {
			list = append(list, Kept{Revision: e.To, Name: e.Name, Note: e.Note, At: e.At})
		}
	}
	slices.Reverse(list)
	return list
}

// Change is one change of the history.
type Change struct {
	Number   int
	At       time.Time
	Words    string
	Note     string
	Revision string // after it
}

// Changes returns the last changes, the newest first, at most so many.
func (s *Store) Changes(most int) []Change {
	s.mu.Lock()
	defer s.mu.Unlock()
	var list []Change
	for i := len(s.history.entries) - 1; i >= 0 && len(list) < most; i-- {
		e := s.history.entries[i]
		list = append(list, Change{Number: i, At: e.At, Words: s.history.words(e), Note: e.Note, Revision: e.To})
	}
	return list
}

// Text returns the text of a revision of the history. ErrUnknown means that the journal does not hold it.
func (s *Store) Text(revision string) ([]byte, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if revision == hashOf(s.text) {
		return bytes.Clone(s.text), nil
	}
	return s.history.textOf(revision)
}

// hashOf names a text.
func hashOf(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:8])
}

// mostText is the largest file that is edited [bytes]; package rig refuses larger ones anyhow.
const mostText = 1 << 20

// editable tells whether a text can be written into the journal and edited.
func editable(text []byte) bool { return len(text) <= mostText && utf8.Valid(text) }
