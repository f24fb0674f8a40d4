package web

import (
	"context"
	"net/http"
	"strings"

	"campwright/rig"
	"campwright/store"

	"github.com/danielgtaylor/huma/v2"
)

// TryView is what a text would mean at a place, while it is being typed.
type TryView struct {
	Problem string  `json:"problem"` // in words; empty when the text can stand there
	Means   Both    `json:"means"`   // the value as it would be shown
	State   string  `json:"state"`
	Remark  string  `json:"remark"`                  // worth knowing about a text that can stand there
	Offers  []Offer `json:"offers" nullable:"false"` // what may have been meant, or meant instead
}

type tryInput struct {
	Path string `query:"path" required:"true" maxLength:"500"`
	Text string `query:"text" maxLength:"5000" doc:"as it would stand in the file; empty leaves the value out"`
	Run  string `query:"run" maxLength:"400" doc:"path of a proposed run in which the place lies, which is not in the file yet"`
}

type tryOutput struct{ Body TryView }

// CheckView is what is wrong with a whole text.
type CheckView struct {
	Faults []rig.Fault `json:"faults" nullable:"false"`
}

type checkInput struct {
	Body struct {
		Text string `json:"text" maxLength:"1048576"`
	}
}

type checkOutput struct{ Body CheckView }

type fieldsOutput struct {
	Body struct {
		Fields []rig.Field `json:"fields" nullable:"false"`
	}
}

func (s *Server) tryOperations(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "try", Method: http.MethodGet, Path: "/api/try", Summary: "What would this text mean there?", Errors: []int{404, 422, 500},
	}, func(_ context.Context, in *tryInput) (*tryOutput, error) {
		v, err := s.try(in.Path, in.Text, in.Run)
		if err != nil {
			return nil, s.fail("try", err)
		}
		return &tryOutput{v}, nil
	})
	huma.Register(api, huma.Operation{
		OperationID: "check", Method: http.MethodPost, Path: "/api/check", Summary: "What is wrong with this text?", MaxBodyBytes: mostBody, Errors: []int{422},
	}, func(_ context.Context, in *checkInput) (*checkOutput, error) {
		_, faults := rig.Decode(strings.NewReader(in.Body.Text))
		if faults == nil {
			faults = rig.Faults{}
		}
		return &checkOutput{CheckView{faults}}, nil
	})
	huma.Register(api, huma.Operation{
		OperationID: "fields", Method: http.MethodGet, Path: "/api/fields", Summary: "What can a rig file say?",
	}, func(context.Context, *struct{}) (*fieldsOutput, error) {
		out := &fieldsOutput{}
		out.Body.Fields = rig.Fields()
		return out, nil
	})
}

// try makes an edit in the air and says what it would mean; in a proposed run, as if that had been accepted.
func (s *Server) try(path, text, run string) (TryView, error) {
	open := s.open()
	state, err := open.State()
	if err != nil {
		return TryView{}, err
	}
	var first []rig.Edit
	if run != "" {
		if first, state.Text, _, err = s.taken(run); err != nil {
			return TryView{}, err
		}
	}
	old, err := rig.Read(state.Text, path)
	if err != nil {
		return TryView{}, refused{err}
	}
	m := s.meant(path, text)
	v := TryView{Problem: m.problem, Remark: m.remark, Offers: m.offers}
	if v.Offers == nil {
		v.Offers = []Offer{}
	}
	if m.problem != "" || old == m.text {
		return v, nil
	}
	edit := rig.Edit{Path: path, Old: old, New: m.text}
	tried, err := open.Try(append(first, edit))
	if err != nil {
		if v.Problem, m.offers = s.misfit(open, edit, err); len(m.offers) > 0 {
			v.Offers = m.offers
		}
		return v, nil
	}
	r := understood(open.Name(), store.State{Text: tried})
	for _, f := range r.faults {
		if f.Path == path {
			v.Problem = strings.Join(nonEmpty(f.Problem, f.Limit, f.Hint), "; ")
		}
	}
	for _, section := range sectionsOf(&r.said, &r.full) {
		eachRow(section.Parts, func(row *Row) {
			if row.Path == path {
				v.Means, v.State = row.Text, row.State
			}
		})
	}
	return v, nil
}

func nonEmpty(texts ...string) []string {
	var list []string
	for _, t := range texts {
		if t != "" {
			list = append(list, t)
		}
	}
	return list
}
