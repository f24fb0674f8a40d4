package web

import (
	"context"
	"errors"
	"io/fs"
	"net/http"

	"campwright/store"

	"github.com/danielgtaylor/huma/v2"
)

// statuses is the one table from kind of error to status. An error that is not in it is ours: the visitor reads "internal error" and
// the log has the rest.
var statuses = []struct {
	is     error
	status int
}{
	{fs.ErrNotExist, http.StatusNotFound},
	{fs.ErrPermission, http.StatusForbidden},
	{store.ErrChanged, http.StatusConflict},
	{store.ErrNothing, http.StatusConflict},
	{store.ErrUnknown, http.StatusNotFound},
	{store.ErrText, http.StatusUnprocessableEntity},
	{errAsk, http.StatusUnprocessableEntity},
	{context.Canceled, 499}, // the visitor has left
}

// errAsk means that what was asked for cannot be had; its text tells the visitor why.
var errAsk = errors.New("cannot be answered")

// refused is an error whose text is for the visitor.
type refused struct{ error }

func (r refused) Unwrap() []error { return []error{errAsk, r.error} }

// fail turns an error into an answer.
func (s *Server) fail(operation string, err error) error {
	for _, row := range statuses {
		if errors.Is(err, row.is) {
			return huma.NewError(row.status, plainly(err))
		}
	}
	if edit := (*store.EditError)(nil); errors.As(err, &edit) {
		return huma.NewError(http.StatusUnprocessableEntity, plainly(edit))
	}
	s.options.Log.Error(operation, "error", err)
	return huma.NewError(http.StatusInternalServerError, "internal error")
}
