package cli

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"campwright/quantity"
	"campwright/rig"
)

// This file makes the JSON Schema (draft 2020-12) of the rig file out of the document's own description of its fields. It never refuses
// what the program reads; a test holds the two against each other. A value's text is checked for its unit: any spelling goes but the
// units of other kinds. Whether a number lies in its range, and whether a name leads anywhere, a schema cannot say of a text.

// rigSchema returns the schema of a document with these fields.
func rigSchema(fields []rig.Field) object {
	s := schemaMaker{below: map[string][]rig.Field{}, defs: map[string]object{}}
	for _, f := range fields {
		parent := strings.TrimSuffix(strings.TrimSuffix(f.Path, f.Key), "/")
		s.below[parent] = append(s.below[parent], f)
	}
	root := s.group("")
	head := object{
		{"$schema", "https://json-schema.org/draft/2020-12/schema"},
		{"$id", "urn:campwright:rig:1"},
		{"title", "A rig: one recreational vehicle's electrics, propane and water"},
		{"description", "Values are texts with their unit: 22.3 V, 6 AWG, 32 ft, about 65 W, 65 W measured, 60 W to 80 W, unknown."},
	}
	defs := object{}
	for _, name := range s.order {
		defs = append(defs, entry{name, s.defs[name]})
	}
	return append(append(head, root...), entry{"$defs", defs})
}

// schemaMaker collects the kinds of value that the schema names once.
type schemaMaker struct {
	below map[string][]rig.Field // by path, the fields that lie directly in it
	defs  map[string]object
	order []string
}

// group returns the schema of a group of keys.
func (s *schemaMaker) group(path string) object {
	properties, required := object{}, []string{}
	for _, f := range s.below[path] {
		properties = append(properties, entry{f.Key, s.field(f)})
		if f.Needs {
			required = append(required, f.Key)
		}
	}
	g := object{{"type", "object"}, {"properties", properties}}
	if len(required) > 0 {
		g = append(g, entry{"required", required})
	}
	return append(g, entry{"additionalProperties", false})
}

// field returns the schema of what may stand at a key.
func (s *schemaMaker) field(f rig.Field) object {
	about := entry{"description", describe(f)}
	switch f.Form {
	case "group":
		return append(object{about}, s.group(f.Path)...)
	case "list":
		return object{about, {"type", "array"}, {"items", s.group(f.Path + "/*")}}
	case "named":
		return object{about, {"type", "object"}, {"propertyNames", object{{"pattern", `^[^\n\r\t]+$`}}}, {"additionalProperties", s.group(f.Path + "/*")}}
	case "names":
		return object{about, {"type", "array"}, {"items", object{{"type", []string{"string", "number", "boolean"}}, {"minLength", 1}}}}
	case "version":
		return object{about, {"type", "integer"}, {"minimum", 1}, {"maximum", rig.Format}}
	case "word":
		return object{about, {"enum", f.Words}}
	case "value":
		return s.value(about, f)
	case "draw", "size", "cylinders":
		return object{about, {"anyOf", []object{{{"$ref", s.ref(f)}}, s.group(f.Path)}}}
	case "text":
		return textSchema(about, f)
	case "place":
		return object{about, {"type", "string"}, {"pattern", `\S`}}
	}
	return object{about, {"$ref", s.ref(f)}}
}

// describe says what a field is, with its units and range.
func describe(f rig.Field) string {
	text := f.Doc
	var more []string
	if len(f.Units) > 0 {
		more = append(more, "in "+strings.Join(f.Units, ", "))
	}
	if len(f.Limits) > 0 {
		more = append(more, strings.Join(f.Limits, " or "))
	}
	if len(more) > 0 {
		text += " (" + strings.Join(more, "; ") + ")"
	}
	return text
}

// textSchema is that of a text. What YAML reads as a number or as yes and no is still the text that was written.
func textSchema(about entry, f rig.Field) object {
	o := object{about, {"type", []string{"string", "number", "boolean"}}}
	switch {
	case len(f.Listed) > 0:
		word := `\s*(?:` + strings.Join(quoted(f.Listed), "|") + `)\s*`
		return object{about, {"type", "string"}, {"pattern", "^" + word + "(?:," + word + ")*$"}}
	case f.Lines && f.Needs:
		return append(o, entry{"pattern", `\S`})
	case f.Lines:
		return o
	case f.Needs:
		return append(o, entry{"pattern", `^[^\n\r\t]*[^\s][^\n\r\t]*\n*$`})
	}
	return append(o, entry{"pattern", `^[^\n\r\t]*\n*$`})
}

// value is the schema of one quantity: a text by its kinds, and a plain number where a count may stand.
func (s *schemaMaker) value(about entry, f rig.Field) object {
	ref := object{{"$ref", s.ref(f)}}
	if !takesNumber(kindsOf(f)) {
		return object{about, {"$ref", s.ref(f)}}
	}
	number := object{{"type", "number"}}
	if f.Whole {
		number = object{{"type", "integer"}}
	}
	for _, l := range f.Limits {
		low, high, ok := strings.Cut(l, " to ")
		a, err1 := quantity.ParseNumber(low)
		b, err2 := quantity.ParseNumber(high)
		if ok && err1 == nil && err2 == nil {
			number = append(number, entry{"minimum", a}, entry{"maximum", b})
		}
	}
	return object{about, {"anyOf", []object{number, ref}}}
}

// ref returns the reference to the schema of a form's text, which it makes when it is new.
func (s *schemaMaker) ref(f rig.Field) string {
	name := f.Form
	switch f.Form {
	case "value":
		name = strings.Join(f.Kinds, " or ")
	case "hours":
		name = "hours, " + strings.Join(f.Words, " or ")
	case "draw", "cylinders":
		name = f.Form + ", " + strings.Join(f.Kinds, " or ")
	}
	if _, made := s.defs[name]; !made {
		s.defs[name] = s.text(f)
		s.order = append(s.order, name)
	}
	return "#/$defs/" + strings.NewReplacer(" ", "%20", ",", "%2C").Replace(name)
}

// The pieces of patterns. Each is read the same by Go and by ECMAScript.
const (
	sign   = "[-+\u2212\u2010\u2011\u2013\uff0d]?"
	number = sign + `[0-9.,]+`
)

// text returns the schema of a form's text.
func (s *schemaMaker) text(f rig.Field) object {
	about := `(?:` + anyCase("about") + `\s+)?`
	unknown := anyCase("unknown")
	whole := func(inner string) object {
		return object{{"type", "string"}, {"pattern", `^\s*(?:` + inner + `)\s*$`}}
	}
	switch f.Form {
	case "value", "draw":
		return valueText(f, about, unknown)
	case "size":
		return whole(unknown + "|.*[0-9].*[x\u00d7].*[0-9].*")
	case "cylinders":
		return whole(unknown + `|` + about + `[0-9.].*`)
	case "hours":
		const clock = `[0-9]{1,2}:[0-9]{2}`
		span := clock + `\s*(?:[-` + "\u2013\u2014\u2212" + `]|to)\s*` + clock
		return whole(strings.Join(append(quoted(f.Words), unknown, about+span+`(?:\s*,\s*`+span+`)*`), "|"))
	case "date":
		return whole(unknown + "|" + about + `[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}`)
	case "chance":
		return whole(unknown + `|never|(?:` + anyCase("at") + `\s+` + anyCase("most") + `\s+)?[0-9.].*`)
	}
	return object{{"type", "string"}}
}

// valueText is the schema of a quantity's text: something with a number and a unit, whatever its spelling, as long as it is not a unit of
// another kind.
func valueText(f rig.Field, about, unknown string) object {
	kinds := kindsOf(f)
	words := unknown
	if len(kinds) > 0 && kinds[0] != quantity.Temperature {
		words += "|" + anyCase("none")
	}
	begins := `[$#]?\s*` + sign + `[$]?\s*[0-9.\x{bc}-\x{be}]`
	if slices.Contains(kinds, quantity.Section) {
		begins = `(?:` + begins + `|[#A-Za-z]+\s*[0-9])`
	}
	begins = strings.NewReplacer(`\x{bc}`, "\u00bc", `\x{be}`, "\u00be").Replace(begins)
	o := object{{"type", "string"}, {"pattern", `^\s*(?:` + words + `|` + about + begins + `[^\n]*)\s*$`}}
	refused := []string{}
	for _, k := range quantity.Kinds() {
		for _, unit := range quantity.Units(k) {
			if _, err := quantity.Parse("1 "+unit, kinds...); err != nil && unit != "$" && !slices.Contains(refused, regexp.QuoteMeta(unit)) {
				refused = append(refused, regexp.QuoteMeta(unit))
			}
		}
	}
	// What may follow a number with its unit: that it was read, its ends, its spread, and of a draw its duty.
	read := `(?:[ ,]\s*` + anyCase("measured") + `)?`
	tail := `(?:[ ,]\s*` + anyCase("measured") + `|\s+\(.*|\s+to\s.*|\s*(?:\+-|\+/-|` + "\u00b1" + `).*|\s+at\s.*)?`
	no := `^\s*` + about + number + `\s*(?:` + strings.Join(refused, "|") + `)` + tail + `\s*$`
	if !takesNumber(kinds) {
		no += `|^\s*` + about + number + read + `\s*$`
	}
	return append(o, entry{"not", object{{"pattern", no}}})
}

// kindsOf returns the kinds of a field.
func kindsOf(f rig.Field) []quantity.Kind {
	var kinds []quantity.Kind
	for _, name := range f.Kinds {
		if k, ok := quantity.ParseKind(name); ok {
			kinds = append(kinds, k)
		}
	}
	return kinds
}

// takesNumber tells whether a plain number may stand for a value of these kinds.
func takesNumber(kinds []quantity.Kind) bool {
	_, err := quantity.Parse("1", kinds...)
	return err == nil
}

// anyCase matches a word in small and capital letters.
func anyCase(word string) string {
	var b strings.Builder
	for _, r := range word {
		fmt.Fprintf(&b, "[%c%c]", r, r-'a'+'A')
	}
	return b.String()
}

// quoted escapes words for a pattern.
func quoted(words []string) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = regexp.QuoteMeta(w)
	}
	return out
}
