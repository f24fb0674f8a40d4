package web

import (
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"testing"

	"campwright/store"
)

// BenchmarkAnswers asks for what a page asks for, over a demo rig in memory whose answers are kept. Recorded on 2 shared cores under other
// loads, Go 1.26, go test ./web -run xxx -bench Answers -benchtime 50x:
//
//	/api/pulse                       0.015 ms   0.01 MB      39 allocs
//	/api/rig                          3.65 ms   1.83 MB   25451 allocs
//	/api/trip?weather=invented        4.94 ms   2.26 MB   37318 allocs
//	/api/try?path=people&text=3       4.97 ms   3.69 MB   57303 allocs
func BenchmarkAnswers(b *testing.B) {
	s, err := New(Options{
		Rig: store.Scratch("demo rig", exampleText(b), testNow), Now: testNow, Log: slog.New(slog.NewTextHandler(io.Discard, nil)), Hosts: []string{testHost}, Page: testPage,
	})
	if err != nil {
		b.Fatal(err)
	}
	for _, target := range []string{"/api/pulse", "/api/rig", "/api/trip?weather=invented", "/api/try?path=people&text=3"} {
		b.Run(target, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				r := httptest.NewRequest(http.MethodGet, target, nil)
				r.Host = testHost
				w := httptest.NewRecorder()
				s.ServeHTTP(w, r)
				if w.Code != http.StatusOK {
					b.Fatal(w.Body)
				}
			}
		})
	}
}
