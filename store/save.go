package store

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
)

// The order of a save: the new text goes into a file of its own beside the rig's (1), the change into the journal (2), then the new file
// takes the old one's name (3). A save that ends after 1 never was; one that ends after 2 is finished when the rig is opened again. At
// every moment the rig's file is whole.

// next is the file that holds the new text until it takes the rig's name.
func (s *Store) next() string {
	return filepath.Join(filepath.Dir(s.path), "."+filepath.Base(s.path)+".next")
}

// commit makes a new text the present one, with the journal's entry for it.
func (s *Store) commit(text []byte, e entry) error {
	e.At = s.now().UTC()
	e.From, e.To = hashOf(s.text), hashOf(text)
	e.Splice = spliceOf(s.text, text)
	if s.disk == nil {
		s.history.add(e, text)
		s.text = bytes.Clone(text)
		return nil
	}
	same := bytes.Equal(text, s.text)
	if !same {
		if err := s.disk.write(s.next(), text, s.mode); err != nil {
			return fmt.Errorf("rig %s cannot be saved: %w", s.name, errors.Join(err, s.disk.remove(s.next())))
		}
	}
	length := s.seen
	if err := s.append(e); err != nil {
		return fmt.Errorf("rig %s cannot be saved: %w", s.name, errors.Join(err, s.disk.remove(s.next())))
	}
	if !same {
		if err := s.disk.rename(s.next(), s.path); err != nil {
			// The journal says that it was done. It is taken back there, so that the two agree.
			back := s.disk.cut(s.journal, length)
			s.seen, s.begun = length, s.begun && length > 0
			return fmt.Errorf("rig %s cannot be saved: %w", s.name, errors.Join(err, back, s.disk.remove(s.next())))
		}
	}
	s.history.add(e, text)
	s.text = bytes.Clone(text)
	return s.stat()
}

// append writes an entry at the end of the journal, which begins with the text that the first change found.
func (s *Store) append(e entry) error {
	var lines []byte
	if s.torn {
		lines = append(lines, '\n') // what was cut off stays a line of its own, and is passed over
	}
	if !s.begun && e.What != whatBegin {
		first := s.history.entries[len(s.history.entries)-1]
		first.What, first.Full = whatBegin, string(s.text)
		line, err := first.line()
		if err != nil {
			return err
		}
		lines = append(lines, line...)
	}
	line, err := e.line()
	if err != nil {
		return err
	}
	lines = append(lines, line...)
	if err := s.disk.add(s.journal, lines, s.mode); err != nil {
		return err // half a line may stay; the next look finds the journal longer than we know it, and reads it again
	}
	s.seen, s.begun, s.torn = max(s.seen, 0)+int64(len(lines)), true, false
	return nil
}

// stat reads the time of the file anew after a save.
func (s *Store) stat() error {
	_, mode, changed, err := s.disk.read(s.path)
	if err != nil {
		return fmt.Errorf("rig %s: %w", s.name, err)
	}
	s.mode, s.changed = mode, changed
	return nil
}

// look reads the file and the journal again and takes in what was changed outside.
func (s *Store) look() error {
	if s.disk == nil {
		return nil
	}
	text, mode, changed, err := s.disk.read(s.path)
	if err != nil {
		return fmt.Errorf("rig %s cannot be read: %w", s.name, err)
	}
	size, err := s.disk.size(s.journal)
	if err != nil {
		return fmt.Errorf("journal of rig %s: %w", s.name, err)
	}
	s.mode, s.changed = mode, changed
	if size != s.seen || s.history.empty() {
		if err := s.load(text, size); err != nil {
			return err
		}
	}
	s.strange = !editable(text)
	if s.strange {
		s.text = text
		return nil
	}
	if head := s.history.head(); hashOf(text) != head {
		s.outside(text)
	}
	s.text = text
	return nil
}

// outside takes a text into the history that somebody else wrote, and into the journal if there is one. A journal that cannot be written
// does not keep the rig from being read: the next look tries again.
func (s *Store) outside(text []byte) {
	if !s.begun { // no change of ours yet: the history begins here
		s.history = history{}
		s.history.begin(text, s.changed)
		return
	}
	e := entry{What: whatOutside, At: s.changed.UTC(), From: s.history.head(), To: hashOf(text)}
	before, err := s.history.textOf(e.From)
	if err != nil { // the journal is damaged; it begins anew, and all that still reads stays
		e = entry{What: whatBegin, At: s.changed.UTC(), To: hashOf(text), Full: string(text)}
	} else {
		e.Splice = spliceOf(before, text)
	}
	if s.append(e) == nil {
		s.history.add(e, text)
	}
}

// load reads the journal. Lines that do not read are passed over.
func (s *Store) load(text []byte, size int64) error {
	s.history = history{}
	s.seen, s.begun, s.torn = size, false, false
	if size > 0 {
		data, _, _, err := s.disk.read(s.journal)
		if err != nil {
			return fmt.Errorf("journal of rig %s: %w", s.name, err)
		}
		s.seen = int64(len(data))
		s.torn = len(data) > 0 && data[len(data)-1] != '\n'
		s.history.replay(data)
		s.begun = !s.history.empty()
	}
	if s.history.empty() && editable(text) {
		s.history.begin(text, s.changed)
	}
	return nil
}

// recover finishes a save that was cut off after it went into the journal, and clears away one that was cut off before.
func (s *Store) recover() error {
	_, _, _, err := s.disk.read(s.next())
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("rig %s: a save was cut off: %w", s.name, err)
	}
	defer s.disk.lock(s.journal)()
	fresh, _, _, err := s.disk.read(s.next())
	if errors.Is(err, fs.ErrNotExist) {
		return nil // another program was saving just now, and is done
	}
	text, _, changed, err := s.disk.read(s.path)
	if err != nil {
		return fmt.Errorf("rig %s cannot be read: %w", s.name, err)
	}
	size, err := s.disk.size(s.journal)
	if err != nil {
		return fmt.Errorf("journal of rig %s: %w", s.name, err)
	}
	s.changed = changed
	if err := s.load(text, size); err != nil {
		return err
	}
	last := entry{}
	if n := len(s.history.entries); n > 0 {
		last = s.history.entries[n-1]
	}
	if last.To == hashOf(fresh) && last.From == hashOf(text) {
		if err := s.disk.rename(s.next(), s.path); err != nil {
			return fmt.Errorf("rig %s: a save was cut off and cannot be finished: %w", s.name, err)
		}
	} else if err := s.disk.remove(s.next()); err != nil {
		return fmt.Errorf("rig %s: a save was cut off: %w", s.name, err)
	}
	s.history = history{}
	return nil
}
