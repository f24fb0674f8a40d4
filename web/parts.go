package web

import (
	"reflect"
	"slices"
	"strconv"
	"strings"

	"campwright/figure"
	"campwright/rig"
)

// Section is one kind of part, such as all arrays, in the order of the document.
type Section struct {
	Path  string `json:"path"`  // as in the file
	Title string `json:"title"` // for people
	Doc   string `json:"doc"`
	Form  string `json:"form" enum:"group,list,named" doc:"one group, a list of parts, or parts by name"`
	There bool   `json:"there"` // whether anything is written under it
	Total Both   `json:"total"` // of its parts, where one makes sense
	Parts []Part `json:"parts" nullable:"false"`
}

// Part is one thing aboard with all that is said or taken about it.
type Part struct {
	Path    string     `json:"path"`
	Pattern string     `json:"pattern"` // the same with * for members, as fields are listed
	Name    string     `json:"name"`    // empty where there is only one of its kind
	Member  bool       `json:"member"`  // of a list: it can be copied, moved and removed
	Rows    []Row      `json:"rows" nullable:"false"`
	Unsaid  []string   `json:"unsaid" nullable:"false"` // keys below it under which nothing is written or taken
	Lists   []PartList `json:"lists" nullable:"false"`
}

// PartList is a list inside a part, such as the devices of a cable.
type PartList struct {
	Path  string `json:"path"`
	Key   string `json:"key"`
	Doc   string `json:"doc"`
	Form  string `json:"form" enum:"list,named"`
	Parts []Part `json:"parts" nullable:"false"`
}

// Row is one value of a part.
type Row struct {
	Path    string `json:"path"`
	Pattern string `json:"pattern"`
	Key     string `json:"key"` // "run, gauge"
	Text    Both   `json:"text"`
	Raw     string `json:"raw"` // as a person would write it in the file; empty for what is filled in
	State   string `json:"state" enum:"stated,measured,about,taken,default,unknown,left blank"`
	Why     string `json:"why"` // for a default its reason, for an unknown what is taken meanwhile
	Line    int    `json:"line"`
}

// The document is read along the tags of package rig, which are the one place where keys are written down. What was said is walked
// beside the completed document, so that what was filled in can be told from it.

// node is one struct of the document, as it was said and as it is completed.
type node struct {
	said, full    reflect.Value
	path, pattern string
}

func (n node) field(i int, key string) node {
	return node{n.said.Field(i), n.full.Field(i), join(n.path, key), join(n.pattern, key)}
}

func (n node) index(i int, segment string) node {
	was := reflect.Zero(n.full.Type().Elem())
	if n.said.Kind() == reflect.Slice && i < n.said.Len() {
		was = n.said.Index(i)
	}
	return node{was, n.full.Index(i), join(n.path, segment), join(n.pattern, "*")}
}

// elem follows a pointer, to an empty struct where it is nil.
func (n node) elem() node {
	t := n.full.Type().Elem()
	for _, v := range []*reflect.Value{&n.said, &n.full} {
		if v.IsNil() {
			*v = reflect.Zero(t)
		} else {
			*v = v.Elem()
		}
	}
	return n
}

func join(path, segment string) string {
	if path == "" {
		return segment
	}
	return path + "/" + segment
}

// sectionsOf returns all that can be aboard, in the order of the document.
func sectionsOf(said, full *rig.Rig) []Section {
	root := node{said: reflect.ValueOf(said).Elem(), full: reflect.ValueOf(full).Elem()}
	general := Section{Title: "The rig", Doc: "what it is and who lives in it", Form: "group", There: true}
	top := newPart(root)
	var list []Section
	for i := range root.full.NumField() {
		sf := root.full.Type().Field(i)
		key := sf.Tag.Get("rig")
		if key == "" || key == "campwright" {
			continue
		}
		n := root.field(i, key)
		s := Section{Path: key, Title: strings.ToUpper(key[:1]) + key[1:], Doc: sf.Tag.Get("doc"), Parts: []Part{}}
		switch formOf(sf.Type) {
		case "group":
			s.Form, s.There = "group", !n.full.IsNil()
			s.Parts = append(s.Parts, partOf(n.elem(), ""))
		case "list", "named":
			l := listOf(n, sf)
			s.Form, s.There, s.Parts = l.Form, len(l.Parts) > 0, l.Parts
		default:
			top.leaf(n, key, sf.Tag.Get("doc"))
			continue
		}
		list = append(list, s)
	}
	general.Parts = []Part{*top}
	return append([]Section{general}, list...)
}

// formOf tells what stands at a field of the document: one value, a group, a list, or groups by name.
func formOf(t reflect.Type) string {
	switch {
	case t.Kind() == reflect.Pointer, t == reflect.TypeFor[rig.Block]():
		return "group"
	case t.Kind() == reflect.Slice && t.Elem().Kind() == reflect.Struct:
		if f, ok := t.Elem().FieldByName("Name"); ok && f.Tag.Get("rig") == ",key" {
			return "named"
		}
		return "list"
	}
	return "value"
}

func newPart(n node) *Part {
	return &Part{Path: n.path, Pattern: n.pattern, Rows: []Row{}, Unsaid: []string{}, Lists: []PartList{}}
}

func partOf(n node, name string) Part {
	p := newPart(n)
	p.Name = name
	p.group(n, "")
	return *p
}

// listOf reads a list with its members.
func listOf(n node, sf reflect.StructField) PartList {
	l := PartList{Path: n.path, Key: sf.Tag.Get("rig"), Doc: sf.Tag.Get("doc"), Form: formOf(sf.Type), Parts: []Part{}}
	names := map[string]bool{}
	for i := range n.full.Len() {
		name, segment := memberName(n.full.Index(i), i)
		if names[segment] { // a second one of the name goes by its number
			segment = strconv.Itoa(i + 1)
		}
		names[segment] = true
		p := partOf(n.index(i, segment), name)
		p.Member = true
		if n.pattern == "charge line" {
			p.oneThing()
		}
		l.Parts = append(l.Parts, p)
	}
	return l
}

// oneThing leaves of what a link of the charge line does not say only what belongs to the one thing that it is.
func (p *Part) oneThing() {
	if len(p.Rows) == 0 {
		return
	}
	head := func(key string) string {
		key, _, _ = strings.Cut(key, "/")
		if key == "position maximum" { // of a fuse
			return "fuse"
		}
		return key
	}
	is := head(strings.TrimPrefix(p.Rows[0].Path, p.Path+"/"))
	p.Unsaid = slices.DeleteFunc(p.Unsaid, func(key string) bool { return head(key) != is })
}

// memberName returns what a member of a list goes by, and its segment in paths.
func memberName(member reflect.Value, index int) (name, segment string) {
	segment = strconv.Itoa(index + 1)
	if f := member.FieldByName("Name"); f.IsValid() && f.String() != "" {
		return f.String(), f.String()
	}
	if f := member.FieldByName("Place"); f.IsValid() {
		if p, ok := f.Interface().(rig.Place); ok {
			name = "stop " + segment
			if p.Name != "" {
				name += ": " + p.Name
			}
			return name, segment
		}
	}
	for i := range member.NumField() { // a link of the charge line goes by the one part it has
		f, key := member.Field(i), member.Type().Field(i).Tag.Get("rig")
		v, ok := f.Interface().(rig.Value)
		if f.Kind() == reflect.Pointer && !f.IsNil() || ok && v.State != figure.Absent {
			return segment + " " + key, segment
		}
	}
	return segment, segment
}

// group reads the fields of a group into rows; groups inside it follow with their key before their own.
func (p *Part) group(n node, before string) {
	t := n.full.Type()
	for i := range t.NumField() {
		sf := t.Field(i)
		key := sf.Tag.Get("rig")
		if sf.Anonymous {
			p.group(node{n.said.Field(i), n.full.Field(i), n.path, n.pattern}, before)
			continue
		}
		if key == "" {
			continue
		}
		if key == ",key" {
			key = "name"
		}
		inner := n.field(i, key)
		switch form := formOf(sf.Type); form {
		case "group":
			if sf.Type.Kind() == reflect.Pointer {
				inner = inner.elem()
			}
			p.group(inner, before+key+", ")
		case "list", "named":
			p.Lists = append(p.Lists, listOf(inner, sf))
		default:
			p.leaf(inner, before+key, sf.Tag.Get("doc"))
		}
	}
}
