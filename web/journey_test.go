package web

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	cdp "github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// screens are the windows that every sheet is tried in: a desk and a phone held in one hand.
var screens = []struct {
	name          string
	width, height int64
}{{"desk", 1440, 900}, {"phone", 360, 740}}

func TestJourneyWillItLast(t *testing.T) {
	t.Parallel()
	for _, screen := range screens {
		t.Run(screen.name, func(t *testing.T) {
			t.Parallel()
			address, _ := program(t, answerable(t))
			b := openBrowserAt(t, address, screen.width, screen.height)
			b.open("#last", ".sentence")
			if text := js[string](b, "document.querySelector('.sentence').textContent"); !strings.Contains(text, "stay") {
				t.Errorf("sentence %q", text)
			}
			if title := js[string](b, "document.title"); title != "Ocotillo: Will it last?" {
				t.Errorf("title %q", title)
			}
			b.shot("last-" + screen.name)
			if wide := js[float64](b, "document.documentElement.scrollWidth"); wide > float64(screen.width) {
				t.Errorf("the page is %v px wide in a window of %d px", wide, screen.width)
			}
			b.accessible()
			for _, word := range []string{"Print", "Save", "Undo", "Night"} {
				if n := js[float64](b, "[...document.querySelectorAll('header button')].filter(x => x.textContent === '"+word+"' && x.checkVisibility()).length"); n != 1 {
					t.Errorf("%s stands %v times in the strip", word, n)
				}
			}

			// The working behind a figure is one press away.
			js[bool](b, "document.querySelector('details summary').scrollIntoView({block: 'center'}), true")
			b.do(cdp.Click(cdp.CSS("details summary")))
			if open := js[bool](b, "document.querySelector('details').open"); !open {
				t.Error("the working did not open")
			}
			// The battery by keyboard, then closer.
			b.do(cdp.Focus(cdp.CSS("[role=slider]")), cdp.KeyEvent(kb.Home))
			b.until("document.querySelector('[role=slider]').getAttribute('aria-valuenow') === '0'")
			b.do(cdp.KeyEvent("+"))
			b.until("[...document.querySelectorAll('.views button')].some(x => x.textContent === 'Whole stay')")
			b.shot("closer-" + screen.name)

			// The other units, and the night.
			b.unfold()
			us := js[string](b, "document.querySelector('main').innerText")
			b.choose("Metric")
			b.until("document.querySelector('main').innerText.includes(' kg')")
			if us == js[string](b, "document.querySelector('main').innerText") {
				t.Error("nothing changed with the units")
			}
			b.choose("Night")
			b.until("document.documentElement.dataset.light === 'night'")
			b.shot("night-" + screen.name)
			b.readable()
			b.settled()
		})
	}
}

func TestJourneyWhatIsAboard(t *testing.T) {
	t.Parallel()
	for _, screen := range screens {
		t.Run(screen.name, func(t *testing.T) {
			t.Parallel()
			address, _ := program(t, answerable(t))
			b := openBrowserAt(t, address, screen.width, screen.height)
			b.open("#last", ".sentence")
			if screen.name == "phone" {
				b.do(cdp.Click(cdp.CSS(".opener")))
				b.shot("sheets-phone")
			}
			b.do(cdp.Click(cdp.CSS("nav a[href='#aboard']")), cdp.WaitVisible(cdp.CSS("#part-bank")))
			b.shot("aboard-" + screen.name)
			if wide := js[float64](b, "document.documentElement.scrollWidth"); wide > float64(screen.width) {
				t.Errorf("the page is %v px wide in a window of %d px", wide, screen.width)
			}
			for _, word := range []string{"measured", "about", "unknown", "default"} {
				if n := js[float64](b, fmt.Sprintf("[...document.querySelectorAll('.state')].filter(x => x.textContent.trim() === '%s').length", word)); n < 1 {
					t.Errorf("nothing on the sheet is marked %s", word)
				}
			}
			b.accessible()
			b.settled()
		})
	}
}

// TestJourneyOnPaper prints every sheet of every demo rig on both papers: one page each, but for the wiring, whose tables run on; there
// each page says of which rig and sheet it is.
func TestJourneyOnPaper(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"desert-trailer.yaml", "northern-van.yaml", "coastal-camper.yaml", "fifth-wheel.yaml"} {
		address, end := program(t, rigFile(t, string(readExample(t, name))))
		b := openBrowserAt(t, address, 1440, 900)
		for _, sheet := range []struct {
			hash, wait string
			most       int
		}{{"last", ".sentence", 1}, {"aboard", "#part-bank", 1}, {"safe", ".foot", 1}, {"wired", "tbody .name", 3}} {
			b.open("#"+sheet.hash, sheet.wait)
			for paper, size := range map[string]cdp.PaperSize{"letter": cdp.PaperLetter, "a4": cdp.PaperA4} {
				if pages := b.paper(strings.TrimSuffix(name, ".yaml")+"-"+sheet.hash+"-"+paper, size); pages < 1 || pages > sheet.most {
					t.Errorf("%s of %s on %s takes %d pages", sheet.hash, name, paper, pages)
				}
			}
		}
		b.settled()
		end()
	}
}

// TestJourneyChangedFile changes the file under an open page, then ends the program: the page follows, then keeps its last word.
func TestJourneyChangedFile(t *testing.T) {
	t.Parallel()
	path := answerable(t)
	address, end := program(t, path)
	b := openBrowserAt(t, address, 1440, 900)
	b.open("#last", ".sentence")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(strings.Replace(string(text), "name: Ocotillo", "name: Saguaro", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	b.until("document.querySelector('.rig .value').textContent.includes('Saguaro')")
	b.settled()
	end()
	b.until("document.querySelector('.silence') !== null")
	if text := js[string](b, "document.querySelector('.sentence').textContent"); !strings.Contains(text, "stay") {
		t.Errorf("the last answer is gone: %q", text)
	}
	b.shot("silence-desk")
	b.forgiven() // requests to a program that is gone are errors in the browser's log
}

// Budgets of the page on the loopback address [ms, bytes]. Measured with chromium 156 on 2 shared cores, Go 1.26, go test ./web -run
// TestJourneyBudgets -v: under other loads: first paint 170 to 610 ms, script 55 kB packed, change of units 3 to 8 ms, a changed value answered in 160 to 480 ms.
const (
	paintBudget    = 1000
	scriptBudget   = 150_000
	reactionBudget = 100
	answerBudget   = 1500 // of a change, on a machine that is shared; 100 on one that is not
)

func TestJourneyBudgets(t *testing.T) {
	address, _ := program(t, answerable(t))
	b := openBrowserAt(t, address, 1440, 900)
	b.open("#last", ".sentence")
	paint := math.Inf(1) // the best of three, since the machine is shared
	for range 3 {
		b.do(cdp.Navigate("about:blank"))
		b.open("#last", ".sentence")
		paint = min(paint, js[float64](b, "performance.getEntriesByName('first-contentful-paint')[0].startTime"))
	}
	script := js[float64](b, `(async () => {
		const url = document.querySelector('script[src]').src;
		const packed = (await fetch(url)).body.pipeThrough(new CompressionStream('gzip'));
		return (await new Response(packed).arrayBuffer()).byteLength;
	})()`)
	// From the press to the frame after it is drawn; the best of five, since the machine is shared.
	reaction := js[float64](b, `(async () => {
		const times = [];
		for (let i = 0; i < 5; i++) {
			const began = performance.now();
			[...document.querySelectorAll('header .choices button')].find(x => x.textContent === ['Metric', 'US'][i % 2]).click();
			await new Promise(done => requestAnimationFrame(() => setTimeout(done)));
			times.push(performance.now() - began);
		}
		return Math.min(...times);
	})()`)
	// From an edit to the answer that points out the difference: what the person at the page waits for.
	answer := js[float64](b, `(async () => {
		const times = [];
		const post = body => fetch('/api/edit', {method: 'POST', headers: {'Content-Type': 'application/json'}, body: JSON.stringify(body)}).then(r => r.json());
		let rig = await (await fetch('/api/rig')).json();
		for (let i = 0; i < 6; i++) {
			const began = performance.now(), before = rig.revision;
			rig = await post({revision: before, edits: [{path: 'appliances/laptops/power', old: 'about ' + (45 + i) + ' W', new: 'about ' + (46 + i) + ' W'}]});
			const trip = await (await fetch('/api/trip?weather=&since=' + before)).json();
			if (!trip.difference) throw new Error('no difference was told');
			times.push(performance.now() - began);
		}
		return Math.min(...times);
	})()`)
	t.Logf("first paint %.0f ms, script %.0f bytes packed, change of units %.0f ms, a changed value answered in %.0f ms", paint, script, reaction, answer)
	if !(paint > 0 && paint < paintBudget) || !(script > 0 && script < scriptBudget) || !(reaction > 0 && reaction < reactionBudget) || !(answer > 0 && answer < answerBudget) {
		t.Errorf("over budget: first paint %v of %v ms, script %v of %v bytes, reaction %v of %v ms, answer %v of %v ms", paint, paintBudget, script, scriptBudget, reaction, reactionBudget, answer, answerBudget)
	}
	b.settled()
}
