package web

import (
	"bytes"
	"context"
	"io"
	"net/http"
	"os"
	"strings"
	"sync"
	"testing"
	"time"
)

// printed is what a program has printed so far, safe to read while it prints.
type printed struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (p *printed) Write(b []byte) (int, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.text.Write(b)
}

func (p *printed) String() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.text.String()
}

// serving starts Serve and returns what it prints and a function that ends it and returns its error.
func serving(t *testing.T, o ServeOptions) (out *printed, end func() error) {
	t.Helper()
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	out = &printed{}
	o.Out, o.NoOpen = out, true
	ctx, cancel := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() { ended <- Serve(ctx, o) }()
	deadline := time.After(10 * time.Second)
	for !strings.Contains(out.String(), "127.0.0.1") {
		select {
		case err := <-ended:
			t.Fatalf("it ended at once: %v", err)
		case <-deadline:
			t.Fatal("it printed no address")
		case <-time.After(time.Millisecond):
		}
	}
	return out, func() error { cancel(); return <-ended }
}

func linkIn(t *testing.T, text, of string) string {
	t.Helper()
	for _, line := range strings.Split(text, "\n") {
		if link, ok := strings.CutPrefix(line, "The page is at "); ok && strings.Contains(link, of) {
			return link
		}
	}
	t.Fatalf("no link of %s in %q", of, text)
	return ""
}

func status(t *testing.T, client *http.Client, url string) (int, string) {
	t.Helper()
	answer, err := client.Get(url)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	return answer.StatusCode, string(body)
}

func TestServe(t *testing.T) {
	out, end := serving(t, ServeOptions{RigPath: exampleRig(t)})
	link := linkIn(t, out.String(), "127.0.0.1")
	if code, body := status(t, http.DefaultClient, link+"api/rig"); code != http.StatusOK || !strings.Contains(body, "Ocotillo") {
		t.Errorf("status %d", code)
	}
	if err := end(); err != nil {
		t.Errorf("it ended with %v", err)
	}
	if _, err := http.Get(link); err == nil {
		t.Error("it answers after its end")
	}
}

func TestServeDemo(t *testing.T) {
	out, end := serving(t, ServeOptions{Demo: readExample(t, "northern-van.yaml")})
	if code, body := status(t, http.DefaultClient, linkIn(t, out.String(), "127.0.0.1")+"api/rig"); code != http.StatusOK || !strings.Contains(body, "Grebe") {
		t.Errorf("status %d", code)
	}
	if err := end(); err != nil {
		t.Errorf("it ended with %v", err)
	}
}

// TestServeLan asks for the token in the link and prints a code of it.
func TestServeLan(t *testing.T) {
	out, end := serving(t, ServeOptions{RigPath: exampleRig(t), Lan: true})
	link := linkIn(t, out.String(), "127.0.0.1")
	base, token, found := strings.Cut(link, "/?token=")
	if !found || len(token) < 20 {
		t.Fatalf("link %q", link)
	}
	if code, _ := status(t, http.DefaultClient, base+"/api/rig"); code != http.StatusForbidden {
		t.Errorf("without the token: status %d", code)
	}
	if len(ownAddresses()) > 0 && !strings.Contains(out.String(), "█") {
		t.Error("no code is printed")
	}
	if err := end(); err != nil {
		t.Errorf("it ended with %v", err)
	}
}

func TestServeRefusals(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	if err := Serve(t.Context(), ServeOptions{RigPath: t.TempDir() + "/none.yaml", NoOpen: true}); err == nil || !strings.Contains(err.Error(), "none.yaml") {
		t.Errorf("a file that is not there: %v", err)
	}
	if err := Serve(t.Context(), ServeOptions{RigPath: exampleRig(t), Port: 70000, NoOpen: true}); err == nil || !strings.Contains(err.Error(), "70000") {
		t.Errorf("a port that cannot be: %v", err)
	}
	if _, err := os.Stat("none.yaml"); err == nil {
		t.Error("a file was left")
	}
}
