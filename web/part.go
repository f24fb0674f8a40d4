package web

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"campwright/rig"
	"campwright/store"

	"github.com/danielgtaylor/huma/v2"
)

// PartAsk is a change of a whole part.
type PartAsk struct {
	Revision string            `json:"revision" doc:"that is shown"`
	Do       string            `json:"do" enum:"add,copy,remove,rename,up,down"`
	Path     string            `json:"path" maxLength:"500" doc:"of the part; to add one, of its list"`
	Name     string            `json:"name,omitempty" maxLength:"100" doc:"of the new, copied or renamed part, where parts have names"`
	Kind     string            `json:"kind,omitempty" maxLength:"100" doc:"of a new part, out of those that can be picked; it brings name and values"`
	Users    string            `json:"users,omitempty" enum:"remove,point" doc:"what becomes of those that name a part which is removed"`
	To       string            `json:"to,omitempty" maxLength:"100" doc:"the part that they name instead"`
	Values   map[string]string `json:"values,omitempty" doc:"what a new part says, by key"`
}

type partInput struct{ Body PartAsk }

func (s *Server) partOperation(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "part", Method: http.MethodPost, Path: "/api/part", Summary: "Add, copy, remove, rename or move a part", Errors: []int{404, 409, 422, 500},
	}, func(_ context.Context, in *partInput) (*rigOutput, error) {
		return s.changedPart(in.Body)
	})
}

// changedPart changes a part and returns the rig after it, with where a new part stands.
func (s *Server) changedPart(ask PartAsk) (*rigOutput, error) {
	added := ""
	out, err := s.changed("part", func(open OpenRig) (state store.State, err error) {
		state, added, err = s.changePart(open, ask)
		return state, err
	})
	if err == nil {
		out.Body.Added = added
	}
	return out, err
}

func (s *Server) changePart(open OpenRig, ask PartAsk) (after store.State, added string, err error) {
	state, err := open.State()
	if err != nil {
		return store.State{}, "", err
	}
	if state.Revision != ask.Revision {
		return store.State{}, "", store.ErrChanged
	}
	switch {
	case ask.Do == "up" || ask.Do == "down":
		text, err := moved(state.Text, ask.Path, ask.Do == "up")
		if err != nil {
			return store.State{}, "", refused{err}
		}
		after, err = open.Write(state.Revision, text, "")
		return after, "", err
	case ask.Do == "add" && ask.Kind != "":
		return addKind(open, state, ask)
	}
	for key, text := range ask.Values {
		m := s.meant(ask.Path+"/1/"+key, text)
		if m.problem != "" {
			return store.State{}, "", refused{errors.New(m.problem)}
		}
		ask.Values[key] = m.text
	}
	note := ""
	edits, err := partEdits(state.Text, ask)
	if ask.Do == "remove" && ask.Users != "" {
		edits, err = removalWith(state.Text, ask)
		note = store.Where(ask.Path) + " removed, with what named it"
	}
	if err != nil {
		return store.State{}, "", refused{err}
	}
	if ask.Do == "add" || ask.Do == "copy" {
		added = edits[0].Path
		if ask.Do == "copy" && ask.Name != "" {
			added = added[:strings.LastIndexByte(added, '/')+1] + ask.Name
		}
	}
	if tried, err := open.Try(edits); err == nil {
		if err := spoilt(state.Text, tried, ask.Do); err != nil {
			return store.State{}, "", err
		}
	}
	after, err = open.Edit(state.Revision, edits, note)
	return after, added, err
}

// spoilt refuses a change of a part that would put into disorder what was in order: one that others still name cannot go, and one beside
// which there is no room cannot come.
func spoilt(before, after []byte, do string) error {
	now := newFaults(before, after)
	if len(now) == 0 {
		return nil
	}
	if do != "remove" {
		return refused{errors.New(strings.Join(nonEmpty(now[0].Problem, now[0].Hint), "; "))}
	}
	var users []string
	for _, f := range now {
		if user := store.Where(f.Path); !slices.Contains(users, user) {
			users = append(users, user)
		}
	}
	return refused{fmt.Errorf("it is still named at %s: put another name there first, or take that out", strings.Join(users, "; at "))}
}

// partEdits returns the edits that a change of a part comes to.
func partEdits(text []byte, ask PartAsk) ([]rig.Edit, error) {
	switch ask.Do {
	case "add":
		return addition(text, ask)
	case "copy":
		return duplicate(text, ask)
	case "rename":
		return renaming(text, ask)
	}
	old, err := rig.Read(text, ask.Path)
	if err != nil {
		return nil, err
	}
	if old == "" {
		return nil, fmt.Errorf("%s is not in the file", ask.Path)
	}
	return []rig.Edit{{Path: ask.Path, Old: old}}, nil
}

// addition adds a part at the end of a list.
func addition(text []byte, ask PartAsk) ([]rig.Edit, error) {
	path, err := memberPath(text, ask)
	if err != nil {
		return nil, err
	}
	values := map[string]string{}
	for k, v := range ask.Values {
		if v = strings.TrimSpace(v); v != "" {
			values[k] = v
		}
	}
	parts := written(values)
	if ask.Name != "" && !named(ask.Path) {
		parts = append([]string{"name: " + quoted(ask.Name)}, parts...)
	}
	if len(parts) == 0 {
		return nil, errors.New("a new part must say something; fill in one value at least")
	}
	return []rig.Edit{{Path: path, New: "{" + strings.Join(parts, ", ") + "}"}}, nil
}

// written writes values by key, those of one inner group together: "run/gauge" as "run: {gauge: ...}".
func written(values map[string]string) []string {
	inner := map[string]map[string]string{}
	var keys []string
	for k := range values {
		head, rest, _ := strings.Cut(k, "/")
		if inner[head] == nil {
			inner[head] = map[string]string{}
			keys = append(keys, head)
		}
		inner[head][rest] = values[k]
	}
	slices.Sort(keys)
	list := make([]string, len(keys))
	for i, k := range keys {
		if text, single := inner[k][""]; single {
			list[i] = k + ": " + quoted(text)
		} else {
			list[i] = k + ": {" + strings.Join(written(inner[k]), ", ") + "}"
		}
	}
	return list
}

// quoted writes a text so that nothing in it is taken for structure. A list in brackets stays one.
func quoted(text string) string {
	if strings.HasPrefix(text, "[") && strings.HasSuffix(text, "]") {
		return text
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`, "\t", " ").Replace(text) + `"`
}

// named tells whether the parts of a list go by their name in the file's keys.
func named(list string) bool {
	f, ok := rig.FieldOf(list)
	return ok && f.Form == "named"
}

// errNameTaken means that another part of a list goes by the name.
var errNameTaken = errors.New("there is a")

// memberPath is where a new member of a list goes.
func memberPath(text []byte, ask PartAsk) (string, error) {
	doc, _ := rig.Decode(bytes.NewReader(text))
	var names []string
	count := 0
	found := false
	visit := func(parts []Part) {
		for _, p := range parts {
			names, count = append(names, p.Name), count+1
		}
	}
	var lists func(parts []Part)
	lists = func(parts []Part) {
		for _, p := range parts {
			for _, l := range p.Lists {
				if l.Path == ask.Path {
					found = true
					visit(l.Parts)
				}
				lists(l.Parts)
			}
		}
	}
	for _, s := range sectionsOf(&doc, &doc) {
		if s.Path == ask.Path && s.Form != "group" {
			found = true
			visit(s.Parts)
		}
		lists(s.Parts)
	}
	if !found {
		return "", fmt.Errorf("%s is no list of parts", ask.Path)
	}
	switch {
	case ask.Name != "" && slices.Contains(names, ask.Name):
		return "", fmt.Errorf("%w %q already; give this one its own name", errNameTaken, ask.Name)
	case ask.Name != "":
		return ask.Path + "/" + ask.Name, nil
	case named(ask.Path):
		return "", errors.New("it needs a name")
	}
	return fmt.Sprintf("%s/%d", ask.Path, count+1), nil
}

// duplicate puts a copy of a part at the end of its list.
func duplicate(text []byte, ask PartAsk) ([]rig.Edit, error) {
	body, err := rig.Read(text, ask.Path)
	if err != nil {
		return nil, err
	}
	if body == "" {
		return nil, fmt.Errorf("%s is not in the file", ask.Path)
	}
	list := parentOf(text, ask.Path)
	path, err := memberPath(text, PartAsk{Path: list, Name: ask.Name})
	if err != nil {
		return nil, err
	}
	edits := []rig.Edit{{Path: path, New: body}}
	if ask.Name != "" && !named(list) {
		// The copy is made under its number and then gets its own name, so that the text stays as it was written.
		doc, _ := rig.Decode(bytes.NewReader(text))
		next, err := memberPath(text, PartAsk{Path: list})
		if err != nil {
			return nil, err
		}
		old := nameAt(&doc, ask.Path)
		edits = []rig.Edit{{Path: next, New: body}, {Path: next + "/name", Old: old, New: ask.Name}}
	}
	return edits, nil
}

// parentOf is the list that a part stands in. Names may hold strokes, so the path alone does not tell.
func parentOf(text []byte, path string) string {
	doc, _ := rig.Decode(bytes.NewReader(text))
	parent := ""
	var look func(list string, parts []Part)
	look = func(list string, parts []Part) {
		for _, p := range parts {
			if p.Path == path && p.Member {
				parent = list
			}
			for _, l := range p.Lists {
				look(l.Path, l.Parts)
			}
		}
	}
	for _, s := range sectionsOf(&doc, &doc) {
		look(s.Path, s.Parts)
	}
	return parent
}

// nameAt is what the part at a path goes by in the document.
func nameAt(doc *rig.Rig, path string) string {
	name := ""
	for _, s := range sectionsOf(doc, doc) {
		eachRow(s.Parts, func(r *Row) {
			if r.Path == path+"/name" {
				name = r.Raw
			}
		})
	}
	return name
}

// renaming gives a part another name, and with it every value of the file that named it.
func renaming(text []byte, ask PartAsk) ([]rig.Edit, error) {
	doc, before := rig.Decode(bytes.NewReader(text))
	old := nameAt(&doc, ask.Path)
	if old == "" && !named(parentOf(text, ask.Path)) {
		return []rig.Edit{{Path: ask.Path + "/name", New: ask.Name}}, nil
	}
	edits := []rig.Edit{{Path: ask.Path + "/name", Old: old, New: ask.Name}}
	for range 200 { // each round mends one reference
		tried, err := rig.Apply(text, edits)
		if err != nil {
			return nil, err
		}
		_, faults := rig.Decode(bytes.NewReader(tried))
		mend := rig.Edit{}
		for _, f := range faults {
			if slices.ContainsFunc(before, func(b rig.Fault) bool { return b.Path == f.Path }) || !strings.Contains(f.Value, old) {
				continue
			}
			if now, err := rig.Read(tried, f.Path); err == nil && strings.Contains(now, old) {
				mend = rig.Edit{Path: f.Path, Old: now, New: strings.Replace(now, old, ask.Name, 1)}
				break
			}
		}
		if mend.Path == "" || mend.Old == mend.New || slices.Contains(edits, mend) {
			break
		}
		edits = append(edits, mend)
	}
	return edits, nil
}
