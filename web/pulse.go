package web

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"
)

// PulseView is the least that tells a page whether it is up to date.
type PulseView struct {
	Revision string `json:"revision"`
}

type pulseOutput struct{ Body PulseView }

func (s *Server) pulseOperation(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "pulse", Method: http.MethodGet, Path: "/api/pulse", Summary: "Has the rig changed?", Errors: []int{404, 500},
	}, func(context.Context, *struct{}) (*pulseOutput, error) {
		state, err := s.open().State()
		if err != nil {
			return nil, s.fail("pulse", err)
		}
		return &pulseOutput{PulseView{state.Revision}}, nil
	})
}
