package rig

import "campwright/quantity"

// Field describes one key of the document, for schemas, forms and help.
type Field struct {
	Path   string   `json:"path"`             // pattern: "modules/*/voc"; * stands for the name or number of a member
	Key    string   `json:"key"`              // its last segment
	Form   string   `json:"form"`             // text, word, version, value, size, draw, cylinders, hours, place, date, chance, names, group, list, named
	Kinds  []string `json:"kinds,omitempty"`  // of a value, the first is the usual one
	Units  []string `json:"units,omitempty"`  // in which a value may be written
	Limits []string `json:"limits,omitempty"` // "0 V to 1000 V", one for each kind that has one
	Words  []string `json:"words,omitempty"`  // that may stand there
	Listed []string `json:"listed,omitempty"` // words that may stand between commas
	Whole  bool     `json:"whole,omitempty"`  // a count without a fraction
	Lines  bool     `json:"lines,omitempty"`  // a text of several lines
	Needs  bool     `json:"needs,omitempty"`  // the part cannot be understood without it
	Doc    string   `json:"doc"`
}

// formWords names the forms in Field.Form.
var formWords = map[form]string{
	formText: "text", formWord: "word", formVersion: "version", formValue: "value", formSize: "size", formDraw: "draw",
	formCylinders: "cylinders", formHours: "hours", formPlace: "place", formDate: "date", formChance: "chance", formNames: "names",
	formGroup: "group", formList: "list", formNamed: "named",
}

// Fields describes the whole document, in its order; a group or list comes before what lies in it. The values inside a draw, a size
// and cylinders have entries of their own below it.
func Fields() []Field {
	var all []Field
	addFields(&all, document, "")
	return all
}

func addFields(all *[]Field, s *shape, path string) {
	for i := range s.fields {
		f := &s.fields[i]
		here := join(path, f.key)
		*all = append(*all, f.public(here))
		for _, p := range partsOf(f) {
			part := asValue(p.field)
			part.key, part.needed = p.key, p.needed
			*all = append(*all, part.public(join(here, p.key)))
		}
		if f.shape == nil {
			continue
		}
		if f.form != formGroup {
			here = join(here, "*")
		}
		addFields(all, f.shape, here)
	}
}

// public is the field as others see it.
func (f *field) public(path string) Field {
	out := Field{Path: path, Key: f.key, Form: formWords[f.form], Words: f.words, Listed: f.listed, Whole: f.whole, Lines: f.lines, Needs: f.needed, Doc: f.doc}
	for _, k := range f.kinds {
		out.Kinds = append(out.Kinds, k.String())
		out.Units = append(out.Units, quantity.Units(k)...)
	}
	for _, l := range f.limits {
		out.Limits = append(out.Limits, l.text)
	}
	return out
}

// FieldOf describes the place that a path of a rig leads to, such as "modules/field 200/voc"; false when a rig has no such place.
// Members need not exist; a path that ends with a member has no field of its own.
func FieldOf(path string) (Field, bool) {
	f := fieldOf(document, path)
	if f == nil {
		return Field{}, false
	}
	return f.public(path), true
}

// fieldOf finds the field of a path. Names may hold strokes, so what follows a member is looked for behind each.
func fieldOf(s *shape, path string) *field {
	f, below := headField(s, path)
	if f == nil || below == "" {
		return f
	}
	switch f.form {
	case formGroup:
		return fieldOf(f.shape, below)
	case formList, formNamed:
		for i := range len(below) {
			if below[i] == '/' && i > 0 {
				if g := fieldOf(f.shape, below[i+1:]); g != nil {
					return g
				}
			}
		}
		return nil
	}
	for _, p := range partsOf(f) {
		if p.key == below {
			part := asValue(p.field)
			part.key, part.needed = p.key, p.needed
			return part
		}
	}
	return nil
}

// LimitsOf returns the range that a value of a kind must keep to at a path of a rig, in the kind's base unit; false where there is none.
func LimitsOf(path string, kind quantity.Kind) (low, high float64, limited bool) {
	f := fieldOf(document, path)
	if f == nil {
		return 0, 0, false
	}
	for _, l := range f.limits {
		if l.low.Kind == kind {
			return l.low.Base, l.high.Base, true
		}
	}
	return 0, 0, false
}
