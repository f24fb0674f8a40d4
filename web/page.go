package web

import (
	"bytes"
	"embed"
	"errors"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"strings"
	"time"
)

// dist is the page as Vite built it. A clean clone holds only .gitkeep there and compiles all the same.
//
//go:embed all:ui/dist
var dist embed.FS

func builtPage() fs.FS {
	page, err := fs.Sub(dist, "ui/dist")
	if err != nil {
		panic("web: internal error: " + err.Error())
	}
	return page
}

// notBuilt is shown in place of a page that was not built.
const notBuilt = `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>Campwright: the page is not built</title></head>
<body><h1>The page is not built</h1>
<p>This program was compiled without its page. Build it, then compile again:</p>
<pre>cd web/ui
npm ci
npm run build
cd ../..
go build ./cmd/campwright</pre>
<p>The terminal commands work without it: <code>campwright --help</code>.</p></body></html>
`

// kinds are the types of the files of a page, written down because a machine's own table may be wrong.
var kinds = map[string]string{
	".html": "text/html; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8", ".svg": "image/svg+xml",
	".woff2": "font/woff2", ".json": "application/json", ".txt": "text/plain; charset=utf-8",
}

// pageHandler serves the built page. Every path that is no file of it is 404, so that a lost script cannot look like success.
func pageHandler(page fs.FS) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			w.Header().Set("Allow", "GET, HEAD")
			refuse(w, http.StatusMethodNotAllowed, "this can only be read")
			return
		}
		name := strings.TrimPrefix(path.Clean(r.URL.Path), "/")
		if name == "" {
			name = "index.html"
		}
		body, err := fs.ReadFile(page, name)
		switch {
		case errors.Is(err, fs.ErrNotExist) && name == "index.html":
			w.Header().Set("Content-Type", kinds[".html"])
			w.WriteHeader(http.StatusServiceUnavailable)
			_, _ = w.Write([]byte(notBuilt)) // a visitor who has left cannot be told
			return
		case err != nil || strings.HasPrefix(path.Base(name), "."):
			refuse(w, http.StatusNotFound, "no such file")
			return
		}
		kind := kinds[path.Ext(name)]
		if kind == "" {
			kind = mime.TypeByExtension(path.Ext(name))
		}
		w.Header().Set("Content-Type", kind)
		if strings.HasPrefix(name, "assets/") { // their names change with their content
			w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
		}
		http.ServeContent(w, r, name, time.Time{}, bytes.NewReader(body))
	})
}
