package rig

import (
	"errors"
	"fmt"
	"strings"
)

// twin finds in a copy of the tree the owner of a step. The copy is then changed as the text is, and compared with what the changed
// text says.
func twin(steps []step, copied *node) *node {
	n := copied
	for _, st := range steps[:len(steps)-1] {
		if st.item {
			n = n.items[st.index]
		} else {
			n = n.entries[st.index].value
		}
	}
	return n
}

// bracketed tells whether a place lies inside brackets.
func bracketed(steps []step) bool {
	for _, st := range steps {
		if st.owner != nil && st.owner.flow {
			return true
		}
	}
	return false
}

// extent returns where a place begins and ends: for an entry from its key, for a member of a list from its content.
func (s *sheet) extent(steps []step) (from, to pos, err error) {
	st := steps[len(steps)-1]
	flow := bracketed(steps)
	if !st.item {
		e := st.owner.entries[st.index]
		if from, err = s.at(e.line, e.column); err != nil {
			return from, to, err
		}
		to, err = s.entryEnd(e, flow)
		return from, to, err
	}
	item := st.owner.items[st.index]
	if from, err = s.at(item.line, item.column); err != nil {
		return from, to, err
	}
	dash := from.byte
	if !flow {
		d, err := s.dashOf(from)
		if err != nil {
			return from, to, err
		}
		dash = d.byte
	}
	to, err = s.end(item, dash, flow)
	return from, to, err
}

// dashOf finds the dash of the list member whose content begins at p.
func (s *sheet) dashOf(p pos) (pos, error) {
	for line := p.line; line >= 0; line-- {
		before := s.lines[line]
		if line == p.line {
			before = before[:p.byte]
		}
		text := strings.TrimSpace(before)
		if text == "" || line != p.line && strings.HasPrefix(text, "#") {
			continue
		}
		if i := strings.LastIndexByte(before, '-'); i >= 0 && strings.Trim(before, " -") == "" {
			return pos{line, i}, nil
		}
		break
	}
	return pos{}, errLost
}

// alone tells whether nothing but spaces stands before a place on its line.
func (s *sheet) alone(p pos) bool { return strings.TrimSpace(s.lines[p.line][:p.byte]) == "" }

// rename changes the name of a member of named groups.
func (s *sheet) rename(at spot, name string) error {
	st := at.last()
	if name == "" || st.index < 0 || strings.ContainsAny(name, "\n\r\t") {
		return errors.New("not a name")
	}
	if st.owner.indexOf(name) >= 0 {
		return fmt.Errorf("the name %q is already used", name)
	}
	e := st.owner.entries[st.index]
	from, err := s.at(e.line, e.column)
	if err != nil {
		return err
	}
	to, err := s.keyEnd(from, e.key)
	if err != nil {
		return err
	}
	want := clone(s.root)
	twin(at.steps, want).entries[st.index].key = name
	s.replace(from, to, scalar(name, bracketed(at.steps)))
	return s.settle(want)
}

// set replaces what stands at a place.
func (s *sheet) set(at spot, fresh, want *node) error {
	st := at.last()
	owner := twin(at.steps, want)
	if st.item {
		owner.items[st.index] = fresh
	} else {
		owner.entries[st.index].value = fresh
	}
	from, to, err := s.extent(at.steps)
	if err != nil {
		return err
	}
	old := st.value()
	flow := bracketed(at.steps)
	if !flow && (blockStyle(old) || blockStyle(fresh)) && !(old.kind == textNode && fresh.kind == textNode) {
		return s.setBlock(st, from, to, fresh)
	}
	if !st.item {
		if old.kind == emptyNode {
			from = to
			s.replace(from, to, " "+flowText(fresh))
			return nil
		}
		if from, err = s.at(old.line, old.column); err != nil {
			return err
		}
	}
	s.replace(from, to, inline(fresh, flow))
	return nil
}

// inline writes a node on one line.
func inline(n *node, flow bool) string {
	if n.kind == textNode {
		return scalar(n.text, flow)
	}
	return flowText(n)
}

// blockStyle tells whether a node is written over several lines without brackets.
func blockStyle(n *node) bool {
	return !n.flow && (n.kind == groupNode && len(n.entries) > 0 || n.kind == listNode && len(n.items) > 0)
}

// setBlock replaces an entry or member that takes whole lines.
func (s *sheet) setBlock(st step, from, to pos, fresh *node) error {
	start := from
	var lines []string
	if st.item {
		var err error
		if start, err = s.dashOf(from); err != nil {
			return err
		}
		lines = itemLines(fresh, start.byte)
	} else {
		lines = entryLines(entry{key: st.key, value: fresh}, start.byte)
	}
	head := s.lines[start.line][:start.byte]
	lines[0] = head + lines[0][start.byte:]
	tail := s.lines[to.line][to.byte:]
	lines[len(lines)-1] += tail
	after := start.line
	s.lines[start.line] = lines[0]
	if to.line > start.line {
		s.ends[start.line] = s.ends[to.line]
		s.cut(start.line+1, to.line+1)
	}
	s.insert(after, lines[1:])
	return nil
}

// add writes a place that is not there yet, together with the groups above it that are not there either.
func (s *sheet) add(steps []step, fresh, want *node) error {
	for len(steps) > 1 && (steps[len(steps)-1].owner == nil || steps[len(steps)-1].owner.kind == emptyNode) {
		st := steps[len(steps)-1]
		switch {
		case st.item:
			fresh = &node{kind: listNode, items: []*node{fresh}, flow: st.field.form == formNames}
		default:
			fresh = &node{kind: groupNode, entries: []entry{{key: st.key, value: fresh}}}
		}
		steps = steps[:len(steps)-1]
	}
	st := steps[len(steps)-1]
	if st.value() != nil {
		// An empty key above: give it its value.
		return s.set(spot{steps: steps}, fresh, want)
	}
	owner := twin(steps, want)
	if st.item {
		if st.owner.kind != listNode {
			return errLost
		}
		owner.items = append(owner.items, fresh)
		return s.addItem(steps, fresh)
	}
	if st.owner.kind != groupNode {
		return errLost
	}
	place := len(owner.entries)
	if !st.member() {
		place = placeFor(st, steps)
	}
	e := entry{key: st.key, value: fresh}
	owner.entries = append(owner.entries[:place:place], append([]entry{e}, owner.entries[place:]...)...)
	return s.addEntry(steps, e, place)
}

// placeFor returns after how many entries a new field goes: before the first one that document.go has later, but never before the
// first of all, whose comments may belong to the group.
func placeFor(st step, steps []step) int {
	shape := document
	for i := len(steps) - 2; i >= 0; i-- {
		if steps[i].field.shape != nil {
			shape = steps[i].field.shape
			break
		}
	}
	order := map[string]int{}
	for i := range shape.fields {
		order[shape.fields[i].key] = i
	}
	mine := order[st.key]
	for i, e := range st.owner.entries {
		if n, known := order[e.key]; known && n > mine {
			return min(max(i, 1), len(st.owner.entries))
		}
	}
	return len(st.owner.entries)
}

// addEntry writes a new entry behind the given number of entries of its group.
func (s *sheet) addEntry(steps []step, e entry, place int) error {
	st := steps[len(steps)-1]
	if bracketed(steps) {
		text := scalar(e.key, true) + ": " + flowText(e.value)
		if len(st.owner.entries) == 0 {
			return s.openBracket(st.owner, text)
		}
		end, err := s.entryEnd(st.owner.entries[place-1], true)
		if err != nil {
			return err
		}
		s.replace(end, end, ", "+text)
		return nil
	}
	if place == 0 {
		return errLost
	}
	before := st.owner.entries[place-1]
	end, err := s.entryEnd(before, false)
	if err != nil {
		return err
	}
	first, err := s.at(st.owner.entries[0].line, st.owner.entries[0].column)
	if err != nil {
		return err
	}
	lines := entryLines(e, first.byte)
	if len(steps) == 1 && (len(lines) > 1 || end.line+1 < len(s.lines) && before.value.kind != textNode) {
		lines = append([]string{""}, lines...)
	}
	s.insert(end.line, lines)
	return nil
}

// openBracket writes the first thing into empty brackets.
func (s *sheet) openBracket(owner *node, text string) error {
	p, err := s.at(owner.line, owner.column)
	if err != nil {
		return err
	}
	l := s.lines[p.line]
	if p.byte >= len(l) || l[p.byte] != '{' && l[p.byte] != '[' {
		return errLost
	}
	p.byte++
	s.replace(p, p, text)
	return nil
}

// addItem writes a new member at the end of a list.
func (s *sheet) addItem(steps []step, fresh *node) error {
	st := steps[len(steps)-1]
	n := len(st.owner.items)
	if bracketed(steps) {
		if n == 0 {
			return s.openBracket(st.owner, flowText(fresh))
		}
		last := steps[: len(steps)-1 : len(steps)-1]
		st.index = n - 1
		_, end, err := s.extent(append(last, st))
		if err != nil {
			return err
		}
		s.replace(end, end, ", "+flowText(fresh))
		return nil
	}
	if n == 0 {
		return errLost
	}
	st.index = n - 1
	from, end, err := s.extent(append(steps[:len(steps)-1:len(steps)-1], st))
	if err != nil {
		return err
	}
	dash, err := s.dashOf(from)
	if err != nil {
		return err
	}
	lines := itemLines(fresh, dash.byte)
	if st.owner.items[n-1].flow {
		lines = []string{strings.Repeat(" ", dash.byte) + "- " + flowText(fresh)}
	}
	s.insert(end.line, lines)
	return nil
}
