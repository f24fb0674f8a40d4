package web

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	cdp "github.com/chromedp/chromedp"
)

// TestJourneyStart begins a rig with a few questions, keeps it as a file, and opens another.
func TestJourneyStart(t *testing.T) {
	t.Parallel()
	path := exampleRig(t)
	for _, screen := range screens {
		t.Run(screen.name, func(t *testing.T) {
			t.Parallel()
			address, _ := program(t, path)
			b := openBrowserAt(t, address, screen.width, screen.height)
			b.open("#start", "section h2")
			b.until("[...document.querySelectorAll('h2')].some(h => h.textContent === 'A new one')")
			b.shot("start-" + screen.name)
			b.accessible()
			b.click("[...document.querySelectorAll('button')].find(x => x.textContent.startsWith('Begin'))")
			b.do(cdp.WaitVisible(cdp.CSS(".form .do")))
			b.do(cdp.SendKeys(cdp.CSS(".form input"), "Siskin"))

			// A place is understood as people say it, and a slip of the pen is offered right.
			b.until("document.querySelector('.form input[placeholder*=Quartzsite]') !== null")
			b.do(cdp.SendKeys(cdp.CSS(".form input[placeholder*=Quartzsite]"), "near Quartzite"))
			b.until("document.querySelector('.form .offers button')?.textContent === 'Quartzsite, AZ, US'")
			b.shot("place-" + screen.name)
			b.click("document.querySelector('.form .offers button')")
			b.until("document.querySelector('.form input[placeholder*=Quartzsite]').value === 'Quartzsite, AZ, US'")
			js[bool](b, "document.querySelector('.form .do').scrollIntoView({block: 'center'}), true")
			b.shot("new-" + screen.name)
			b.accessible()
			b.do(cdp.Click(cdp.CSS(".form .do")), cdp.WaitVisible(cdp.CSS("#part-bank")))
			b.until("document.querySelector('.rig .value').textContent.includes('Siskin')")

			// The sheet is read from its head, and says that the rig is not saved yet; it is saved right there.
			b.until("scrollY === 0 && document.activeElement?.id === 'sheet'")
			b.shot("unsaved-" + screen.name)
			b.accessible()
			b.until("document.querySelector('.unsaved input').value === 'Siskin'")
			b.do(cdp.SendKeys(cdp.CSS(".unsaved input"), " "+screen.name), cdp.Click(cdp.CSS(".unsaved button")))
			b.until("document.querySelector('.unsaved') === null && document.querySelector('#part-bank') !== null")
			if _, err := os.Stat(filepath.Join(filepath.Dir(path), "Siskin "+screen.name+".yaml")); err != nil {
				t.Error(err)
			}
			js[bool](b, "location.hash = '#start', true")
			b.until("[...document.querySelectorAll('li button')].some(x => x.textContent === 'Ocotillo')")
			b.click("[...document.querySelectorAll('li button')].find(x => x.textContent === 'Ocotillo')")
			b.do(cdp.WaitVisible(cdp.CSS(".sentence")))
			b.until("document.querySelector('.rig .value').textContent.includes('Ocotillo')")
			if wide := js[float64](b, "document.documentElement.scrollWidth"); wide > float64(screen.width) {
				t.Errorf("the page is %v px wide in a window of %d px", wide, screen.width)
			}
			b.settled()
		})
	}
}

// TestJourneySavedSheet saves a sheet as one file, ends the program, and opens the file: it shows the same and asks for nothing.
func TestJourneySavedSheet(t *testing.T) {
	t.Parallel()
	address, end := program(t, exampleRig(t))
	b := openBrowserAt(t, address, 1440, 900)
	b.open("#last", ".sentence")
	b.until("document.querySelector('.track svg path') !== null")
	sentence := js[string](b, "document.querySelector('.sentence').textContent")
	// What would be downloaded is caught on its way to the reader.
	js[bool](b, `URL.createObjectURL = blob => { blob.text().then(t => window.saved = t); return '#'; }, true`)
	b.click(`[...document.querySelectorAll('.choices button')].find(x => x.textContent === 'Save')`)
	b.until("typeof window.saved === 'string'")
	text := js[string](b, "window.saved")
	b.settled()
	end()
	b.forgiven()
	for _, bad := range []string{"<script", "src=\"/", "href=\"/", "url(/", "http-equiv"} {
		if strings.Contains(text, bad) {
			t.Errorf("the file holds %q", bad)
		}
	}
	path := filepath.Join(t.TempDir(), "sheet.html")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	b.base = "file://" + filepath.Dir(path)
	b.do(cdp.Navigate("file://"+path), cdp.WaitVisible(cdp.CSS(".sentence")))
	if got := js[string](b, "document.querySelector('.sentence').textContent"); got != sentence {
		t.Errorf("saved %q, shown %q", got, sentence)
	}
	if font := js[bool](b, "document.fonts.ready.then(() => document.fonts.check('16px \"Inter Variable\"'))"); !font {
		t.Error("the font is not in the file")
	}
	if len(text) > 600_000 {
		t.Errorf("the file is %d bytes", len(text))
	}
	b.shot("saved-desk")
	b.keep("saved.html", []byte(text))
	b.accessible()
	b.settled()
}
