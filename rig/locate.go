package rig

import (
	"fmt"
	"strconv"
	"strings"
)

// step is one segment of a path on its way into a document.
type step struct {
	owner *node  // the group or list that holds the place; nil when it is not written yet
	field *field // what the place is: the field itself, or for a member the field of its list
	key   string // key, name or number
	index int    // of the entry or item in the owner, -1 when it is not there
	item  bool   // the owner is a list with dashes or brackets, not a group
	most  int    // for members: how many there are
}

// spot is where a path leads.
type spot struct {
	steps  []step
	part   *subfield // a value inside a draw, a size or cylinders
	rename bool      // the name of a member of named groups
}

func (s spot) last() step { return s.steps[len(s.steps)-1] }

// value returns the node at the place, nil when nothing is written there.
func (s step) value() *node {
	switch {
	case s.owner == nil || s.index < 0:
		return nil
	case s.item:
		return s.owner.items[s.index]
	}
	return s.owner.entries[s.index].value
}

// member tells that a place is a member of a list or of named groups, and not a field.
func (s step) member() bool { return s.item || s.field.form == formNamed && s.most >= 0 }

// locate follows a path from the root of a document. It fails when the path names no place that a rig can have.
func locate(root *node, path string) (spot, error) {
	at := spot{}
	shape, owner, rest := document, root, path
	for {
		if shape.keyed != nil && rest == "name" {
			at.rename = true
			return at, nil
		}
		f, below := headField(shape, rest)
		if f == nil {
			head, _, _ := strings.Cut(rest, "/")
			return spot{}, fmt.Errorf("no key %q in %q: %s", head, path, shape.keyHint(head))
		}
		st := step{owner: owner, field: f, key: f.key, index: -1, most: -1}
		if owner != nil && owner.kind == groupNode {
			st.index = owner.indexOf(f.key)
		}
		at.steps = append(at.steps, st)
		value := st.value()
		if below == "" {
			return at, nil
		}
		switch f.form {
		case formGroup:
			shape, owner, rest = f.shape, value, below
		case formList, formNamed, formNames:
			m, after, err := memberStep(f, value, below)
			if err != nil {
				return spot{}, fmt.Errorf("%s: %w", path, err)
			}
			at.steps = append(at.steps, m)
			if after == "" {
				return at, nil
			}
			shape, owner, rest = f.shape, m.value(), after
		default:
			for _, p := range partsOf(f) {
				if p.key == below {
					if value != nil && value.kind == groupNode {
						at.steps = append(at.steps, step{owner: value, field: asValue(p.field), key: p.key, index: value.indexOf(p.key), most: -1})
						return at, nil
					}
					at.part = &p
					return at, nil
				}
			}
			return spot{}, fmt.Errorf("nothing lies below %q in %q", f.key, path)
		}
	}
}

// headField finds the field that a path begins with, and what follows it.
func headField(s *shape, path string) (*field, string) {
	for i := range s.fields {
		f := &s.fields[i]
		if path == f.key {
			return f, ""
		}
		if rest, ok := strings.CutPrefix(path, f.key+"/"); ok {
			return f, rest
		}
	}
	return nil, ""
}

func (n *node) indexOf(key string) int {
	for i, e := range n.entries {
		if e.key == key {
			return i
		}
	}
	return -1
}

// memberStep finds the member that a path begins with. Names may hold strokes, so the longest name that fits is taken. A path that
// fits none is a new member of that name, or number one past the last.
func memberStep(f *field, list *node, path string) (step, string, error) {
	st := step{owner: list, field: f, index: -1, item: f.form != formNamed}
	var segments []string
	switch {
	case list == nil:
	case f.form == formNamed:
		for _, e := range list.entries {
			segments = append(segments, e.key)
		}
	case list.kind == listNode:
		segments = listSegments(list, f.shape)
	}
	st.most = len(segments)
	best := -1
	for i, s := range segments {
		if (path == s || strings.HasPrefix(path, s+"/")) && (best < 0 || len(s) > len(segments[best])) {
			best = i
		}
	}
	if best < 0 && st.item {
		// A member with a name may still be meant by its number.
		head, _, _ := strings.Cut(path, "/")
		if n, err := strconv.Atoi(head); err == nil && n >= 1 && n <= len(segments) {
			st.index, st.key = n-1, head
			return st, strings.TrimPrefix(strings.TrimPrefix(path, head), "/"), nil
		}
	}
	if best >= 0 {
		st.index, st.key = best, segments[best]
		return st, strings.TrimPrefix(path[len(segments[best]):], "/"), nil
	}
	st.key = path
	if st.item {
		n, err := strconv.Atoi(path)
		if err == nil && n != len(segments)+1 {
			return step{}, "", fmt.Errorf("no member number %d, there are %d", n, len(segments))
		}
		if err != nil && (f.shape == nil || f.shape.named == nil) {
			return step{}, "", fmt.Errorf("no member %q; they go by number from 1 to %d", short(path), len(segments))
		}
	}
	return st, "", nil
}
