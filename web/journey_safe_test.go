package web

import (
	"os"
	"strings"
	"testing"

	cdp "github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// This file drives the sheet "Is it safe?".

// press presses the button of a text inside a part of the page, once it is there.
func (b *browser) press(within, text string) {
	b.t.Helper()
	b.click("[...document.querySelectorAll(`" + within + " button`)].find(x => x.textContent.trim() === `" + text + "`)")
}

func TestJourneyIsItSafe(t *testing.T) {
	t.Parallel()
	for _, screen := range screens {
		t.Run(screen.name, func(t *testing.T) {
			t.Parallel()
			path := answerable(t)
			address, _ := program(t, path)
			b := openBrowserAt(t, address, screen.width, screen.height)
			b.open("#safe", "section.FAIL")
			if text := js[string](b, "document.querySelector('.sentence').textContent"); !strings.Contains(text, "FAIL") {
				t.Errorf("sentence %q", text)
			}
			if title := js[string](b, "document.title"); title != "Ocotillo: Is it safe?" {
				t.Errorf("title %q", title)
			}
			b.shot("safe-" + screen.name)
			narrow := func(when string) {
				t.Helper()
				if wide := js[float64](b, "document.documentElement.scrollWidth"); wide > float64(screen.width) {
					t.Errorf("%s the page is %v px wide in a window of %d px", when, wide, screen.width)
				}
			}
			narrow("at first")

			// The outlet at home is rated 15 A, so 12 A for hours by [NEC-210] 210.20(A). By keyboard: open it, and read the working.
			outlet := "[...document.querySelectorAll('section.FAIL article')].find(x => x.textContent.includes('210.20'))"
			js[bool](b, outlet+".id = 'outlet', "+outlet+".querySelector('.more').focus(), true")
			b.do(cdp.KeyEvent(kb.Enter))
			b.until("document.querySelector('#outlet .inside form') !== null")
			text := js[string](b, "document.querySelector('#outlet').innerText")
			for _, want := range []string{"must be at most 12 A", "80 % × 15 A", "shore/chargers/converter/output", "Set the shore limit to 12 A", "limit: 12 A"} {
				if !strings.Contains(text, want) {
					t.Errorf("the finding does not say %q: %s", want, text)
				}
			}
			b.shot("safe-open-" + screen.name)
			narrow("with a finding open")
			b.accessible()

			// The other units: the temperatures follow.
			if us := js[string](b, "document.querySelector('.foot table').innerText"); !strings.Contains(us, "°F") || strings.Contains(strings.Split(us, "Record low:")[0], "°C") {
				t.Errorf("temperatures in US units: %q", us)
			}
			b.press(".choices", "Metric")
			b.until("!document.querySelector('.foot table').innerText.includes('°F')")

			// The cure is applied, the sheet says what it did, and the finding is gone.
			b.press("#outlet", "Apply")
			b.until("document.querySelector('.shifts') !== null")
			if said := js[string](b, "document.querySelector('.shifts').innerText"); !strings.Contains(said, "12 A, must be at most 12 A") {
				t.Errorf("since the change: %q", said)
			}
			b.until("document.activeElement.classList.contains('shifts')") // the reader is led there
			b.until("![...document.querySelectorAll('section.FAIL article')].some(x => x.textContent.includes('210.20'))")
			written, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if !strings.Contains(string(written), "limit: 12 A") {
				t.Error("the file does not hold the cure")
			}
			b.shot("safe-cured-" + screen.name)

			b.press(".choices", "Night")
			b.until("document.documentElement.dataset.light === 'night'")
			b.shot("safe-night-" + screen.name)
			b.readable()
			b.settled()
		})
	}
}

// TestJourneyAccept lives with a finding: without a reason nothing happens, with one the finding is told apart.
func TestJourneyAccept(t *testing.T) {
	t.Parallel()
	path := answerable(t)
	address, _ := program(t, path)
	b := openBrowserAt(t, address, 360, 740)
	b.open("#safe", "section.FAIL")
	js[bool](b, "[...document.querySelectorAll('section.FAIL article')].find(x => x.textContent.includes('210.20')).id = 'outlet', true")
	b.press("#outlet", "Working and cures")
	b.until("document.querySelector('#outlet form') !== null")
	b.press("#outlet", "Accept it")
	b.until("document.querySelector('#outlet [role=alert]') !== null")
	b.do(cdp.SendKeys(cdp.CSS("#outlet textarea"), "The outlet is new: 20 A breaker, wired with 12 AWG"))
	b.press("#outlet", "Accept it")
	b.until("document.querySelector('section.ACCEPTED') !== null")
	if said := js[string](b, "document.querySelector('section.ACCEPTED').innerText"); !strings.Contains(said, "The outlet is new: 20 A breaker") {
		t.Errorf("accepted: %q", said)
	}
	written, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(written), "rule: M54") || !strings.Contains(string(written), "20 A breaker") {
		t.Error("the file does not hold the reason")
	}
	b.shot("safe-accepted")
	b.settled()
}

// TestJourneyStop shows a STOP as nothing else is shown, and prints: few findings on one page, the fullest demo rig on two.
func TestJourneyStop(t *testing.T) {
	t.Parallel()
	address, _ := program(t, rigFile(t, coldRig))
	b := openBrowserAt(t, address, 1440, 900)
	b.open("#safe", "section.STOP")
	stop := js[float64](b, "document.querySelector('section.STOP h2 svg').getBoundingClientRect().height")
	usual := js[float64](b, "document.querySelector('.counts svg').getBoundingClientRect().height")
	if !(stop > 1.5*usual) || !(usual > 0) {
		t.Errorf("a STOP is %v px high, other verdicts %v px", stop, usual)
	}
	b.accessible()
	b.shot("safe-stop")
	printed := func(name string, most int) {
		t.Helper()
		for paper, size := range map[string]cdp.PaperSize{"letter": cdp.PaperLetter, "a4": cdp.PaperA4} {
			if pages := b.paper("safe-"+name+"-"+paper, size); pages < 1 || pages > most {
				t.Errorf("%s on %s takes %d pages", name, paper, pages)
			}
		}
		b.settled()
	}
	printed("few", 1)
	address, _ = program(t, answerable(t))
	b = openBrowserAt(t, address, 1440, 900)
	b.open("#safe", "section.group")
	printed("demo", 2)
}
