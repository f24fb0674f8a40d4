package rig

import (
	"fmt"
	"reflect"
	"strings"

	"campwright/quantity"
)

// This file reads the tags of document.go, once, into shapes. Decoder, encoder, edits, schema and forms all walk shapes, so a key is
// known in one place only.

// form says what may stand at a key.
type form uint8

const (
	formText    form = iota // any text
	formWord                // one of a few words
	formVersion             // the format's number
	formValue
	formSize
	formDraw
	formCylinders
	formHours
	formPlace
	formDate
	formChance
	formNames // a list of names
	formGroup
	formList  // a list of groups
	formNamed // groups by name, in the file's order
)

// limit is the range of one kind, both ends allowed.
type limit struct {
	low, high quantity.Quantity
	text      string // "0 V to 1000 V"
}

// field is one key of a group.
type field struct {
	key    string
	index  []int // where the Go field is, embedded groups included
	form   form
	typ    reflect.Type
	kinds  []quantity.Kind
	limits []limit
	words  []string
	listed []string // for text: what may stand between its commas
	lines  bool     // a text of several lines
	whole  bool     // a count without a fraction
	needed bool
	doc    string
	shape  *shape // of a group, or of the members of a list
}

// shape is one type of group.
type shape struct {
	typ     reflect.Type
	fields  []field
	byKey   map[string]*field
	keyed   []int // the Name that is taken from the map's key; nil when there is none
	named   []int // the Name that members of a list go by; nil when there is none
	deepest int   // fields in it and below, for loops that assert that they looped
}

var (
	typeValue     = reflect.TypeFor[Value]()
	typeSize      = reflect.TypeFor[Size]()
	typeDraw      = reflect.TypeFor[Draw]()
	typeCylinders = reflect.TypeFor[Cylinders]()
	typeHours     = reflect.TypeFor[Hours]()
	typePlace     = reflect.TypeFor[Place]()
	typeDate      = reflect.TypeFor[Date]()
	typeChance    = reflect.TypeFor[Chance]()
	typeNames     = reflect.TypeFor[[]string]()
)

// leaves maps the types of document.go that stand for one place of text.
var leaves = map[reflect.Type]form{
	typeValue: formValue, typeSize: formSize, typeDraw: formDraw, typeCylinders: formCylinders, typeHours: formHours,
	typePlace: formPlace, typeDate: formDate, typeChance: formChance, typeNames: formNames,
}

// document is the shape of a whole rig.
var document = shapeOf(reflect.TypeFor[Rig]())

// shapeOf reads the tags of a type. A tag that does not read is a broken promise of ours, not of a caller.
func shapeOf(t reflect.Type) *shape {
	s := &shape{typ: t, byKey: map[string]*field{}}
	s.add(t, nil)
	for i := range s.fields {
		f := &s.fields[i]
		s.byKey[f.key] = f
		s.deepest++
		if f.shape != nil {
			s.deepest += f.shape.deepest
		}
	}
	return s
}

func (s *shape) add(t reflect.Type, above []int) {
	for i := range t.NumField() {
		sf := t.Field(i)
		index := append(append([]int(nil), above...), i)
		if sf.Anonymous {
			s.add(sf.Type, index)
			continue
		}
		tag, ok := sf.Tag.Lookup("rig")
		if !ok {
			continue
		}
		if tag == ",key" {
			s.keyed = index
			continue
		}
		f := field{key: tag, index: index, typ: sf.Type, needed: sf.Tag.Get("needs") == "yes", whole: sf.Tag.Get("whole") == "yes", lines: sf.Tag.Get("lines") == "many", doc: sf.Tag.Get("doc")}
		f.setForm(sf)
		f.words = splitTag(sf.Tag.Get("oneof"))
		f.listed = splitTag(sf.Tag.Get("listof"))
		if f.words != nil && f.form == formText {
			f.form = formWord
		}
		f.setKinds(sf)
		if sf.Name == "Name" && tag == "name" && t != reflect.TypeFor[Rig]() {
			s.named = index
		}
		s.fields = append(s.fields, f)
	}
}

func splitTag(tag string) []string {
	if tag == "" {
		return nil
	}
	return strings.Split(tag, "|")
}

// setForm reads what stands at the key from the Go type.
func (f *field) setForm(sf reflect.StructField) {
	t := sf.Type
	leaf, ok := leaves[t]
	switch {
	case ok:
		f.form = leaf
	case t.Kind() == reflect.String:
		f.form = formText
	case t.Kind() == reflect.Int:
		f.form = formVersion
	case t.Kind() == reflect.Pointer:
		f.form, f.shape = formGroup, shapeOf(t.Elem())
	case t.Kind() == reflect.Struct:
		f.form, f.shape = formGroup, shapeOf(t)
	case t.Kind() == reflect.Slice:
		f.form, f.shape = formList, shapeOf(t.Elem())
		if f.shape.keyed != nil {
			f.form = formNamed
		}
	default:
		panic("rig: internal error: no form for " + sf.Name)
	}
}

// setKinds reads the tags kind and range.
func (f *field) setKinds(sf reflect.StructField) {
	for _, name := range splitTag(sf.Tag.Get("kind")) {
		k, ok := quantity.ParseKind(name)
		if !ok {
			panic("rig: internal error: unknown kind " + name + " of " + sf.Name)
		}
		f.kinds = append(f.kinds, k)
	}
	for _, text := range splitTag(sf.Tag.Get("range")) {
		low, high, ok := strings.Cut(text, "..")
		l, err1 := quantity.Parse(low, f.kinds...)
		h, err2 := quantity.Parse(high, f.kinds...)
		if !ok || err1 != nil || err2 != nil || l.Kind != h.Kind || l.Base > h.Base {
			panic(fmt.Sprintf("rig: internal error: range %q of %s: %v %v", text, sf.Name, err1, err2))
		}
		f.limits = append(f.limits, limit{l, h, l.String() + " to " + h.String()})
	}
}

// limitFor returns the range of a kind, if the field has one.
func (f *field) limitFor(k quantity.Kind) (limit, bool) {
	for _, l := range f.limits {
		if l.low.Kind == k {
			return l, true
		}
	}
	return limit{}, false
}

// at returns the Go field in a group. Pointers are followed by the caller.
func (f *field) at(group reflect.Value) reflect.Value { return group.FieldByIndex(f.index) }

// memberName returns the name of a member of a list or named group, empty when it has none.
func (s *shape) memberName(member reflect.Value) string {
	index := s.named
	if s.keyed != nil {
		index = s.keyed
	}
	if index == nil {
		return ""
	}
	return member.FieldByIndex(index).String()
}
