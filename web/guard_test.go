package web

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

func TestGuard(t *testing.T) {
	s := newTestServer(t, answerable(t))
	header := func(name, value string) func(*http.Request) {
		return func(r *http.Request) { r.Header.Set(name, value) }
	}
	host := func(name string) func(*http.Request) { return func(r *http.Request) { r.Host = name } }
	cases := []struct {
		what   string
		target string
		set    []func(*http.Request)
		want   int
	}{
		{"the address itself", "/", nil, 200},
		{"the other name of the machine", "/api/rig", []func(*http.Request){host("LOCALHOST:8080")}, 200},
		{"another port", "/api/rig", []func(*http.Request){host("127.0.0.1:8081")}, 421},
		{"a name that somebody points here", "/api/rig", []func(*http.Request){host("camp.example:8080")}, 421},
		{"our page asks", "/api/rig", []func(*http.Request){header("Sec-Fetch-Site", "same-origin"), header("Origin", "http://"+testHost)}, 200},
		{"another site asks", "/api/rig", []func(*http.Request){header("Sec-Fetch-Site", "cross-site")}, 403},
		{"another port of this machine asks", "/api/rig", []func(*http.Request){header("Sec-Fetch-Site", "same-site")}, 403},
		{"another origin asks", "/api/rig", []func(*http.Request){header("Origin", "http://127.0.0.1:9")}, 403},
		{"a file on disk asks", "/api/rig", []func(*http.Request){header("Origin", "null")}, 403},
		{"a link elsewhere leads here", "/", []func(*http.Request){header("Sec-Fetch-Site", "cross-site"), header("Sec-Fetch-Mode", "navigate")}, 200},
		{"a link elsewhere leads to an operation", "/api/rig", []func(*http.Request){header("Sec-Fetch-Site", "cross-site"), header("Sec-Fetch-Mode", "navigate")}, 403},
	}
	for _, c := range cases {
		w := get(s, c.target, c.set...)
		if w.Code != c.want {
			t.Errorf("%s: status %d, want %d: %s", c.what, w.Code, c.want, w.Body)
		}
		if csp := w.Header().Get("Content-Security-Policy"); !strings.Contains(csp, "default-src 'none'") || strings.Contains(csp, "unsafe") {
			t.Errorf("%s: content policy %q", c.what, csp)
		}
		if w.Header().Get("X-Content-Type-Options") != "nosniff" || w.Header().Get("Referrer-Policy") != "no-referrer" {
			t.Errorf("%s: headers %v", c.what, w.Header())
		}
	}
}

func TestGuardAsksForTheTokenOnTheNetwork(t *testing.T) {
	s := newTestServer(t, answerable(t), func(o *Options) { o.Token = "sesame" })
	if w := get(s, "/"); w.Code != http.StatusForbidden {
		t.Fatalf("without the token: status %d", w.Code)
	}
	if w := get(s, "/?token=sesam"); w.Code != http.StatusForbidden {
		t.Fatalf("with a wrong token: status %d", w.Code)
	}
	if w := get(s, "/api/rig?token=sesame"); w.Code != http.StatusForbidden {
		t.Fatalf("the token opens the page only, not an operation: status %d", w.Code)
	}
	w := get(s, "/?token=sesame")
	if w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/" || len(w.Result().Cookies()) != 1 {
		t.Fatalf("with the token: status %d, location %q", w.Code, w.Header().Get("Location"))
	}
	cookie := w.Result().Cookies()[0]
	if !cookie.HttpOnly || cookie.SameSite != http.SameSiteStrictMode {
		t.Errorf("cookie %v", cookie)
	}
	if w := get(s, "/api/rig", func(r *http.Request) { r.AddCookie(cookie) }); w.Code != http.StatusOK {
		t.Fatalf("with the cookie: status %d", w.Code)
	}
}

func TestGuardRefusesLargeBodies(t *testing.T) {
	s := newTestServer(t, answerable(t))
	for _, c := range []struct{ size, want int }{{mostBody, http.StatusMethodNotAllowed}, {mostBody + 1, http.StatusRequestEntityTooLarge}} {
		r := httptest.NewRequest(http.MethodPost, "/", strings.NewReader(strings.Repeat("x", c.size)))
		r.Host = testHost
		w := httptest.NewRecorder()
		s.ServeHTTP(w, r)
		if w.Code != c.want {
			t.Errorf("body of %d bytes: status %d, want %d", c.size, w.Code, c.want)
		}
	}
}

func TestPage(t *testing.T) {
	s := newTestServer(t, answerable(t))
	for _, c := range []struct {
		target string
		status int
		kind   string
	}{
		{"/", 200, "text/html; charset=utf-8"},
		{"/assets/page-1.js", 200, "text/javascript; charset=utf-8"},
		{"/assets/lost.js", 404, "text/plain; charset=utf-8"},
		{"/.gitkeep", 404, "text/plain; charset=utf-8"},
		{"/assets", 404, "text/plain; charset=utf-8"},
		{"/%2e%2e%2fweb.go", 404, "text/plain; charset=utf-8"},
		{"/api/nothing", 404, "text/plain; charset=utf-8"},
	} {
		w := get(s, c.target)
		if w.Code != c.status || w.Header().Get("Content-Type") != c.kind {
			t.Errorf("%s: status %d of type %q, want %d of %q", c.target, w.Code, w.Header().Get("Content-Type"), c.status, c.kind)
		}
	}
}

// TestPageThatIsNotBuilt is the program of a clean clone: it says which command builds the page.
func TestPageThatIsNotBuilt(t *testing.T) {
	empty := newTestServer(t, answerable(t), func(o *Options) {
		o.Page = testPageOf(".gitkeep")
	})
	w := get(empty, "/")
	if w.Code != http.StatusServiceUnavailable || !strings.Contains(w.Body.String(), "npm run build") {
		t.Fatalf("status %d: %s", w.Code, w.Body)
	}
}
