package rig

import (
	"errors"
	"fmt"
	"reflect"
	"strings"
)

// Apply makes edits in the text of a document, in their order, and returns the new text. Comments, order, blank lines, line ends and
// everything else that no edit names stay byte for byte.
//
// A path leads to one value ("modules/field 200/voc", "appliances/fan/power/duty"), to a whole member ("arrays/front", "trip/2") or to
// a whole group ("roof"). Old and New are what a person would write there: the value's text, or for a member or group its YAML. Old
// must be what stands there, so that an edit made for an older text is refused; an empty Old adds and an empty New removes. New members
// go to the end of their list; a list's next number, or a new name, adds one. The name of a module, controller and the like is edited
// under "name".
//
// New is checked as Decode would, its references not. On an error nothing is changed, and the text returned is nil.
func Apply(text []byte, edits []Edit) ([]byte, error) {
	s, err := openSheet(text)
	if err != nil {
		return nil, fmt.Errorf("edit: %w", err)
	}
	for _, e := range edits {
		if err := s.edit(e); err != nil {
			return nil, fmt.Errorf("edit %q: %w", e.Path, err)
		}
	}
	out := s.bytes()
	if len(out) > mostBytes || len(s.lines) > mostLines {
		return nil, errors.New("edit: the file would grow too large")
	}
	return out, nil
}

// Read returns what stands at a path of a document, as an Edit's Old would have it: the text of a value, or a group or member in
// brackets. It is empty when nothing stands there, and an error when a rig has no such place or the text is not well formed.
func Read(text []byte, path string) (string, error) {
	s, err := openSheet(text)
	if err != nil {
		return "", err
	}
	at, err := locate(s.root, path)
	if err != nil {
		return "", err
	}
	return at.text(), nil
}

// LineOf returns the line, from 1, in which the value at a path of a document begins; zero when nothing stands there, and an error when a
// rig has no such place or the text is not well formed.
func LineOf(text []byte, path string) (int, error) {
	s, err := openSheet(text)
	if err != nil {
		return 0, err
	}
	at, err := locate(s.root, path)
	if err != nil {
		return 0, err
	}
	if v := at.last().value(); v != nil && !at.rename {
		return v.line, nil
	}
	return 0, nil
}

// Reverse returns the edit that undoes e. Undoing the removal of a member puts it at the end of its list.
func (e Edit) Reverse() Edit { return Edit{Path: e.Path, Old: e.New, New: e.Old} }

// text returns what stands at a place.
func (at spot) text() string {
	if at.rename {
		return at.last().key
	}
	v := at.last().value()
	switch {
	case v == nil || v.kind == emptyNode:
		return ""
	case at.part != nil:
		return at.partText(v.text)
	case v.kind == textNode:
		return v.text
	}
	return flowText(v)
}

// partText reads one value out of the text of a draw, a size or cylinders.
func (at spot) partText(text string) string {
	holder := reflect.New(at.last().field.typ).Elem()
	if bad := (&decoder{places: map[string]At{}}).leaf(&node{kind: textNode, text: text}, holder, at.last().field, ""); bad != nil {
		return ""
	}
	return holder.FieldByIndex(at.part.index).Interface().(Value).Text()
}

// edit makes one edit.
func (s *sheet) edit(e Edit) error {
	at, err := locate(s.root, e.Path)
	if err != nil {
		return err
	}
	now := at.text()
	switch {
	case e.Old == "" && e.New == "":
		return errors.New("neither an old nor a new text")
	case e.Old == "" && now != "":
		return fmt.Errorf("%q stands there already", short(now))
	case e.Old != "" && now == "":
		return fmt.Errorf("expected %q, and nothing stands there", short(e.Old))
	case e.Old != "" && at.canon(e.Old) != at.canon(now):
		return fmt.Errorf("expected %q, found %q", short(e.Old), short(now))
	}
	if at.rename {
		return s.rename(at, e.New)
	}
	var fresh *node
	if e.New != "" {
		if fresh, err = at.read(e.New); err != nil {
			return err
		}
	}
	if at.part != nil {
		if fresh, err = at.withPart(e.New); err != nil {
			return err
		}
	}
	want := clone(s.root)
	switch there := at.last().value() != nil; {
	case fresh == nil:
		if err := s.remove(at.steps, want); err != nil {
			return err
		}
	case there:
		if err := s.set(at, fresh, want); err != nil {
			return err
		}
	default:
		if err := s.add(at.steps, fresh, want); err != nil {
			return err
		}
	}
	return s.settle(want)
}

// settle reads the changed lines and makes sure that they say what was meant and nothing else.
func (s *sheet) settle(want *node) error {
	if err := s.parse(); err != nil {
		return errLost
	}
	if !same(s.root, want) {
		return errLost
	}
	return nil
}

// canon writes a text in one way, so that texts that mean the same compare equal.
func (at spot) canon(text string) string {
	if at.rename {
		return text
	}
	if at.part != nil {
		if v, bad := readValue(text, at.part.field.kinds); bad == nil {
			return v.Text()
		}
		return text
	}
	n, err := at.read(text)
	if err != nil {
		return text
	}
	st := at.last()
	if n.kind == textNode && !st.member() {
		holder := reflect.New(st.field.typ).Elem()
		if bad := (&decoder{places: map[string]At{}}).leaf(n, holder, st.field, ""); bad == nil {
			return leafText(holder, st.field)
		}
		return n.text
	}
	return flowText(at.ordered(n))
}

// ordered brings a group or list into the order and the words of Encode.
func (at spot) ordered(n *node) *node {
	st := at.last()
	d := &decoder{places: map[string]At{}}
	if st.member() {
		if st.field.shape == nil {
			return n
		}
		holder := reflect.New(st.field.shape.typ).Elem()
		d.group(n, holder, st.field.shape, "", true)
		return groupTree(holder, st.field.shape)
	}
	holder := reflect.New(st.field.typ).Elem()
	d.field(n, holder, st.field, "")
	if tree := fieldTree(holder, st.field); tree != nil {
		return tree
	}
	return n
}

// read turns the new text of an edit into a tree and checks it as Decode would.
func (at spot) read(text string) (*node, error) {
	st := at.last()
	f := st.field
	if at.part != nil {
		v, bad := readValue(text, at.part.field.kinds)
		if bad == nil {
			bad = at.part.field.flawOf(v)
		}
		if bad != nil {
			return nil, bad
		}
		return &node{kind: textNode, text: strings.TrimSpace(text)}, nil
	}
	nested := st.member() || f.form == formGroup || f.form == formList || f.form == formNamed || f.form == formNames
	if st.member() && f.form == formNames || !nested {
		n := &node{kind: textNode, text: text}
		if !f.lines {
			n.text = strings.TrimSpace(text)
		}
		if !nested {
			holder := reflect.New(f.typ).Elem()
			if bad := (&decoder{places: map[string]At{}}).leaf(n, holder, f, ""); bad != nil {
				return nil, bad
			}
		}
		return n, nil
	}
	return at.readNested(text)
}

// readNested reads the YAML of a group, a list or a member.
func (at spot) readNested(text string) (*node, error) {
	st := at.last()
	src, faults := prepare([]byte(text))
	if faults != nil {
		return nil, faults
	}
	n, faults, _ := parseOnce(src.text)
	if faults != nil {
		return nil, faults
	}
	if n == nil {
		return nil, errors.New("the new text says nothing")
	}
	d := &decoder{places: map[string]At{}}
	if !st.member() {
		d.field(n, reflect.New(st.field.typ).Elem(), st.field, st.key)
		return n, d.faults.Err()
	}
	shape := st.field.shape
	if shape.named != nil && n.kind == groupNode && st.index < 0 && goesByName(st.key) {
		switch name := n.get("name"); {
		case name == nil:
			n.entries = append([]entry{{key: "name", value: &node{kind: textNode, text: st.key}}}, n.entries...)
		case name.text != st.key:
			return nil, fmt.Errorf("the path names %q and the text names %q", st.key, name.text)
		}
	}
	d.group(n, reflect.New(shape.typ).Elem(), shape, st.key, false)
	return n, d.faults.Err()
}

// withPart writes the draw, size or cylinders anew with one value changed; nil when nothing is left of it.
func (at spot) withPart(text string) (*node, error) {
	f := at.last().field
	holder := reflect.New(f.typ).Elem()
	if old := at.last().value(); old != nil {
		if bad := (&decoder{places: map[string]At{}}).leaf(old, holder, f, ""); bad != nil {
			return nil, bad
		}
	}
	v := Value{}
	if text != "" {
		var bad *flaw
		if v, bad = readValue(text, at.part.field.kinds); bad != nil {
			return nil, bad
		}
	}
	holder.FieldByIndex(at.part.index).Set(reflect.ValueOf(v))
	whole := leafText(holder, f)
	if whole == "" {
		return nil, nil
	}
	n := &node{kind: textNode, text: whole}
	again := reflect.New(f.typ).Elem()
	if bad := (&decoder{places: map[string]At{}}).leaf(n, again, f, ""); bad != nil {
		return nil, bad
	}
	if leafText(again, f) != whole {
		return nil, errors.New("the other part of it must be written first")
	}
	return n, nil
}

// clone copies a tree.
func clone(n *node) *node {
	if n == nil {
		return nil
	}
	c := *n
	c.items = make([]*node, len(n.items))
	for i := range n.items {
		c.items[i] = clone(n.items[i])
	}
	c.entries = make([]entry, len(n.entries))
	for i, e := range n.entries {
		e.value = clone(e.value)
		c.entries[i] = e
	}
	return &c
}

// same tells whether two trees say the same, whatever their places and styles.
func same(a, b *node) bool {
	if a.kind != b.kind || strings.TrimRight(a.text, "\n") != strings.TrimRight(b.text, "\n") || len(a.items) != len(b.items) || len(a.entries) != len(b.entries) {
		return false
	}
	for i := range a.items {
		if !same(a.items[i], b.items[i]) {
			return false
		}
	}
	for i := range a.entries {
		if a.entries[i].key != b.entries[i].key || !same(a.entries[i].value, b.entries[i].value) {
			return false
		}
	}
	return true
}
