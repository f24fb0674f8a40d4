package web

import (
	"context"
	"net/http"
	"strings"
	"time"

	"campwright/rig"
	"campwright/store"

	"github.com/danielgtaylor/huma/v2"
)

// HistoryView is how the rig came to be what it is.
type HistoryView struct {
	Kept    []KeptRow   `json:"kept" nullable:"false"`    // revisions with a name, the newest first
	Changes []ChangeRow `json:"changes" nullable:"false"` // the last changes, the newest first
}

// KeptRow is a revision with a name.
type KeptRow struct {
	Revision string `json:"revision"`
	Name     string `json:"name"`
	Note     string `json:"note"`
	At       string `json:"at"` // day, in words
}

// ChangeRow is one change.
type ChangeRow struct {
	Words    string `json:"words"`
	Note     string `json:"note"`
	At       string `json:"at"` // day and clock, in words
	Revision string `json:"revision"`
}

// CompareView is two revisions side by side, differences only.
type CompareView struct {
	Rows   []CompareRow `json:"rows" nullable:"false"`
	Stores []CompareRow `json:"stores" nullable:"false"` // how long each lasts in each of the two; empty where one has no answer
}

// CompareRow is one difference.
type CompareRow struct {
	Where string `json:"where"`
	A     string `json:"a"` // empty where it is not there
	B     string `json:"b"`
}

// KeepAsk gives the present text a name.
type KeepAsk struct {
	Name string `json:"name" minLength:"1" maxLength:"80"`
	Note string `json:"note,omitempty" maxLength:"500"`
}

// RestoreAsk goes back to a revision; that is a change like any other.
type RestoreAsk struct {
	Revision string `json:"revision" doc:"that is shown"`
	To       string `json:"to"`
}

type historyOutput struct{ Body HistoryView }
type compareOutput struct{ Body CompareView }
type keepInput struct{ Body KeepAsk }
type restoreInput struct{ Body RestoreAsk }

type compareInput struct {
	A string `query:"a" required:"true" maxLength:"32" doc:"a revision"`
	B string `query:"b" maxLength:"32" doc:"another; none for the present one"`
}

// shownChanges is how many of the last changes are told.
const shownChanges = 40

func (s *Server) historyOperations(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "history", Method: http.MethodGet, Path: "/api/history", Summary: "Named revisions and the last changes",
	}, func(context.Context, *struct{}) (*historyOutput, error) {
		open := s.open()
		v := HistoryView{Kept: []KeptRow{}, Changes: []ChangeRow{}}
		for _, k := range open.Kept() {
			v.Kept = append(v.Kept, KeptRow{k.Revision, k.Name, k.Note, spelled(k.At.Local())})
		}
		for _, c := range open.Changes(shownChanges) {
			v.Changes = append(v.Changes, ChangeRow{c.Words, c.Note, clocked(c.At.Local()), c.Revision})
		}
		return &historyOutput{v}, nil
	})
	huma.Register(api, huma.Operation{
		OperationID: "keep", Method: http.MethodPost, Path: "/api/keep", Summary: "Give the present text a name", Errors: []int{404, 422, 500},
	}, func(_ context.Context, in *keepInput) (*rigOutput, error) {
		return s.changed("keep", func(open OpenRig) (store.State, error) {
			return open.Keep(strings.TrimSpace(in.Body.Name), strings.TrimSpace(in.Body.Note))
		})
	})
	huma.Register(api, huma.Operation{
		OperationID: "restore", Method: http.MethodPost, Path: "/api/restore", Summary: "Go back to a revision", Errors: []int{404, 409, 422, 500},
	}, func(_ context.Context, in *restoreInput) (*rigOutput, error) {
		return s.changed("restore", func(open OpenRig) (store.State, error) {
			text, err := open.Text(in.Body.To)
			if err != nil {
				return store.State{}, err
			}
			return open.Write(in.Body.Revision, text, "back to an earlier revision")
		})
	})
	huma.Register(api, huma.Operation{
		OperationID: "compare", Method: http.MethodGet, Path: "/api/compare", Summary: "Two revisions side by side, differences only", Errors: []int{404, 422, 500},
	}, func(ctx context.Context, in *compareInput) (*compareOutput, error) {
		a, err := s.at(in.A)
		if err != nil {
			return nil, s.fail("compare", err)
		}
		b, err := s.at(in.B)
		if err != nil {
			return nil, s.fail("compare", err)
		}
		return &compareOutput{s.compared(ctx, a, b)}, nil
	})
}

// at reads a revision; an empty one is the present.
func (s *Server) at(revision string) (reading, error) {
	if revision == "" {
		return s.read()
	}
	open := s.open()
	text, err := open.Text(revision)
	if err != nil {
		return reading{}, err
	}
	return understood(open.Name(), store.State{Text: text, Revision: revision}), nil
}

// compared tells two readings apart, by what they say and by what they answer.
func (s *Server) compared(ctx context.Context, a, b reading) CompareView {
	v := CompareView{Rows: []CompareRow{}, Stores: []CompareRow{}}
	for _, e := range rig.Diff(a.said, b.said) {
		v.Rows = append(v.Rows, CompareRow{Where: store.Where(e.Path), A: asWords(e.Old), B: asWords(e.New)})
	}
	ask := TripAsk{StepMin: usualStep}
	for _, r := range []reading{a, b} {
		if len(r.faults) > 0 || len(r.gaps) > 0 {
			return v
		}
	}
	was, err := s.answers.get(ctx, a, ask)
	if err != nil {
		return v
	}
	is, err := s.answers.get(ctx, b, ask)
	if err != nil {
		return v
	}
	for _, now := range is.Stores {
		v.Stores = append(v.Stores, CompareRow{Where: now.Store, A: storeNamed(was.Stores, now.Store).Text, B: now.Text})
	}
	for _, gone := range was.Stores {
		if storeNamed(is.Stores, gone.Store).Store == "" {
			v.Stores = append(v.Stores, CompareRow{Where: gone.Store, A: gone.Text})
		}
	}
	return v
}

// asWords writes a whole part without the signs of the file; a single value stays as it is.
func asWords(text string) string {
	if !strings.HasPrefix(text, "{") {
		return text
	}
	return strings.NewReplacer("{", "", "}", "", ": ", " ", `"`, "").Replace(text)
}

// clocked writes a day and its clock as people do.
func clocked(t time.Time) string { return t.Format("Mon 2 Jan 2006, 15:04") }
