package web

import (
	"net/http"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humago"
)

//go:generate go test -run TestOpenAPIIsUpToDate . -update
//go:generate npm --prefix ui run types

// operations registers every operation of the API and returns it.
func (s *Server) operations(mux *http.ServeMux) huma.API {
	config := huma.DefaultConfig("Campwright", "1")
	config.DocsPath = ""     // its page would load from elsewhere
	config.OpenAPIPath = ""  // the document is in the tree
	config.SchemasPath = ""  // and so are its schemas
	config.CreateHooks = nil // no $schema in bodies
	config.RejectUnknownQueryParameters = true
	api := humago.New(mux, config)
	s.rigOperation(api)
	s.pulseOperation(api)
	s.tripOperation(api)
	s.traceOperation(api)
	s.adviceOperation(api)
	s.homeOperation(api)
	s.weatherOperation(api)
	s.editOperations(api)
	s.tryOperations(api)
	s.partOperation(api)
	s.usersOperation(api)
	s.kindsOperation(api)
	s.historyOperations(api)
	s.startOperations(api)
	s.safeOperation(api)
	s.curesOperation(api)
	s.wiredOperations(api)
	mux.HandleFunc("/api/", func(w http.ResponseWriter, r *http.Request) { refuse(w, http.StatusNotFound, "no such operation") })
	return api
}
