package cli

import (
	"cmp"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// This file turns a document into rows for people, along the tags of package rig, which are the one place where keys are written down. It
// walks the document as written beside the completed one, so that what was taken can be told from what was said.

// aboardPart is one thing aboard with all that is said or taken about it.
type aboardPart struct {
	Path  string      `json:"path"`
	Title string      `json:"title"`
	Depth int         `json:"depth"`
	Rows  []aboardRow `json:"rows"`
}

// aboardRow is one value of a part.
type aboardRow struct {
	Path  string  `json:"path"`
	Key   string  `json:"key"` // "run, gauge"
	Value inUnits `json:"value"`
	State string  `json:"state"`         // stated, measured, about, taken, unknown, not said
	Ends  inUnits `json:"ends"`          // of an estimate, a default or an unknown; empty where there are none
	Why   string  `json:"why,omitempty"` // for what is taken its reason
	Doc   string  `json:"doc"`
	Line  int     `json:"line,omitempty"` // in the file
	plain bool    // taken, and what anyone would take: one of each, on for all of its hours
}

// inUnits is one thing as it was written and in both systems of units.
type inUnits struct {
	Written string `json:"written"`
	US      string `json:"us"`
	Metric  string `json:"metric"`
}

// shownBy writes something in each of the ways.
func shownBy(write func(quantity.System) string) inUnits {
	return inUnits{write(quantity.AsWritten), write(quantity.US), write(quantity.Metric)}
}

// The words for how a value is known.
const (
	stated  = "stated"
	notSaid = "not said"
	taken   = "taken"
	unknown = "unknown"
)

var stateWords = map[figure.State]string{
	figure.Absent: notSaid, figure.Default: taken, figure.Unknown: unknown, figure.About: "about", figure.Plain: stated, figure.Measured: "measured",
}

// aboard returns all that is aboard. said is the document as written, full the completed one. Parts stand in the order in which the text
// has them, and what the text has not comes after what it follows in the order of the document.
func aboard(said, full *rig.Rig, text []byte) []aboardPart {
	s, f := reflect.ValueOf(said).Elem(), reflect.ValueOf(full).Elem()
	var w aboardWalker
	general := w.open("", "the rig", 0)
	type section struct {
		line  int
		parts []aboardPart
	}
	sections, last := []section{}, 0
	for i := range f.NumField() {
		tag := f.Type().Field(i).Tag
		key := tag.Get("rig")
		if key == "campwright" {
			continue
		}
		if !isPart(f.Field(i).Type()) {
			w.leaf(general, s.Field(i), f.Field(i), key, key, tag.Get("doc"))
			continue
		}
		if line := lineOf(text, key); line > 0 {
			last = line
		}
		inner := aboardWalker{}
		inner.nested(s.Field(i), f.Field(i), key, key, 0)
		sections = append(sections, section{last, inner.parts})
	}
	slices.SortStableFunc(sections, func(a, b section) int { return cmp.Compare(a.line, b.line) })
	parts := w.parts
	for _, x := range sections {
		parts = append(parts, x.parts...)
	}
	return parts
}

// lineOf returns the line of a key at the left edge of a text, 0 where it has none.
func lineOf(text []byte, key string) int {
	at := regexp.MustCompile(`(?m)^["']?` + regexp.QuoteMeta(key) + `["']?\s*:`).FindIndex(text)
	if at == nil {
		return 0
	}
	return 1 + strings.Count(string(text[:at[0]]), "\n")
}

// aboardWalker collects parts.
type aboardWalker struct{ parts []aboardPart }

// open begins a part and returns its place.
func (w *aboardWalker) open(path, title string, depth int) int {
	w.parts = append(w.parts, aboardPart{Path: path, Title: title, Depth: depth})
	return len(w.parts) - 1
}

// isPart tells whether a field holds a group or a list of groups, and not one value.
func isPart(t reflect.Type) bool {
	if t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	if t.Kind() != reflect.Struct || t == reflect.TypeFor[rig.Value]() {
		return false
	}
	_, leaf := reflect.New(t).Interface().(interface{ Text() string })
	return !leaf
}

// nested walks a field that holds a group or a list of groups.
func (w *aboardWalker) nested(said, full reflect.Value, path, title string, depth int) {
	switch full.Kind() {
	case reflect.Pointer:
		if !full.IsNil() {
			was := reflect.Zero(full.Type().Elem())
			if !said.IsNil() {
				was = said.Elem()
			}
			w.group(was, full.Elem(), path, title, depth)
		}
	case reflect.Struct:
		w.group(said, full, path, title, depth)
	case reflect.Slice:
		if full.Len() > 0 {
			w.open(path, title, depth)
		}
		for i := range full.Len() {
			was := reflect.Zero(full.Type().Elem())
			if i < said.Len() {
				was = said.Index(i)
			}
			name, segment := memberTitle(full.Index(i), i)
			w.group(was, full.Index(i), path+"/"+segment, name, depth+1)
		}
	}
}

// group walks the fields of a group: its values first, then the groups inside it.
func (w *aboardWalker) group(said, full reflect.Value, path, title string, depth int) {
	here := w.open(path, title, depth)
	w.values(here, said, full, path, "")
	w.inner(said, full, path, depth)
}

// values adds the rows of a group, those of small groups inside it with their key before their own.
func (w *aboardWalker) values(part int, said, full reflect.Value, path, before string) {
	for i := range full.NumField() {
		sf := full.Type().Field(i)
		key, doc := sf.Tag.Get("rig"), sf.Tag.Get("doc")
		switch {
		case sf.Anonymous:
			w.values(part, said.Field(i), full.Field(i), path, before)
		case key == "" || key == ",key" || key == "name" && before == "":
		case !isPart(sf.Type):
			w.leaf(part, said.Field(i), full.Field(i), path+"/"+key, before+key, doc)
		case small(full.Field(i)):
			inner, was := full.Field(i), said.Field(i)
			if inner.Kind() == reflect.Pointer {
				if inner.IsNil() {
					continue
				}
				was = reflect.Zero(inner.Type().Elem())
				if !said.Field(i).IsNil() {
					was = said.Field(i).Elem()
				}
				inner = inner.Elem()
			}
			prefix := before + key + ", "
			if strings.HasSuffix(w.parts[part].Title, " "+key) { // a link of the charge line goes by the part it is
				prefix = before
			}
			w.values(part, was, inner, path+"/"+key, prefix)
		}
	}
}

// inner walks the groups of a group that are parts of their own.
func (w *aboardWalker) inner(said, full reflect.Value, path string, depth int) {
	for i := range full.NumField() {
		sf := full.Type().Field(i)
		if key := sf.Tag.Get("rig"); key != "" && !sf.Anonymous && isPart(sf.Type) && !small(full.Field(i)) {
			w.nested(said.Field(i), full.Field(i), path+"/"+key, key, depth+1)
		}
	}
}

// small tells a group that is shown among the rows of the one that holds it: a cable run and the like.
func small(v reflect.Value) bool {
	t := v.Type()
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	return t.Kind() == reflect.Struct
}

// memberTitle returns what a member of a list goes by, and its segment in paths.
func memberTitle(member reflect.Value, index int) (title, segment string) {
	segment = strconv.Itoa(index + 1)
	if f := member.FieldByName("Name"); f.IsValid() && f.Kind() == reflect.String && f.String() != "" {
		return f.String(), f.String()
	}
	switch m := member.Interface().(type) {
	case rig.Stop:
		if place := m.Place.Text(); place != "" {
			return segment + " " + place, segment
		}
	case rig.Wire:
		return segment + " " + m.From + " to " + m.To, segment
	case rig.Link:
		for i := range member.NumField() { // it goes by the one part it has
			given := member.Field(i).Kind() == reflect.Pointer && !member.Field(i).IsNil()
			if v, ok := member.Field(i).Interface().(rig.Value); ok {
				given = v.State != figure.Absent
			}
			if given {
				return segment + " " + member.Type().Field(i).Tag.Get("rig"), segment
			}
		}
	}
	return segment, segment
}

// leaf adds the row or rows of one value.
func (w *aboardWalker) leaf(part int, said, full reflect.Value, path, key, doc string) {
	r := aboardRow{Path: path, Key: key, Doc: doc}
	switch x := full.Interface().(type) {
	case rig.Value:
		w.value(part, said.Interface().(rig.Value), x, r)
	case rig.Draw:
		was := said.Interface().(rig.Draw)
		w.value(part, was.Rate, x.Rate, r.below("rate", key))
		if x.Rate.State != figure.Absent || x.Duty.State != figure.Absent {
			duty := r.below("duty", key+", duty")
			duty.plain = x.Duty.Quantity.Base == 1
			w.value(part, was.Duty, x.Duty, duty)
		}
	case rig.Size:
		w.sized(part, x, r)
	case rig.Cylinders:
		w.cylinders(part, x, r)
	default:
		w.text(part, said, full, r)
	}
}

// below is the row for a value inside another.
func (r aboardRow) below(segment, key string) aboardRow {
	r.Path, r.Key = r.Path+"/"+segment, key
	return r
}

// add puts a row into a part.
func (w *aboardWalker) add(part int, r aboardRow) { w.parts[part].Rows = append(w.parts[part].Rows, r) }

// value adds the row of a quantity.
func (w *aboardWalker) value(part int, said, full rig.Value, r aboardRow) {
	r.State, r.Line, r.Why = stateWords[full.State], full.At.Line, full.Why
	r.plain = r.plain || strings.HasSuffix(r.Path, "/count") && full.Quantity.Base == 1
	if full.State != figure.Absent {
		q := full.Quantity
		r.Value = shownBy(func(s quantity.System) string { return quantity.Format(q, s) })
		if said.Given() && said.Quantity.Kind != q.Kind { // a capacity said in kWh
			r.Value = shownBy(func(s quantity.System) string {
				return quantity.Format(said.Quantity, s) + " (" + quantity.Format(q, s) + ")"
			})
		}
	}
	if full.High > full.Low && full.State != figure.Plain && full.State != figure.Measured {
		r.Ends = shownBy(func(s quantity.System) string {
			return shownEnd(full, full.Low, s) + " to " + shownEnd(full, full.High, s)
		})
	}
	w.add(part, r)
}

// shownEnd writes one end of a value, in its own unit where that will do.
func shownEnd(v rig.Value, base float64, s quantity.System) string {
	q := quantity.Quantity{Base: base, Kind: v.Quantity.Kind, Unit: v.Quantity.Unit}
	if s == quantity.AsWritten && q.Unit != "" && q.Unit != "AWG" && !strings.Contains(q.Unit, " ") {
		return quantity.In(q, q.Unit)
	}
	return quantity.Format(q, s)
}

// sized adds the row of length by width.
func (w *aboardWalker) sized(part int, s rig.Size, r aboardRow) {
	r.State, r.Line = stateWords[s.Length.State], s.At.Line
	if s.Length.Known() && s.Width.Known() {
		r.Value = shownBy(func(sys quantity.System) string {
			return quantity.Format(s.Length.Quantity, sys) + " × " + quantity.Format(s.Width.Quantity, sys)
		})
	}
	w.add(part, r)
}

// cylinders adds the row of what propane is carried in.
func (w *aboardWalker) cylinders(part int, c rig.Cylinders, r aboardRow) {
	r.State, r.Line = stateWords[c.Each.State], c.Each.At.Line
	if c.Each.Known() {
		r.Value = shownBy(func(sys quantity.System) string {
			each := quantity.Format(c.Each.Quantity, sys)
			if c.Count.Known() && c.Count.Quantity.Base != 1 {
				return quantity.Format(c.Count.Quantity, sys) + " × " + each
			}
			return each
		})
	}
	w.add(part, r)
}

// text adds the row of words, hours, places, days, chances and lists of names.
func (w *aboardWalker) text(part int, said, full reflect.Value, r aboardRow) {
	was, text := plainText(said), plainText(full)
	r.State = stated
	switch {
	case text == "":
		r.State = notSaid
	case text == unknown:
		r.State = unknown
	case was == "":
		r.State = taken
		if strings.HasPrefix(r.Path, "inverters/") && strings.HasSuffix(r.Path, "/on") {
			r.Why = "left on it draws its idle day and night; write when used, or its hours, if it is not"
		}
	case strings.HasPrefix(was, "about "):
		r.State = "about"
	}
	r.Value = inUnits{text, text, text}
	r.plain = r.Key == "kind" && text == "plain"
	if at := full.Kind() == reflect.Struct && full.FieldByName("At").IsValid(); at {
		r.Line = full.FieldByName("At").Interface().(rig.At).Line
	}
	w.add(part, r)
}

// plainText writes a text, or what has one, defaults included.
func plainText(v reflect.Value) string {
	switch x := v.Interface().(type) {
	case string:
		return strings.Join(strings.Fields(x), " ")
	case []string:
		return strings.Join(x, ", ")
	case rig.Hours:
		if x.State == figure.Default {
			x.State = figure.Plain
		}
		return x.Text()
	case rig.Chance:
		if x.State == figure.Default {
			x.State = figure.Plain
		}
		return x.Text()
	case interface{ Text() string }:
		return x.Text()
	}
	return ""
}
