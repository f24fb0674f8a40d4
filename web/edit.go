package web

import (
	"context"
	"errors"
	"net/http"
	"strings"

	"campwright/rig"
	"campwright/store"

	"github.com/danielgtaylor/huma/v2"
)

// EditAsk is a change of single values. Old is what stands there; empty adds, and an empty New leaves the value out.
type EditAsk struct {
	Revision string     `json:"revision" doc:"that the edits were made for"`
	Edits    []rig.Edit `json:"edits" minItems:"1" maxItems:"500" nullable:"false"`
	Note     string     `json:"note,omitempty" maxLength:"500"`
}

// StepAsk takes a change back, or makes it again.
type StepAsk struct {
	Revision string `json:"revision" doc:"that is shown"`
}

// TextAsk replaces the whole text.
type TextAsk struct {
	Revision string `json:"revision" doc:"that the text was made from"`
	Text     string `json:"text" maxLength:"1048576"`
	Note     string `json:"note,omitempty" maxLength:"500"`
}

type editInput struct{ Body EditAsk }
type stepInput struct{ Body StepAsk }
type textInput struct{ Body TextAsk }

func (s *Server) editOperations(api huma.API) {
	problems := []int{404, 409, 422, 500}
	huma.Register(api, huma.Operation{
		OperationID: "edit", Method: http.MethodPost, Path: "/api/edit", Summary: "Change values of the rig", MaxBodyBytes: mostBody, Errors: problems,
	}, func(_ context.Context, in *editInput) (*rigOutput, error) {
		return s.changed("edit", func(open OpenRig) (store.State, error) {
			edits, err := s.asFiled(in.Body.Edits)
			if err != nil {
				return store.State{}, err
			}
			state, err := open.Edit(in.Body.Revision, edits, in.Body.Note)
			if wrong := (*store.EditError)(nil); len(edits) == 1 && errors.As(err, &wrong) {
				problem, _ := s.misfit(open, edits[0], wrong)
				err = refused{errors.New(problem)}
			}
			return state, err
		})
	})
	huma.Register(api, huma.Operation{
		OperationID: "undo", Method: http.MethodPost, Path: "/api/undo", Summary: "Take the last change back", Errors: problems,
	}, func(_ context.Context, in *stepInput) (*rigOutput, error) {
		return s.changed("undo", func(open OpenRig) (store.State, error) { return open.Undo(in.Body.Revision) })
	})
	huma.Register(api, huma.Operation{
		OperationID: "redo", Method: http.MethodPost, Path: "/api/redo", Summary: "Make it again", Errors: problems,
	}, func(_ context.Context, in *stepInput) (*rigOutput, error) {
		return s.changed("redo", func(open OpenRig) (store.State, error) { return open.Redo(in.Body.Revision) })
	})
	huma.Register(api, huma.Operation{
		OperationID: "text", Method: http.MethodPost, Path: "/api/text", Summary: "Write the file's text anew", MaxBodyBytes: mostBody, Errors: problems,
	}, func(_ context.Context, in *textInput) (*rigOutput, error) {
		return s.changed("text", func(open OpenRig) (store.State, error) {
			return open.Write(in.Body.Revision, []byte(in.Body.Text), in.Body.Note)
		})
	})
}

// changed makes a change and returns the rig after it.
func (s *Server) changed(operation string, change func(OpenRig) (store.State, error)) (*rigOutput, error) {
	open := s.open()
	state, err := change(open)
	if err != nil {
		return nil, s.fail(operation, err)
	}
	return &rigOutput{s.rigView(s.last.understood(open.Name(), state))}, nil
}

// plainly takes the machine's words out of the text of an edit that does not fit: what stays is the value, what is wrong with it, the
// limit and the hint.
func plainly(err error) string {
	text := err.Error()
	text = strings.TrimPrefix(text, store.ErrChanged.Error()+": ")
	for strings.HasPrefix(text, `edit "`) {
		_, rest, found := strings.Cut(text, `": `)
		if !found {
			break
		}
		text = rest
	}
	return strings.TrimPrefix(text, "edit: ")
}
