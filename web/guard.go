package web

import (
	"crypto/subtle"
	"net/http"
	"net/netip"
	"net/url"
	"slices"
	"strings"
)

// This file is the door. A page of some other site, open in the same browser, can send requests to this machine; a name that its owner
// points here can even read the answers. So a request must come under a name of ours (Host), from a page of ours (Origin,
// Sec-Fetch-Site), and on the network with the token.

// mostBody is the largest request body [bytes]: a rig file and its frame.
const mostBody = 3 << 20

// policy lets the page load its own files and nothing else, and forbids inline script and inline style.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; connect-src 'self'; " +
	"manifest-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// tokenCookie holds the token once its link has been opened.
const tokenCookie = "campwright"

func guard(o Options, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("X-Frame-Options", "DENY")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=(), payment=(), usb=()")
		h.Set("Cache-Control", "no-store")
		if !slices.Contains(o.Hosts, strings.ToLower(r.Host)) {
			refuse(w, http.StatusMisdirectedRequest, "this address is not served here")
			return
		}
		if !ownPage(r) {
			refuse(w, http.StatusForbidden, "requests from other sites are not answered")
			return
		}
		if o.Token != "" && !admitted(w, r, o.Token) {
			return
		}
		if o.Token != "" && ownerOnly[r.URL.Path] && !atTheMachine(r) {
			refuse(w, http.StatusForbidden, "rigs are opened at the machine itself")
			return
		}
		if r.ContentLength > mostBody {
			refuse(w, http.StatusRequestEntityTooLarge, "the request is larger than any rig file")
			return
		}
		r.Body = http.MaxBytesReader(w, r.Body, mostBody)
		next.ServeHTTP(w, r)
	})
}

// ownerOnly are the operations that reach beyond the rig that is open. A visitor from the network gets that rig and no other file.
var ownerOnly = map[string]bool{"/api/rigs": true, "/api/open": true, "/api/save-as": true, "/api/new": true}

// atTheMachine tells whether a request comes from the machine that the program runs on.
func atTheMachine(r *http.Request) bool {
	from, err := netip.ParseAddrPort(r.RemoteAddr)
	return err == nil && from.Addr().Unmap().IsLoopback()
}

// ownPage tells whether a request comes from a page of ours, or from somebody who typed the address.
func ownPage(r *http.Request) bool {
	site := r.Header.Get("Sec-Fetch-Site")
	typed := site == "none" || r.Header.Get("Sec-Fetch-Mode") == "navigate" && r.Method == http.MethodGet && !strings.HasPrefix(r.URL.Path, "/api/")
	if site != "" && site != "same-origin" && !typed {
		return false
	}
	origin := r.Header.Get("Origin")
	if origin == "" {
		return true
	}
	u, err := url.Parse(origin)
	return err == nil && u.Scheme == "http" && strings.EqualFold(u.Host, r.Host)
}

// admitted lets in whoever brings the token: in the link once, in a cookie from then on.
func admitted(w http.ResponseWriter, r *http.Request, token string) bool {
	same := func(given string) bool { return subtle.ConstantTimeCompare([]byte(given), []byte(token)) == 1 }
	if c, err := r.Cookie(tokenCookie); err == nil && same(c.Value) {
		return true
	}
	if r.Method == http.MethodGet && r.URL.Path == "/" && same(r.URL.Query().Get("token")) {
		http.SetCookie(w, &http.Cookie{Name: tokenCookie, Value: token, Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode, MaxAge: 30 * 24 * 3600})
		http.Redirect(w, r, "/", http.StatusSeeOther) // the token leaves the address bar
		return false
	}
	refuse(w, http.StatusForbidden, "open the whole link that was printed; it carries the token")
	return false
}

// refuse answers with one plain sentence.
func refuse(w http.ResponseWriter, status int, text string) {
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write([]byte(text + "\n")) // a visitor who has left cannot be told
}
