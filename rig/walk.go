package rig

import (
	"reflect"
	"strconv"

	"campwright/figure"
)

// Walk calls fn for every value that is present in a rig, in the order of document.go, with its path. fn may change the value. The
// values of a draw, a size and cylinders come one by one, as ".../power/rate" and ".../power/duty".
func Walk(r *Rig, fn func(path string, v *Value)) {
	walkAll(r, func(path string, v *Value, f *field) {
		if v.State != figure.Absent {
			fn(path, v)
		}
	})
}

// WalkAll is Walk over the absent values too, of all groups that are present: what a program that fills in defaults must visit.
func WalkAll(r *Rig, fn func(path string, v *Value)) {
	walkAll(r, func(path string, v *Value, f *field) { fn(path, v) })
}

func walkAll(r *Rig, fn func(path string, v *Value, f *field)) {
	w := walker{value: fn}
	w.group(reflect.ValueOf(r).Elem(), document, "")
}

// walker goes through a rig along the shapes. Functions that are nil are not called.
type walker struct {
	value func(path string, v *Value, f *field)
	list  func(path string, names []string)
	part  func(path string, v reflect.Value, s *shape)
}

func (w *walker) group(v reflect.Value, s *shape, path string) {
	if w.part != nil {
		w.part(path, v, s)
	}
	for i := range s.fields {
		f := &s.fields[i]
		w.field(f.at(v), f, join(path, f.key))
	}
}

func (w *walker) field(v reflect.Value, f *field, path string) {
	switch f.form {
	case formGroup:
		if v.Kind() == reflect.Pointer {
			if v.IsNil() {
				return
			}
			v = v.Elem()
		}
		w.group(v, f.shape, path)
	case formList, formNamed:
		if w.list != nil && (f.shape.named != nil || f.shape.keyed != nil) {
			names := make([]string, v.Len())
			for i := range names {
				names[i] = f.shape.memberName(v.Index(i))
			}
			w.list(path, names)
		}
		for i, segment := range segmentsOf(v, f.shape) {
			w.group(v.Index(i), f.shape, join(path, segment))
		}
	case formValue:
		if w.value != nil {
			w.value(path, v.Addr().Interface().(*Value), f)
		}
	default:
		for _, p := range partsOf(f) {
			w.field(v.FieldByIndex(p.index), asValue(p.field), join(path, p.key))
		}
	}
}

// segmentsOf returns the path segments of the members of a list or of named groups.
func segmentsOf(v reflect.Value, s *shape) []string {
	segments := make([]string, v.Len())
	seen := map[string]bool{}
	for i := range segments {
		segments[i] = strconv.Itoa(i + 1)
		if name := s.memberName(v.Index(i)); !seen[name] && (goesByName(name) || s.keyed != nil && name != "") {
			segments[i], seen[name] = name, true
		}
	}
	return segments
}

// arraySegments returns the path segments of the arrays.
func arraySegments(r *Rig) []string {
	f := document.byKey["arrays"]
	return segmentsOf(f.at(reflect.ValueOf(r).Elem()), f.shape)
}

// Members calls fn for every list whose members have names, with the names in order; a member without one gives an empty text.
func Members(r *Rig, fn func(list string, names []string)) {
	w := walker{list: fn}
	w.group(reflect.ValueOf(r).Elem(), document, "")
}

var typeDates = reflect.TypeFor[Dates]()

// eachDated calls fn for every part that carries dates.
func eachDated(r *Rig, fn func(path string, d *Dates)) {
	w := walker{part: func(path string, v reflect.Value, s *shape) {
		for i := range s.typ.NumField() {
			if s.typ.Field(i).Type == typeDates {
				fn(path, v.Field(i).Addr().Interface().(*Dates))
			}
		}
	}}
	w.group(reflect.ValueOf(r).Elem(), document, "")
}
