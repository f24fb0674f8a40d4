package web

import (
	"strings"
	"testing"

	cdp "github.com/chromedp/chromedp"
)

// TestJourneyHowIsItWired looks at a state, asks why, accepts a proposal and takes it back, and asks what stays live, on desk and phone.
func TestJourneyHowIsItWired(t *testing.T) {
	t.Parallel()
	for _, screen := range screens {
		t.Run(screen.name, func(t *testing.T) {
			t.Parallel()
			address, _ := program(t, answerable(t))
			b := openBrowserAt(t, address, screen.width, screen.height)
			b.open("#wired", ".sentence")
			if title := js[string](b, "document.title"); title != "Ocotillo: How is it wired?" {
				t.Errorf("title %q", title)
			}
			if n := js[float64](b, "document.querySelectorAll('tr.proposed').length"); n < 10 {
				t.Errorf("only %v runs are told to be proposed", n)
			}
			narrow := func(what string) {
				if wide := js[float64](b, "document.documentElement.scrollWidth"); wide > float64(screen.width) {
					t.Errorf("%s: the page is %v px wide in a window of %d px", what, wide, screen.width)
				}
			}
			b.unfold()
			narrow("at first")
			b.shot("wired-" + screen.name)

			// A state: the runs tell what they lose in it. Both selectors are there; the one of the width is seen.
			before := js[string](b, "document.querySelector('tr.proposed').innerText")
			if screen.name == "phone" {
				js[bool](b, `(s => { s.value = 'noon, hot'; s.dispatchEvent(new Event('change', {bubbles: true})); return true; })(document.querySelector('.narrow select'))`)
			} else {
				b.click(`[...document.querySelectorAll('.wide button')].find(x => x.textContent === 'noon, hot')`)
			}
			b.until("document.querySelector('.told').textContent.includes('clear noon in heat')")
			if after := js[string](b, "document.querySelector('tr.proposed').innerText"); after == before {
				t.Error("the state changes no run")
			}
			js[bool](b, "document.querySelector('.states').scrollIntoView(), true")
			b.shot("wired-state-" + screen.name)

			// Why like this, by keyboard: the limit that forced the size.
			b.do(cdp.Focus(cdp.CSS("tr.proposed .act button")), cdp.KeyEvent("\r"))
			b.until("document.querySelector('.why .chosen') !== null")
			if text := js[string](b, "document.querySelector('.why').textContent"); !strings.Contains(text, "because") || !strings.Contains(text, "Accept") {
				t.Errorf("why: %q", text)
			}
			narrow("with a why open")
			b.shot("wired-why-" + screen.name)

			// Accepted with what it hangs on, then taken back by one press.
			proposed := js[float64](b, "document.querySelectorAll('tr.proposed').length")
			b.click("document.querySelector('.why .accept button')")
			b.until("document.querySelector('main .acts button') !== null")
			b.until("document.querySelectorAll('tr.guess').length > 0")
			if now := js[float64](b, "document.querySelectorAll('tr.proposed').length"); now >= proposed {
				t.Errorf("%v runs are proposed after one was accepted, %v before", now, proposed)
			}
			b.shot("wired-accepted-" + screen.name)
			b.click("[...document.querySelectorAll('main .acts button')].find(x => x.textContent === 'Undo')")
			b.until("document.querySelectorAll('tr.guess').length === 0")
			if now := js[float64](b, "document.querySelectorAll('tr.proposed').length"); now != proposed {
				t.Errorf("%v runs are proposed after the undo, %v before", now, proposed)
			}

			// What stays live when the main switch is open.
			b.click("[...document.querySelectorAll('th button')].find(x => x.textContent === 'main switch')")
			b.until("document.querySelector('.live li') !== null")
			text := js[string](b, "document.querySelector('.live').textContent")
			for _, word := range []string{"stays live", "in this order", "Prove it dead"} {
				if !strings.Contains(text, word) {
					t.Errorf("opened device does not tell %q: %s", word, text)
				}
			}
			narrow("with a device open")
			b.shot("wired-live-" + screen.name)
			b.accessible()

			// The night.
			b.click("[...document.querySelectorAll('.choices button')].find(x => x.textContent === 'Night')")
			b.until("document.documentElement.dataset.light === 'night'")
			b.shot("wired-night-" + screen.name)
			b.readable()
			b.settled()
		})
	}
}

// TestJourneyWiredOnPaper prints the sheet: few pages, on both papers.
func TestJourneyWiredOnPaper(t *testing.T) {
	t.Parallel()
	address, _ := program(t, answerable(t))
	b := openBrowserAt(t, address, 1440, 900)
	b.open("#wired", ".sentence")
	for name, size := range map[string]cdp.PaperSize{"letter": cdp.PaperLetter, "a4": cdp.PaperA4} {
		if pages := b.paper("wired-"+name, size); pages < 1 || pages > 4 {
			t.Errorf("on %s it takes %d pages", name, pages)
		}
	}
	b.settled()
}
