package web

import (
	"strings"
	"testing"

	cdp "github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// TestJourneyWiredEdit types a size and a length into runs that are only proposed: each goes into the file with the value typed, and one undo
// takes it out again. Then the rating of a fuse of it is changed, a switch is added to it and taken out.
func TestJourneyWiredEdit(t *testing.T) {
	t.Parallel()
	for _, screen := range screens {
		t.Run(screen.name, func(t *testing.T) {
			t.Parallel()
			path := answerable(t)
			address, _ := program(t, path)
			b := openBrowserAt(t, address, screen.width, screen.height)
			b.open("#wired", ".sentence")
			b.unfold()
			row := func(name string) string {
				return `[...document.querySelectorAll('tr:not(.inside)')].find(r => r.querySelector('th .name')?.textContent === '` + name + `')`
			}
			undo := func() {
				t.Helper()
				b.click("[...document.querySelectorAll('main .acts button')].find(x => x.textContent === 'Undo')")
			}
			written := fileText(t, path)

			// A length, by keyboard.
			const run = "controller pantry"
			b.click(row(run) + "?.querySelector('td[data-label^=Length] .change')")
			b.until("document.activeElement?.closest('tr.entering .entry') !== null && document.activeElement?.tagName === 'INPUT'")
			if text := js[string](b, "document.querySelector('tr.entering').textContent"); !strings.Contains(text, "with your value it goes into your file") {
				t.Errorf("a proposal that is typed over says %q", text)
			}
			js[bool](b, `document.querySelector('.entry input').select(), true`)
			b.do(cdp.KeyEvent("11 ft"))
			b.until("document.querySelector('.said').textContent.includes('11 ft')")
			b.shot("wired-entry-" + screen.name)
			if screen.name == "desk" {
				b.accessible()
			}
			b.do(cdp.KeyEvent(kb.Enter))
			b.until(row(run) + "?.querySelector('td[data-label^=Length]').textContent.includes('11\u00a0ft') && !" + row(run) + ".classList.contains('proposed')")
			if text := fileText(t, path); !strings.Contains(text, run) || !strings.Contains(text, "length: 11 ft") {
				t.Errorf("the run is not in the file with the length typed:\n%s", text)
			}
			undo()
			b.until(row(run) + "?.classList.contains('proposed')")
			if text := fileText(t, path); text != written {
				t.Errorf("one undo does not take the run out of the file again:\n%s", text)
			}

			// A size.
			b.click(row(run) + "?.querySelector('td[data-label=Size] .change')")
			b.until("document.activeElement?.closest('tr.entering .entry') !== null && document.activeElement?.tagName === 'INPUT'")
			js[bool](b, `document.querySelector('.entry input').select(), true`)
			b.do(cdp.KeyEvent("4 AWG"), cdp.KeyEvent(kb.Enter))
			b.until(row(run) + "?.querySelector('td[data-label=Size]').textContent.includes('4\u00a0AWG') && !" + row(run) + ".classList.contains('proposed')")

			// The rating of its fuse.
			b.click(row(run) + "?.querySelector('.act button')")
			b.until("document.querySelector('.why .device .values') !== null")
			b.click("[...document.querySelectorAll('.why .device .values button')].find(x => x.textContent.includes('change the rating'))")
			b.until("document.activeElement?.closest('.why .entry') !== null")
			js[bool](b, `document.querySelector('.why .entry input').select(), true`)
			b.do(cdp.KeyEvent("50 A"), cdp.KeyEvent(kb.Enter))
			b.until(row(run) + "?.querySelector('td.devices').textContent.includes('50\u00a0A')")
			b.shot("wired-rating-" + screen.name)

			// A switch more, and away again.
			devices := row(run) + "?.querySelectorAll('td.devices .device').length"
			b.click("[...document.querySelectorAll('.why button')].find(x => x.textContent.includes('Add a fuse, switch or plug'))")
			b.until("document.querySelector('.why .form select') !== null")
			js[bool](b, `(f => {
				const put = (key, value) => { const at = f.querySelector('#' + CSS.escape([...f.querySelectorAll('label')].find(l => l.textContent === key).htmlFor)); at.value = value; at.dispatchEvent(new Event(at.tagName === 'SELECT' ? 'change' : 'input', {bubbles: true})); };
				put('name', 'pantry switch'); put('kind', 'disconnect'); put('rating', '60 A');
				return true;
			})(document.querySelector('.why .form'))`)
			b.shot("wired-add-" + screen.name)
			b.click("[...document.querySelectorAll('.why .form button')].find(x => x.textContent === 'Add it')")
			b.until(devices + " === 2 && " + row(run) + ".querySelector('td.devices').textContent.includes('60\u00a0A')")
			b.click("[...document.querySelectorAll('.why .device button')].find(x => x.textContent === 'Remove pantry switch')")
			b.until(devices + " === 1")
			if text := fileText(t, path); strings.Contains(text, "pantry switch") {
				t.Errorf("the switch is in the file still:\n%s", text)
			}
			if wide := js[float64](b, "document.documentElement.scrollWidth"); wide > float64(screen.width) {
				t.Errorf("the page is %v px wide in a window of %d px", wide, screen.width)
			}
			b.settled()
		})
	}
}
