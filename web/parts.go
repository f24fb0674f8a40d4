package web

import (
	"reflect"
	"strconv"
	"strings"

	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Section is one kind of part, such as all arrays, in the order of the document.
type Section struct {
	Key   string `json:"key"`   // as in the file
	Title string `json:"title"` // for people
	Doc   string `json:"doc"`
	Parts []Part `json:"parts" nullable:"false"`
}

// Part is one thing aboard with all that is said or taken about it.
type Part struct {
	Path string `json:"path"`
	Name string `json:"name"` // empty where there is only one of its kind
	Rows []Row  `json:"rows" nullable:"false"`
}

// Row is one value of a part.
type Row struct {
	Path  string `json:"path"`
	Key   string `json:"key"` // "run, gauge"
	Text  Both   `json:"text"`
	State string `json:"state" enum:"stated,measured,about,default,unknown,not said"`
	Why   string `json:"why"` // for a default its reason, for an unknown what is taken meanwhile
	Doc   string `json:"doc"`
	Line  int    `json:"line"` // in the file; zero for what is not written
}

// reader turns a document into sections along the tags of package rig, which are the one place where keys are written down. It walks the
// document as written beside the completed one, so that what was filled in can be told from what was said.
type reader struct{ rows []Row }

// sectionsOf returns all that is aboard, in the order of the document.
func sectionsOf(said, full *rig.Rig) []Section {
	var list []Section
	s, f := reflect.ValueOf(said).Elem(), reflect.ValueOf(full).Elem()
	general := Section{Key: "rig", Title: "The rig", Doc: "what it is and who lives in it"}
	var rows reader
	for i := range f.NumField() {
		tag := f.Type().Field(i)
		key, doc := tag.Tag.Get("rig"), tag.Tag.Get("doc")
		if key == "campwright" {
			continue
		}
		parts, nested := partsAt(s.Field(i), f.Field(i), key)
		if !nested {
			rows.leaf(s.Field(i), f.Field(i), key, key, doc)
			continue
		}
		if len(parts) > 0 {
			list = append(list, Section{Key: key, Title: strings.ToUpper(key[:1]) + key[1:], Doc: doc, Parts: parts})
		}
	}
	general.Parts = []Part{{Rows: rows.rows}}
	return append([]Section{general}, list...)
}

// partsAt returns the parts of a field that holds groups; nested is false for a field that holds one value.
func partsAt(said, full reflect.Value, path string) (parts []Part, nested bool) {
	t := full.Type()
	switch {
	case t.Kind() == reflect.Pointer && t.Elem().Kind() == reflect.Struct:
		if full.IsNil() {
			return nil, true
		}
		var r reader
		r.group(elem(said, t.Elem()), full.Elem(), path, "")
		return []Part{{Path: path, Rows: r.rows}}, true
	case t.Kind() == reflect.Slice && t.Elem().Kind() == reflect.Struct:
		for i := range full.Len() {
			was := reflect.Zero(t.Elem())
			if said.Len() > i {
				was = said.Index(i)
			}
			name, segment := memberName(full.Index(i), i)
			var r reader
			r.group(was, full.Index(i), path+"/"+segment, "")
			parts = append(parts, Part{Path: path + "/" + segment, Name: name, Rows: r.rows})
		}
		return parts, true
	}
	return nil, false
}

// elem follows a pointer that may be nil.
func elem(v reflect.Value, t reflect.Type) reflect.Value {
	if v.IsNil() {
		return reflect.Zero(t)
	}
	return v.Elem()
}

// memberName returns what a member of a list goes by, and its segment in paths.
func memberName(member reflect.Value, index int) (name, segment string) {
	segment = strconv.Itoa(index + 1)
	if f := member.FieldByName("Name"); f.IsValid() && f.String() != "" {
		return f.String(), f.String()
	}
	if f := member.FieldByName("Place"); f.IsValid() {
		if p, ok := f.Interface().(rig.Place); ok {
			return "stop " + segment + spaced(p.Name), segment
		}
	}
	for i := range member.NumField() { // a link goes by the one part it has
		if f := member.Field(i); f.Kind() == reflect.Pointer && !f.IsNil() {
			return segment + " " + member.Type().Field(i).Tag.Get("rig"), segment
		}
		if v, ok := member.Field(i).Interface().(rig.Value); ok && v.State != figure.Absent {
			return segment + " " + member.Type().Field(i).Tag.Get("rig"), segment
		}
	}
	return segment, segment
}

func spaced(s string) string {
	if s == "" {
		return ""
	}
	return ": " + s
}

// group reads the fields of a group into rows; inner groups follow with their key before their own.
func (r *reader) group(said, full reflect.Value, path, before string) {
	t := full.Type()
	for i := range t.NumField() {
		sf := t.Field(i)
		key := sf.Tag.Get("rig")
		switch {
		case sf.Anonymous:
			r.group(said.Field(i), full.Field(i), path, before)
			continue
		case key == "" || key == ",key" || key == "name":
			continue
		}
		here, label := path+"/"+key, before+key
		f, s := full.Field(i), said.Field(i)
		switch {
		case f.Kind() == reflect.Pointer:
			if !f.IsNil() {
				r.group(elem(s, f.Type().Elem()), f.Elem(), here, label+", ")
			}
		case f.Kind() == reflect.Slice && f.Type().Elem().Kind() == reflect.Struct:
			for k := range f.Len() {
				was := reflect.Zero(f.Type().Elem())
				if s.Len() > k {
					was = s.Index(k)
				}
				name, segment := memberName(f.Index(k), k)
				r.group(was, f.Index(k), here+"/"+segment, strings.TrimSuffix(key, "s")+" "+name+", ")
			}
		case f.Kind() == reflect.Struct && f.Type() == reflect.TypeFor[rig.Block]():
			r.group(s, f, here, label+", ")
		default:
			r.leaf(s, f, here, label, sf.Tag.Get("doc"))
		}
	}
}

// leaf adds the row of one place of text, if something stands there.
func (r *reader) leaf(said, full reflect.Value, path, label, doc string) {
	row := Row{Path: path, Key: label, Doc: doc, State: states[figure.Plain]}
	written := true
	switch v := full.Interface().(type) {
	case string:
		row.Text, written = Both{v, v}, said.String() != ""
	case []string:
		text := strings.Join(v, ", ")
		row.Text = Both{text, text}
	case rig.Value:
		row.Text, row.State, row.Why, row.Line = valueText(v), states[v.State], v.Why, v.At.Line
	case rig.Draw:
		row.Text, row.State, row.Why, row.Line = drawText(v), states[v.Rate.State], v.Rate.Why, v.Rate.At.Line
	case rig.Size:
		l, w := both(v.Length.Quantity), both(v.Width.Quantity)
		if v.Length.State != figure.Absent {
			row.Text, row.State, row.Line = Both{l.US + " × " + w.US, l.Metric + " × " + w.Metric}, states[v.Length.State], v.At.Line
		}
	case rig.Cylinders:
		if v.Count.State != figure.Absent {
			n, each := quantity.Format(v.Count.Quantity, quantity.AsWritten), both(v.Each.Quantity)
			row.Text, row.State, row.Line = Both{n + " × " + each.US, n + " × " + each.Metric}, states[v.Each.State], v.Each.At.Line
		}
	case rig.Hours:
		text := v.Text()
		if v.State == figure.Default {
			text = v.Word
		}
		row.Text, row.Line, written = Both{text, text}, v.At.Line, v.State != figure.Default
	case rig.Chance:
		text := v.Text()
		if v.State == figure.Default {
			v.State = figure.Plain
			text = v.Text()
			written = false
		}
		row.Text, row.Line = Both{text, text}, v.At.Line
	case interface{ Text() string }:
		row.Text = Both{v.Text(), v.Text()}
	}
	if row.Text.US == "" {
		return
	}
	if !written {
		row.State = states[figure.Default]
	}
	r.rows = append(r.rows, row)
}

// valueText shows a value with the ends of its range; empty when nothing is known of it.
func valueText(v rig.Value) Both {
	switch {
	case v.State == figure.Absent:
		return Both{}
	case v.State == figure.Unknown && v.Low == 0 && v.High == 0 && v.Quantity.Kind == quantity.None:
		return Both{"not known", "not known"}
	}
	text := both(v.Quantity)
	if v.Low < v.High && v.State != figure.Plain && v.State != figure.Measured {
		q := v.Quantity
		q.Base = v.Low
		low := both(q)
		q.Base = v.High
		ends := span(low, both(q))
		text = Both{text.US + " (" + ends.US + ")", text.Metric + " (" + ends.Metric + ")"}
	}
	return text
}

// drawText shows a draw with its duty.
func drawText(d rig.Draw) Both {
	text := valueText(d.Rate)
	if d.Duty.State != figure.Absent && text.US != "" {
		duty := valueText(d.Duty)
		text.US, text.Metric = text.US+" at "+duty.US, text.Metric+" at "+duty.Metric
	}
	return text
}
