package web_test

import (
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"time"

	"campwright/store"
	"campwright/web"
)

// A server answers only under the names it was given; it need not listen to be asked.
func ExampleNew() {
	now := func() time.Time { return time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC) }
	s, err := web.New(web.Options{
		Rig: store.Scratch("tern.yaml", []byte("campwright: 1\nname: Tern\nkind: van\n"), now), Now: now,
		Log: slog.New(slog.NewTextHandler(io.Discard, nil)), Hosts: []string{"127.0.0.1:8080"},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, host := range []string{"127.0.0.1:8080", "elsewhere.example"} {
		r := httptest.NewRequest(http.MethodGet, "/api/rig", nil)
		r.Host = host
		w := httptest.NewRecorder()
		s.ServeHTTP(w, r)
		fmt.Println(host, w.Code, strings.Contains(w.Body.String(), `"name":"Tern"`))
	}
	// Output:
	// 127.0.0.1:8080 200 true
	// elsewhere.example 421 false
}
