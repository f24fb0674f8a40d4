package web

import (
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"campwright/store"
)

const testHost = "127.0.0.1:8080"

// exampleRig copies a demo rig into a folder of the test and returns its path.
func exampleRig(t *testing.T) string {
	t.Helper()
	return rigFile(t, string(readExample(t, "desert-trailer.yaml")))
}

func exampleText(t testing.TB) []byte { return readExample(t, "desert-trailer.yaml") }

func readExample(t testing.TB, name string) []byte {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "examples", name))
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// answerable is the demo rig with its one gap filled.
func answerable(t *testing.T) string {
	t.Helper()
	text := string(readExample(t, "desert-trailer.yaml"))
	return rigFile(t, strings.Replace(text, "power: unknown", "power: about 3 W", 1))
}

func rigFile(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "rig.yaml")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

var testPage = fstest.MapFS{
	"index.html": {Data: []byte("<!doctype html><title>page</title>")}, "assets/page-1.js": {Data: []byte("1")}, ".gitkeep": {},
}

// lost is a rig whose file is gone.
type lost struct{ OpenRig }

func (lost) Name() string                { return "rig.yaml" }
func (lost) State() (store.State, error) { return store.State{}, fs.ErrNotExist }

// broken is a rig that fails in a way nobody foresaw.
type broken struct{ OpenRig }

func (broken) Name() string                { return "rig.yaml" }
func (broken) State() (store.State, error) { return store.State{}, errors.New("secret of the house") }

func testNow() time.Time { return time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC) }

func newTestServer(t *testing.T, path string, change ...func(*Options)) *Server {
	t.Helper()
	var open OpenRig = lost{}
	if path == "" {
		path = filepath.Join(t.TempDir(), "lost.yaml")
	}
	if kept, err := store.Open(path, testNow); err == nil {
		open = kept
	} else if !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	o := Options{
		Rig: open, Now: testNow,
		Log: slog.New(slog.NewTextHandler(io.Discard, nil)), Hosts: []string{testHost, "localhost:8080"}, Page: testPage, Version: "test",
	}
	for _, c := range change {
		c(&o)
	}
	s, err := New(o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// get asks the server and returns the answer; set changes the request.
func get(s http.Handler, target string, set ...func(*http.Request)) *httptest.ResponseRecorder {
	r := httptest.NewRequest(http.MethodGet, target, nil)
	r.Host = testHost
	for _, f := range set {
		f(r)
	}
	w := httptest.NewRecorder()
	s.ServeHTTP(w, r)
	return w
}

func decoded[T any](t *testing.T, w *httptest.ResponseRecorder) T {
	t.Helper()
	var v T
	if w.Code != http.StatusOK {
		t.Fatalf("status %d: %s", w.Code, w.Body)
	}
	if err := json.Unmarshal(w.Body.Bytes(), &v); err != nil {
		t.Fatal(err)
	}
	return v
}
