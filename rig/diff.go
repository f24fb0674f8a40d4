package rig

import (
	"reflect"
	"strconv"
)

// Diff returns the edits that turn rig a into rig b, in an order in which Apply can make them. Members with names are followed by
// their names; a list whose members changed their order is replaced as a whole. Defaults are not written, so they make no edit.
func Diff(a, b Rig) []Edit {
	d := &differ{}
	d.group(groupTree(reflect.ValueOf(&a).Elem(), document), groupTree(reflect.ValueOf(&b).Elem(), document), document, "")
	return d.edits
}

type differ struct{ edits []Edit }

func (d *differ) add(path, before, after string) {
	if before != after {
		d.edits = append(d.edits, Edit{Path: path, Old: before, New: after})
	}
}

// written is the text of a tree in an edit; nothing, and a list without members, are empty.
func written(n *node, f *field) string {
	switch {
	case n == nil || n.kind == emptyNode:
		return ""
	case n.kind == textNode:
		return n.text
	case (f.form == formList || f.form == formNamed || f.form == formNames) && len(n.items)+len(n.entries) == 0:
		return ""
	}
	return flowText(n)
}

// group compares two groups; what is left out comes last, so that no group runs empty on the way.
func (d *differ) group(a, b *node, s *shape, path string) {
	for pass := range 2 {
		for i := range s.fields {
			f := &s.fields[i]
			x, y := a.get(f.key), b.get(f.key)
			here := join(path, f.key)
			before, after := written(x, f), written(y, f)
			if (after == "") != (pass == 1) || before == after {
				continue
			}
			switch {
			case before == "" || after == "" || x.kind != y.kind:
				d.add(here, before, after)
			case f.form == formGroup:
				d.group(x, y, f.shape, here)
			case f.form == formList:
				d.list(x, y, f, here)
			case f.form == formNamed:
				d.named(x, y, f, here)
			default:
				d.add(here, before, after)
			}
		}
	}
}

// member is one member of a list with the name it goes by.
type member struct {
	name string
	tree *node
}

// named compares groups by name.
func (d *differ) named(a, b *node, f *field, path string) {
	list := func(n *node) []member {
		ms := make([]member, len(n.entries))
		for i, e := range n.entries {
			ms[i] = member{e.key, e.value}
		}
		return ms
	}
	d.members(list(a), list(b), f, path, flowText(a), flowText(b))
}

// list compares lists: by name where every member has its own, otherwise by number.
func (d *differ) list(a, b *node, f *field, path string) {
	list := func(n *node) ([]member, bool) {
		ms := make([]member, len(n.items))
		ok := true
		for i, s := range listSegments(n, f.shape) {
			ms[i] = member{s, n.items[i]}
			ok = ok && goesByName(s)
		}
		return ms, ok
	}
	x, named := list(a)
	y, also := list(b)
	if named && also {
		d.members(x, y, f, path, flowText(a), flowText(b))
		return
	}
	d.numbered(a.items, b.items, f, path, flowText(a), flowText(b))
}

// members compares members by name. Those of both must come in the same order, and new ones at the end; otherwise the whole list is
// replaced, as it is when none stays.
func (d *differ) members(a, b []member, f *field, path, before, after string) {
	was, is := map[string]*node{}, map[string]*node{}
	for _, m := range a {
		was[m.name] = m.tree
	}
	for _, m := range b {
		is[m.name] = m.tree
	}
	order := []string{}
	for _, m := range a {
		if is[m.name] != nil {
			order = append(order, m.name)
		}
	}
	kept := len(order)
	for _, m := range b {
		if was[m.name] == nil {
			order = append(order, m.name)
		}
	}
	fits := kept > 0 && len(was) == len(a) && len(is) == len(b) && len(order) == len(b) && !prefixed(a, b)
	for i := range order {
		fits = fits && order[i] == b[i].name
	}
	if !fits {
		d.add(path, before, after)
		return
	}
	for _, m := range b {
		if old := was[m.name]; old != nil {
			d.group(old, m.tree, f.shape, join(path, m.name))
		} else {
			d.add(join(path, m.name), "", flowText(m.tree))
		}
	}
	for _, m := range a {
		if is[m.name] == nil {
			d.add(join(path, m.name), flowText(m.tree), "")
		}
	}
}

// prefixed tells whether a name with a stroke begins with another name, so that a path could be read two ways while one of the two is
// not there.
func prefixed(lists ...[]member) bool {
	for _, x := range lists {
		for _, m := range x {
			for _, y := range lists {
				for _, n := range y {
					if len(m.name) > len(n.name) && m.name[:len(n.name)+1] == n.name+"/" {
						return true
					}
				}
			}
		}
	}
	return false
}

// numbered compares lists by the number of their members: the same beginning and end are left alone, what lies between is changed,
// removed from the back or added at the end.
func (d *differ) numbered(a, b []*node, f *field, path, before, after string) {
	begin := 0
	for begin < len(a) && begin < len(b) && same(a[begin], b[begin]) {
		begin++
	}
	end := 0
	for end < len(a)-begin && end < len(b)-begin && same(a[len(a)-1-end], b[len(b)-1-end]) {
		end++
	}
	x, y := a[begin:len(a)-end], b[begin:len(b)-end]
	if len(y) > len(x) && end > 0 || len(b) == 0 {
		d.add(path, before, after)
		return
	}
	at := func(i int) string { return join(path, strconv.Itoa(begin+i+1)) }
	for i := range min(len(x), len(y)) {
		d.group(x[i], y[i], f.shape, at(i))
	}
	for i := len(x); i < len(y); i++ {
		d.add(at(i), "", flowText(y[i]))
	}
	for i := len(x) - 1; i >= len(y); i-- {
		d.add(at(i), flowText(x[i]), "")
	}
}
