package rig

import (
	"fmt"
	"io"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"campwright/figure"
)

// Decode reads a rig document. It returns everything it understood together with all faults, sorted by place; a document without
// faults is well formed, its references included. It never reads more than it promises: over 1 MB, 20,000 lines or 32 levels is
// refused before parsing. Values that are not written have state Absent and carry their path.
func Decode(r io.Reader) (Rig, Faults) {
	src, faults := readSource(r)
	if src.lines == nil {
		return Rig{}, faults
	}
	rig, d := decodeSource(src)
	if tabs := faults; tabs != nil {
		// What the parser made of lines indented with tabs is our repair, not the owner's text.
		d.faults = append(tabs, withoutYAML(d.faults, tabs)...)
	}
	if newer(rig) {
		return rig, d.faults.sorted()
	}
	if !d.lost {
		for _, f := range validate(&rig, d.places) {
			if f.Value != "" || !d.told(f.Path) {
				d.faults = append(d.faults, f)
			}
		}
	}
	return rig, d.faults.sorted()
}

// told tells whether something is said of a place already.
func (d *decoder) told(path string) bool {
	return slices.ContainsFunc(d.faults, func(f Fault) bool { return f.Path == path })
}

// withoutYAML leaves out what the parser made of lines with tabs.
func withoutYAML(faults, tabs Faults) Faults {
	kept := faults[:0]
	for _, f := range faults {
		repaired := f.Path == "" && slices.ContainsFunc(tabs, func(t Fault) bool { return t.Line == f.Line })
		if !repaired && !strings.HasPrefix(f.Problem, "not YAML") && f.Problem != "missing" {
			kept = append(kept, f)
		}
	}
	return kept
}

// decoder walks the tree along the shapes.
type decoder struct {
	faults Faults
	places map[string]At
	lost   bool // a part of the text could not be read, so that names may be missing
}

func decodeSource(src source) (Rig, *decoder) {
	d := &decoder{places: map[string]At{}}
	root, faults, lost := parseTree(src)
	d.lost = lost
	var rig Rig
	switch {
	case root == nil && len(faults) > 0:
	case root == nil || root.kind == emptyNode:
		d.faults = append(d.faults, Fault{Line: 1, Column: 1, Problem: "the file is empty", Hint: "it begins with campwright: 1"})
	case root.kind != groupNode:
		d.fault(root, "", "a rig file is a group of keys with values", "it begins with campwright: 1")
	default:
		// A file of a later version may say things that we would only misread; its version is the one fault worth telling.
		if v := root.get("campwright"); v != nil && v.kind == textNode {
			if n, err := strconv.Atoi(v.text); err == nil && n > Format {
				rig.Version = n
				d.fault(v, "campwright", fmt.Sprintf("this file is of version %d, and this program reads up to version %d", n, Format), "get a newer program")
				return rig, d
			}
		}
		d.group(root, reflect.ValueOf(&rig).Elem(), document, "", len(faults) > 0)
	}
	// What is wrong in a line that was read as it was likely meant is our repair, not the owner's text.
	d.faults = append(faults, slices.DeleteFunc(d.faults, func(f Fault) bool {
		return slices.ContainsFunc(faults, func(slip Fault) bool { return slip.Line == f.Line })
	})...)
	WalkAll(&rig, func(path string, v *Value) { v.At.Path = path })
	return rig, d
}

// newer tells whether a file is of a later version than we read.
func newer(r Rig) bool { return r.Version > Format }

func (d *decoder) fault(n *node, path, problem, hint string) {
	d.faults = append(d.faults, Fault{Line: n.line, Column: n.column, Path: path, Value: n.describe(), Problem: problem, Hint: hint})
}

// flawed turns a flaw of a text into a fault at its place. Inside a plain or quoted text on one line the place is exact.
func (d *decoder) flawed(n *node, path string, bad *flaw) {
	f := Fault{Line: n.line, Column: n.column, Path: path, Value: short(n.text), Problem: bad.problem, Limit: bad.limit, Hint: bad.hint}
	if bad.value != "" {
		f.Value = short(bad.value)
	}
	if bad.offset > 0 && bad.offset <= len(n.text) && n.style != '|' && !strings.Contains(n.text, "\n") {
		f.Column += utf8.RuneCountInString(n.text[:bad.offset])
		if n.style != 0 {
			f.Column++
		}
	}
	d.faults = append(d.faults, f)
}

func join(path, segment string) string {
	if path == "" {
		return segment
	}
	return path + "/" + segment
}

const (
	decimalComma = "a comma inside brackets begins the next entry"
	decimalHint  = "write a decimal point, and no comma between thousands"
)

// looseDigits tells whether an entry in brackets is what stands behind a decimal comma.
func looseDigits(e entry) bool {
	return e.value.kind == emptyNode && e.key != "" && e.key[0] >= '0' && e.key[0] <= '9'
}

// group reads the keys of a mapping into a struct. partly says that some of the text could not be read, so that what is missing is
// not held against it.
func (d *decoder) group(n *node, v reflect.Value, s *shape, path string, partly bool) {
	if n.kind != groupNode {
		d.wrongNode(n, path, "expected a group of keys with values", s)
		return
	}
	first := map[string]int{}
	meant := map[string]bool{} // keys that an unknown one was likely meant to be
	for i, e := range n.entries {
		here := join(path, e.key)
		at := &node{kind: textNode, text: e.key, line: e.line, column: e.column}
		if line, twice := first[e.key]; twice {
			d.fault(at, here, fmt.Sprintf("this key is already written on line %d", line), "keep one of the two")
			continue
		}
		first[e.key] = e.line
		f := s.byKey[e.key]
		if f == nil && n.flow && looseDigits(e) {
			if i == 0 || n.entries[i-1].value.kind != textNode { // otherwise told with the value that it belongs to
				d.fault(at, here, decimalComma, decimalHint)
			}
			continue
		}
		if f == nil {
			d.fault(at, here, "unknown key", s.keyHint(e.key))
			meant[nearest(e.key, s.keys())] = true
			continue
		}
		if n.flow && e.value.kind == textNode && i+1 < len(n.entries) && s.byKey[n.entries[i+1].key] == nil && looseDigits(n.entries[i+1]) {
			d.fault(&node{kind: textNode, text: e.value.text + "," + n.entries[i+1].key, line: e.value.line, column: e.value.column}, here, decimalComma, decimalHint)
			continue
		}
		d.places[here] = At{e.value.line, e.value.column, here}
		d.field(e.value, f.at(v), f, here)
	}
	for i := range s.fields {
		f := &s.fields[i]
		if _, there := first[f.key]; f.needed && !there && !partly && !meant[f.key] {
			d.faults = append(d.faults, Fault{Line: n.line, Column: n.column, Path: join(path, f.key), Problem: "missing", Hint: f.doc + f.wordHint()})
		}
	}
}

// wordHint lists the words of a field for a hint.
func (f *field) wordHint() string {
	if len(f.words) == 0 {
		return ""
	}
	return ": " + oneOf(f.words)
}

// wrongNode says that something else than a text, list or group stands here.
func (d *decoder) wrongNode(n *node, path, expected string, s *shape) {
	if n.kind == refusedNode {
		return
	}
	if n.kind == emptyNode {
		d.fault(n, path, "nothing is written here", "write it, or take the key out")
		return
	}
	hint := ""
	if m := slipTight.FindStringSubmatch(n.text); m != nil && n.kind == textNode && isKnownKey(m[1]) {
		expected, hint = "no blank after the colon", "write a blank between the colon and the value"
	} else if k := knownKey(n.text); k > 0 && n.kind == textNode {
		expected, hint = "a colon is missing", "write a colon after “"+n.text[:k]+"”"
	} else if s != nil && len(s.fields) > 0 {
		hint = "such as " + s.fields[0].key
		if len(s.fields) > 1 {
			hint += " and " + s.fields[1].key
		}
	}
	d.fault(n, path, expected, hint)
}

// field reads one key's value.
func (d *decoder) field(n *node, v reflect.Value, f *field, path string) {
	if n.kind == refusedNode {
		return
	}
	switch f.form {
	case formGroup:
		if v.Kind() == reflect.Pointer {
			if n.kind == groupNode {
				v.Set(reflect.New(f.shape.typ))
				v = v.Elem()
			} else {
				v = reflect.New(f.shape.typ).Elem()
			}
		}
		d.group(n, v, f.shape, path, false)
		return
	case formList:
		d.list(n, v, f, path)
		return
	case formNamed:
		d.named(n, v, f, path)
		return
	case formNames:
		d.names(n, v, path)
		return
	}
	if n.kind == groupNode && d.spread(n, v, f, path) {
		return
	}
	if n.kind == emptyNode {
		hint := "write the value, or take the key out"
		if f.form == formValue || f.form == formDraw {
			hint = "write the value, or unknown, or take the key out"
		}
		d.fault(n, path, "nothing is written here", hint)
		return
	}
	if n.kind != textNode {
		d.fault(n, path, "expected one value", f.doc)
		return
	}
	if bad := d.leaf(n, v, f, path); bad != nil {
		if within := keyWithin(n.text); n.style == 0 && within != "" {
			bad = &flaw{problem: "“" + within + "” begins in the middle of a value", hint: ownLine, offset: bad.offset}
		}
		d.flawed(n, path, bad)
	}
}

const ownLine = "write it in a line of its own, or behind a comma where it stands in brackets"

// keyWithin returns the key of the document that stands in the middle of a text, with its colon; empty for none.
func keyWithin(text string) string {
	head, _, found := strings.Cut(text, ": ")
	for i := 1; found && i < len(head); i++ {
		if head[i-1] == ' ' && isKnownKey(head[i:]) {
			return head[i:]
		}
	}
	return ""
}

// leaf reads a text into a field.
func (d *decoder) leaf(n *node, v reflect.Value, f *field, path string) *flaw {
	at := At{n.line, n.column, path}
	var bad *flaw
	switch f.form {
	case formText:
		v.SetString(strings.TrimRight(n.text, "\n"))
		bad = f.flawOfText(v.String())
	case formWord:
		return f.readWord(n.text, v)
	case formVersion:
		x, err := strconv.Atoi(strings.TrimSpace(n.text))
		if err != nil || x < 1 {
			return &flaw{problem: "not a version of the file format", limit: fmt.Sprintf("1 to %d", Format)}
		}
		v.SetInt(int64(x))
	case formValue:
		var x Value
		if x, bad = readValue(n.text, f.kinds); bad == nil {
			x.At = at
			v.Set(reflect.ValueOf(x))
			bad = f.flawOf(x)
		}
	case formSize:
		var x Size
		x, bad = readSize(n.text, f)
		x.At = at
		v.Set(reflect.ValueOf(x))
	case formDraw:
		var x Draw
		x, bad = readDraw(n.text, f)
		v.Set(reflect.ValueOf(x))
	case formCylinders:
		var x Cylinders
		x, bad = readCylinders(n.text, f)
		v.Set(reflect.ValueOf(x))
	case formHours:
		var x Hours
		x, bad = readHours(n.text, f.words)
		x.At = at
		v.Set(reflect.ValueOf(x))
	case formPlace:
		var x Place
		x, bad = readPlace(n.text)
		x.At = at
		v.Set(reflect.ValueOf(x))
	case formDate:
		var x Date
		x, bad = readDate(n.text)
		x.At = at
		v.Set(reflect.ValueOf(x))
	case formChance:
		var x Chance
		x, bad = readChance(n.text)
		x.At = at
		v.Set(reflect.ValueOf(x))
	}
	d.partPlaces(n, v, f, path)
	return bad
}

// partPlaces gives the values inside a draw, a size or cylinders the place of their text.
func (d *decoder) partPlaces(n *node, v reflect.Value, f *field, path string) {
	for _, p := range partsOf(f) {
		x := v.FieldByIndex(p.index).Addr().Interface().(*Value)
		if x.State != figure.Absent {
			x.At = At{n.line, n.column, join(path, p.key)}
			d.places[x.At.Path] = x.At
		}
	}
}

// readWord reads one of a few words.
func (f *field) readWord(text string, v reflect.Value) *flaw {
	for _, w := range f.words {
		if text == w {
			v.SetString(w)
			return nil
		}
	}
	bad := &flaw{problem: "not one of the words for this", limit: oneOf(f.words), hint: f.doc}
	meant := nearest(text, f.words)
	switch strings.ToLower(text) {
	case "true", "on":
		meant = "yes"
	case "false", "off":
		meant = "no"
	}
	for _, w := range f.words {
		if w == meant {
			bad.hint = "did you mean \"" + w + "\"?"
		}
	}
	return bad
}

// flawOfText checks a text: that it says something where it must, its lines, and the words between its commas where they are known.
func (f *field) flawOfText(text string) *flaw {
	if f.needed && strings.TrimSpace(text) == "" {
		return &flaw{problem: "nothing is written here", hint: f.doc}
	}
	if !f.lines && strings.ContainsAny(text, "\n\r\t") {
		return &flaw{problem: "more than one line", hint: "write it on one line"}
	}
	if len(f.listed) == 0 {
		return nil
	}
	offset := 0
	for _, piece := range strings.Split(text, ",") {
		p := trimmed(piece, offset)
		offset += len(piece) + 1
		known := false
		for _, w := range f.listed {
			known = known || p.text == w
		}
		if !known {
			bad := &flaw{problem: "not one of the words for this", limit: oneOf(f.listed), hint: f.doc}
			if near := nearest(p.text, f.listed); near != "" {
				bad.hint = "did you mean \"" + near + "\"?"
			}
			return p.flawIn(bad)
		}
	}
	return nil
}
