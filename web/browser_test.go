package web

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	cdproto "github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	cdp "github.com/chromedp/chromedp"
)

// This file drives a real browser on a program of its own process. The journeys are in journey_test.go.

// built is the program, compiled once for all journeys.
var built = sync.OnceValues(func() (string, error) {
	folder, err := os.MkdirTemp("", "campwright-journey")
	if err != nil {
		return "", err
	}
	path := filepath.Join(folder, "campwright.test.exe")
	out, err := exec.Command("go", "build", "-o", path, "campwright/cmd/campwright").CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("%w: %s", err, out)
	}
	return path, nil
})

func TestMain(m *testing.M) {
	code := m.Run()
	if compiled.Load() {
		if path, err := built(); err == nil {
			os.RemoveAll(filepath.Dir(path))
		}
	}
	os.Exit(code)
}

// compiled tells whether a journey asked for the program.
var compiled atomic.Bool

// program starts the real program on a rig file and returns its address and a function that ends it.
func program(t *testing.T, rigPath string) (address string, end func()) {
	t.Helper()
	if _, err := fs.Stat(builtPage(), "index.html"); err != nil {
		t.Skip("PAGE NOT BUILT: the browser journeys are not tested; run npm ci and npm run build in web/ui")
	}
	if _, err := exec.LookPath("go"); err != nil {
		t.Skip("GO ABSENT: the program cannot be compiled for the browser journeys")
	}
	compiled.Store(true)
	path, err := built()
	if err != nil {
		t.Fatal(err)
	}
	command := exec.Command(path, "serve", rigPath, "--no-open")
	command.Env = append(os.Environ(), "XDG_CONFIG_HOME="+t.TempDir())
	command.Stderr = os.Stderr
	out, err := command.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := command.Start(); err != nil {
		t.Fatal(err)
	}
	var once sync.Once
	end = func() {
		once.Do(func() {
			if err := command.Process.Signal(os.Interrupt); err != nil {
				t.Error(err)
			}
			if err := command.Wait(); err != nil {
				t.Errorf("the program did not end well: %v", err)
			}
		})
	}
	t.Cleanup(end)
	line, err := bufio.NewReader(out).ReadString('\n')
	address = strings.TrimSpace(strings.TrimPrefix(line, "The page is at "))
	if err != nil || !strings.HasPrefix(address, "http://127.0.0.1:") {
		t.Fatalf("the program printed %q: %v", line, err)
	}
	return strings.TrimSuffix(address, "/"), end
}

// browser is one tab that keeps account of what went wrong in it.
type browser struct {
	t    *testing.T
	ctx  context.Context
	base string

	mu     sync.Mutex
	wrongs []string
	asked  int
}

// openBrowserAt starts a browser of a window size. It is skipped loudly where there is none.
func openBrowserAt(t *testing.T, base string, width, height int64) *browser {
	t.Helper()
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			path = found
			break
		}
	}
	if path == "" {
		t.Skip("BROWSER ABSENT: the page is not tested in a browser; install chromium")
	}
	options := []cdp.ExecAllocatorOption{
		cdp.ExecPath(path), cdp.Headless, cdp.DisableGPU, cdp.NoFirstRun, cdp.NoDefaultBrowserCheck, cdp.NoSandbox, cdp.UserDataDir(t.TempDir()),
		cdp.Flag("hide-scrollbars", true), cdp.Flag("disable-background-networking", true), cdp.Flag("disable-dev-shm-usage", true),
	}
	limited, stop := context.WithTimeout(t.Context(), 4*time.Minute)
	t.Cleanup(stop)
	ctx, cancel := cdp.NewContext(limited, cdp.WithAllocatorOptions(options...))
	t.Cleanup(func() {
		if err := cdp.Cancel(ctx); err != nil && !errors.Is(err, context.Canceled) {
			t.Log("closing the browser:", err)
		}
		cancel()
	})
	b := &browser{t: t, ctx: ctx, base: base}
	b.do(cdp.EmulateViewport(width, height))
	if err := cdp.Listen(ctx, b.hear); err != nil {
		t.Fatal(err)
	}
	for _, enable := range []func() error{
		func() error { _, err := cdp.Call(ctx, network.Enable, network.EnableParams{}); return err },
		func() error { _, err := cdp.Call(ctx, log.Enable, cdproto.Empty{}); return err },
		func() error { _, err := cdp.Call(ctx, runtime.Enable, cdproto.Empty{}); return err },
	} {
		if err := enable(); err != nil {
			t.Fatal(err)
		}
	}
	return b
}

// hear notes every error of the page and every request that leaves the program's own address.
func (b *browser) hear(event any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		b.asked++
		if u := e.Request.URL; !strings.HasPrefix(u, b.base+"/") && !strings.HasPrefix(u, "data:") {
			b.wrongs = append(b.wrongs, "foreign request: "+u)
		}
	case *runtime.EventExceptionThrown:
		b.wrongs = append(b.wrongs, "exception: "+e.ExceptionDetails.Text)
	case *runtime.EventConsoleAPICalled:
		if e.Type == "error" || e.Type == "warning" {
			b.wrongs = append(b.wrongs, fmt.Sprintf("console: %v", e.Args))
		}
	case *log.EventEntryAdded:
		if e.Entry.Level == "error" {
			b.wrongs = append(b.wrongs, "log: "+e.Entry.Text+" "+e.Entry.URL)
		}
	}
}

// settled fails the test for whatever went wrong so far, and for a browser that was not listened to.
func (b *browser) settled() {
	b.t.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, w := range b.wrongs {
		b.t.Error(w)
	}
	b.wrongs = nil
	if b.asked == 0 {
		b.t.Error("no request was seen: the browser is not listened to")
	}
}

// forgiven drops what went wrong while the program was gone on purpose.
func (b *browser) forgiven() {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.wrongs = nil
}

func (b *browser) do(steps ...cdp.Action[cdp.Void]) {
	b.t.Helper()
	if err := cdp.Do(b.ctx, steps...); err != nil {
		b.t.Fatal(err)
	}
}

// open goes to a sheet and waits until something is shown there.
func (b *browser) open(hash, wait string) {
	b.t.Helper()
	b.do(cdp.Navigate(b.base+"/"+hash), cdp.WaitVisible(cdp.CSS(wait)))
}

// js evaluates an expression in the page.
func js[T any](b *browser, expression string) T {
	b.t.Helper()
	v, err := cdp.Run(b.ctx, cdp.Evaluate[T](expression, cdp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatalf("%s: %v", expression, err)
	}
	return v
}

// click presses what an expression finds, once it is there and can be pressed.
func (b *browser) click(find string) {
	b.t.Helper()
	b.until("(x => { if (!x || x.disabled) return false; x.scrollIntoView({block: 'center'}); x.click(); return true; })(" + find + ")")
}

// choose presses one of the choices of the title strip by its word. Nothing may lie over it: a hand presses what is on top.
func (b *browser) choose(word string) {
	b.t.Helper()
	b.until(`(x => {
		if (!x || x.disabled) return false;
		x.scrollIntoView({block: 'nearest'});
		const box = x.getBoundingClientRect(), top = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
		if (box.width > 0 && top === x) x.click();
		return box.width > 0 && top === x;
	})([...document.querySelectorAll('header .choices button')].find(x => x.textContent === '` + word + `'))`)
}

// until waits for an expression to become true, longer than any machine should need: what a journey waits for is a condition, not a time.
func (b *browser) until(expression string) {
	b.t.Helper()
	if _, err := cdp.Run(b.ctx, cdp.Poll[bool](expression, cdp.WithPollingTimeout(time.Minute))); err != nil {
		b.t.Fatalf("waiting for %s: %v", expression, err)
	}
}

// shot writes a picture of the window, into the folder that CAMPWRIGHT_SHOTS names or into one of the test.
func (b *browser) shot(name string) {
	b.t.Helper()
	png, err := cdp.Run(b.ctx, cdp.CaptureScreenshot())
	if err != nil {
		b.t.Fatal(err)
	}
	b.keep(name+".png", png)
}

func (b *browser) keep(name string, data []byte) {
	b.t.Helper()
	folder := os.Getenv("CAMPWRIGHT_SHOTS")
	if folder == "" {
		folder = b.t.TempDir()
	}
	if err := os.WriteFile(filepath.Join(folder, name), data, 0o644); err != nil {
		b.t.Fatal(err)
	}
}

// paper prints the sheet and returns how many pages it took.
func (b *browser) paper(name string, size cdp.PaperSize) int {
	b.t.Helper()
	pdf, err := cdp.Run(b.ctx, cdp.PrintToPDF(cdp.PDFPaper(size), cdp.PDFPreferCSSPageSize()))
	if err != nil {
		b.t.Fatal(err)
	}
	b.keep(name+".pdf", pdf)
	return len(regexp.MustCompile(`/Type\s*/Page\b`).FindAll(pdf, -1))
}

// accessible runs the axe rules on what a selector finds, the whole page for none, and fails for every serious or critical finding.
func (b *browser) accessible(within ...string) {
	b.t.Helper()
	scope := "document"
	if len(within) > 0 {
		scope = "document.querySelector(`" + within[0] + "`)"
	}
	b.axe(scope, "", 10)
}

// readable runs the one rule on the contrast of colours, for the night view of a page whose other rules have been run by day.
func (b *browser) readable() {
	b.t.Helper()
	b.axe("document", "runOnly: ['color-contrast'], ", 1)
}

// axe runs rules of which so many must have found something to pass.
func (b *browser) axe(scope, only string, least int) {
	b.t.Helper()
	script, err := os.ReadFile(filepath.Join("ui", "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		b.t.Skip("AXE ABSENT: accessibility is not tested; run npm ci in web/ui")
	}
	js[bool](b, string(script)+"; true")
	text := js[string](b, `axe.run(`+scope+`, {`+only+`preload: false, resultTypes: ['violations']}).then(r => JSON.stringify({passes: r.passes.length,
		violations: r.violations.map(v => ({id: v.id, impact: v.impact, help: v.help, nodes: v.nodes.slice(0, 4).map(n => n.target.join(' ') + ': ' + n.failureSummary)}))}))`)
	var found struct {
		Passes     int
		Violations []struct {
			ID, Impact, Help string
			Nodes            []string
		}
	}
	if err := json.Unmarshal([]byte(text), &found); err != nil {
		b.t.Fatal(err)
	}
	if found.Passes < least {
		b.t.Errorf("only %d rules were applied", found.Passes)
	}
	for _, v := range found.Violations {
		if v.Impact == "serious" || v.Impact == "critical" {
			b.t.Errorf("%s (%s): %s\n  %s", v.ID, v.Impact, v.Help, strings.Join(v.Nodes, "\n  "))
		}
	}
}
