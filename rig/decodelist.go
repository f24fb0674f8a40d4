package rig

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"campwright/figure"
	"campwright/quantity"
)

// list reads a list of groups.
func (d *decoder) list(n *node, v reflect.Value, f *field, path string) {
	if n.kind != listNode {
		expected := "expected a list; begin each member with a dash"
		if n.kind == groupNode {
			d.fault(n, path, expected, f.doc)
			return
		}
		d.wrongNode(n, path, expected, f.shape)
		return
	}
	v.Set(reflect.MakeSlice(v.Type(), 0, len(n.items)))
	segments := listSegments(n, f.shape)
	for i, item := range n.items {
		here := join(path, segments[i])
		d.places[here] = At{item.line, item.column, here}
		member := reflect.New(f.shape.typ).Elem()
		d.group(item, member, f.shape, here, false)
		v.Set(reflect.Append(v, member))
	}
}

// listSegments returns the path segment of each member of a list: its name where it has one that no member before it has, otherwise
// its number from 1.
func listSegments(n *node, s *shape) []string {
	segments := make([]string, len(n.items))
	seen := map[string]bool{}
	for i, item := range n.items {
		segments[i] = strconv.Itoa(i + 1)
		if s == nil || s.named == nil || item.kind != groupNode {
			continue
		}
		if name := item.get("name"); name != nil && name.kind == textNode {
			if segment := strings.TrimRight(name.text, "\n"); goesByName(segment) && !seen[segment] {
				segments[i], seen[segment] = segment, true
			}
		}
	}
	return segments
}

// goesByName tells whether a name can stand in a path: a plain number there means a member's place in the list.
func goesByName(name string) bool {
	if name == "" {
		return false
	}
	_, err := strconv.Atoi(name)
	return err != nil
}

// named reads groups by name, in their order.
func (d *decoder) named(n *node, v reflect.Value, f *field, path string) {
	if n.kind != groupNode {
		expected := "expected names, each with its group of keys"
		if n.kind == listNode {
			d.fault(n, path, expected, "write the name and a colon in place of the dash")
			return
		}
		d.wrongNode(n, path, expected, nil)
		return
	}
	v.Set(reflect.MakeSlice(v.Type(), 0, len(n.entries)))
	first := map[string]int{}
	for _, e := range n.entries {
		here := join(path, e.key)
		at := &node{kind: textNode, text: e.key, line: e.line, column: e.column}
		if e.key == "" || strings.ContainsAny(e.key, "\n\r\t") {
			d.fault(at, here, "not a name", "write a name of one line")
			continue
		}
		if line, twice := first[e.key]; twice {
			d.fault(at, here, fmt.Sprintf("this name is already used on line %d", line), "give each its own name")
			continue
		}
		first[e.key] = e.line
		d.places[here] = At{e.line, e.column, here}
		member := reflect.New(f.shape.typ).Elem()
		member.FieldByIndex(f.shape.keyed).SetString(e.key)
		if e.value.kind == emptyNode || e.value.kind == textNode && f.shape.byKey[e.value.text] == nil && f.shape.byKey[e.key] != nil {
			d.fault(at, here, "expected a name with its group of keys", "put the name of the part between \""+lastSegment(path)+"\" and this key")
			continue
		}
		d.group(e.value, member, f.shape, here, false)
		v.Set(reflect.Append(v, member))
	}
}

func lastSegment(path string) string { return path[strings.LastIndexByte(path, '/')+1:] }

// names reads a list of names.
func (d *decoder) names(n *node, v reflect.Value, path string) {
	if n.kind == textNode {
		d.fault(n, path, "expected a list of names", "write ["+short(n.text)+"]")
		return
	}
	if n.kind != listNode {
		d.wrongNode(n, path, "expected a list of names", nil)
		return
	}
	names := make([]string, 0, len(n.items))
	for i, item := range n.items {
		here := join(path, strconv.Itoa(i+1))
		if item.kind != textNode || item.text == "" {
			d.fault(item, here, "expected a name", "")
			continue
		}
		d.places[join(path, strconv.Itoa(len(names)+1))] = At{item.line, item.column, here}
		names = append(names, strings.TrimRight(item.text, "\n"))
	}
	v.Set(reflect.ValueOf(names))
}

// subfield is a value inside a draw, a size or cylinders, which may be written in one text or under its own key.
type subfield struct {
	key    string
	index  []int
	field  *field
	needed bool // when written as a group
}

// partsOf returns the values inside a field, none for most.
func partsOf(f *field) []subfield {
	switch f.form {
	case formDraw:
		rate := *f
		rate.form = formValue
		return []subfield{{"rate", []int{0}, &rate, true}, {"duty", []int{1}, &percent, false}}
	case formSize:
		side := *f
		side.form = formValue
		return []subfield{{"length", []int{0}, &side, true}, {"width", []int{1}, &side, true}}
	case formCylinders:
		each := *f
		each.form = formValue
		return []subfield{{"count", []int{0}, &cylinderCount, false}, {"each", []int{1}, &each, true}}
	}
	return nil
}

// spread reads a draw, a size or cylinders written as a group. It tells whether the field may be written so.
func (d *decoder) spread(n *node, v reflect.Value, f *field, path string) bool {
	parts := partsOf(f)
	if parts == nil {
		return false
	}
	keys := make([]string, len(parts))
	for i, p := range parts {
		keys[i] = p.key
	}
	seen := map[string]bool{}
	for _, e := range n.entries {
		here := join(path, e.key)
		at := &node{kind: textNode, text: e.key, line: e.line, column: e.column}
		i := 0
		for i < len(parts) && parts[i].key != e.key {
			i++
		}
		switch {
		case i == len(parts):
			d.fault(at, here, "unknown key", "known here: "+oneOf(keys))
		case seen[e.key]:
			d.fault(at, here, "this key is written twice", "keep one of the two")
		default:
			seen[e.key] = true
			d.places[here] = At{e.value.line, e.value.column, here}
			d.field(e.value, v.FieldByIndex(parts[i].index), asValue(parts[i].field), here)
		}
	}
	for _, p := range parts {
		if p.needed && !seen[p.key] {
			d.faults = append(d.faults, Fault{Line: n.line, Column: n.column, Path: join(path, p.key), Problem: "missing", Hint: f.doc})
		}
	}
	if s, ok := v.Addr().Interface().(*Size); ok {
		s.At = At{n.line, n.column, path}
	}
	if c, ok := v.Addr().Interface().(*Cylinders); ok && !seen["count"] {
		c.Count = one()
	}
	return true
}

// asValue is a field read as a single value.
func asValue(f *field) *field {
	g := *f
	g.form, g.typ = formValue, typeValue
	return &g
}

// one is the count of a single thing, when the text does not say it.
func one() Value { return Value{Quantity: count(1), State: figure.Plain} }

func count(n int) quantity.Quantity { return quantity.Quantity{Base: float64(n), Kind: quantity.Count} }
