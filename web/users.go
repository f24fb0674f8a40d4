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

// A part that others name cannot simply go: what names it would lead nowhere. So it is said who names it, and the person chooses what
// becomes of them: they go too, or they name another part of the list.

// UsersView is who names a part.
type UsersView struct {
	Users  []UserRow `json:"users" nullable:"false"`
	Others []string  `json:"others" nullable:"false"` // parts of the list that can be named instead
}

// UserRow is one place that names a part.
type UserRow struct {
	Words string `json:"words"` // the place
	Goes  string `json:"goes"`  // what would go with the part, in words
}

type usersInput struct {
	Path string `query:"path" required:"true" maxLength:"500" doc:"of the part"`
}

type usersOutput struct{ Body UsersView }

func (s *Server) usersOperation(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "users", Method: http.MethodGet, Path: "/api/part/users", Summary: "Who names this part?", Errors: []int{404, 422, 500},
	}, func(_ context.Context, in *usersInput) (*usersOutput, error) {
		state, err := s.open().State()
		if err != nil {
			return nil, s.fail("users", err)
		}
		v, err := usersOf(state.Text, in.Path)
		if err != nil {
			return nil, s.fail("users", refused{err})
		}
		return &usersOutput{v}, nil
	})
}

// usersOf finds the places that name a part.
func usersOf(text []byte, path string) (UsersView, error) {
	v := UsersView{Users: []UserRow{}, Others: []string{}}
	removal, name, err := removalOf(text, path)
	if err != nil {
		return v, err
	}
	after, err := rig.Apply(text, []rig.Edit{removal})
	if err != nil {
		return v, err
	}
	for _, f := range newFaults(text, after) {
		goes := store.Where(goesWith(after, f.Path))
		if words := store.Where(f.Path); !slices.ContainsFunc(v.Users, func(u UserRow) bool { return u.Words == words }) {
			v.Users = append(v.Users, UserRow{words, goes})
		}
	}
	doc, _ := rig.Decode(bytes.NewReader(after))
	list := parentOf(text, path)
	for _, other := range membersOf(&doc, list) {
		if other = strings.TrimPrefix(other, list+"/"); other != name {
			v.Others = append(v.Others, other)
		}
	}
	return v, nil
}

// removalOf is the edit that takes a part out, and what the part goes by.
func removalOf(text []byte, path string) (rig.Edit, string, error) {
	old, err := rig.Read(text, path)
	switch {
	case err != nil:
		return rig.Edit{}, "", err
	case old == "":
		return rig.Edit{}, "", fmt.Errorf("%s is not in the file", store.Where(path))
	}
	return rig.Edit{Path: path, Old: old}, strings.TrimPrefix(path, parentOf(text, path)+"/"), nil
}

// newFaults are those of a text that another one does not have.
func newFaults(before, after []byte) rig.Faults {
	_, old := rig.Decode(bytes.NewReader(before))
	_, now := rig.Decode(bytes.NewReader(after))
	return slices.DeleteFunc(now, func(f rig.Fault) bool {
		return slices.ContainsFunc(old, func(o rig.Fault) bool { return o.Problem == f.Problem && o.Value == f.Value })
	})
}

// goesWith is the place that must go when what it names is gone: the value itself, or the part that cannot be without it.
func goesWith(text []byte, path string) string {
	if field, known := rig.FieldOf(path); known && field.Needs {
		doc, _ := rig.Decode(bytes.NewReader(text))
		part := ""
		for _, s := range sectionsOf(&doc, &doc) {
			eachPart(s.Parts, func(p *Part) {
				if p.Member && strings.HasPrefix(path, p.Path+"/") && len(p.Path) > len(part) {
					part = p.Path
				}
			})
		}
		if part != "" {
			return part
		}
	}
	return path
}

// eachPart calls f for every part and those in its lists.
func eachPart(parts []Part, f func(*Part)) {
	for i := range parts {
		f(&parts[i])
		for _, l := range parts[i].Lists {
			eachPart(l.Parts, f)
		}
	}
}

// mostUsers is how many places are mended when a part goes.
const mostUsers = 200

// removalWith takes a part out with all that names it, or lets that name another part.
func removalWith(text []byte, ask PartAsk) ([]rig.Edit, error) {
	removal, name, err := removalOf(text, ask.Path)
	if err != nil {
		return nil, err
	}
	if ask.Users == "point" && ask.To == "" {
		return nil, errors.New("say which part is to be named instead")
	}
	edits := []rig.Edit{removal}
	for range mostUsers {
		after, err := rig.Apply(text, edits)
		if err != nil {
			return nil, err
		}
		faults := newFaults(text, after)
		if len(faults) == 0 {
			return edits, nil
		}
		f := faults[0]
		at := f.Path
		if ask.Users == "remove" {
			at = goesWith(after, at)
		}
		old, err := rig.Read(after, at)
		if err != nil || old == "" {
			return nil, fmt.Errorf("%s cannot be put right by itself: change it first", store.Where(f.Path))
		}
		edit := rig.Edit{Path: at, Old: old}
		if ask.Users == "point" {
			if edit.New = strings.Replace(old, name, ask.To, 1); edit.New == old {
				return nil, fmt.Errorf("%s cannot be put right by itself: change it first", store.Where(f.Path))
			}
		}
		edits = append(edits, edit)
	}
	return nil, errors.New("too much names it: change that first")
}
