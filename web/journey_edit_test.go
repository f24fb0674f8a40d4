package web

import (
	"strings"
	"testing"

	cdp "github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// valueOf is the button that shows a value of a part on the sheet "What is aboard?".
func valueOf(section, key string) string {
	return `[...document.querySelectorAll('#part-` + section + ` tr')].find(r => r.querySelector('th')?.textContent === '` + key + `')?.querySelector('.value')`
}

func TestJourneyEdit(t *testing.T) {
	t.Parallel()
	for _, screen := range screens {
		t.Run(screen.name, func(t *testing.T) {
			t.Parallel()
			path := exampleRig(t)
			address, _ := program(t, path)
			b := openBrowserAt(t, address, screen.width, screen.height)
			b.open("#aboard", "#part-stores")
			b.unfold()
			b.until(valueOf("stores", "fresh water") + " !== undefined")
			b.click(valueOf("stores", "fresh water"))
			b.do(cdp.WaitVisible(cdp.CSS(".entry input")))

			// What does not fit is told in words while it is typed, and nothing is saved.
			b.do(cdp.SendKeys(cdp.CSS(".entry input"), "fifty buckets"))
			b.until("document.querySelector('.said.wrong')?.textContent.length > 10")
			b.do(cdp.KeyEvent(kb.Enter))
			b.until("document.querySelector('.said.wrong') !== null")
			b.shot("entry-" + screen.name)
			b.accessible()

			// What fits is shown as it will be understood, saved by Enter, and its effect is told.
			js[bool](b, `document.querySelector('.entry input').select(), true`)
			b.do(cdp.SendKeys(cdp.CSS(".entry input"), "100 gal"))
			b.until("document.querySelector('.said').textContent.includes('100 gal')")
			b.click(`[...document.querySelectorAll('.ways button')].find(x => x.textContent === 'about')`)
			js[bool](b, "scrollBy(0, document.querySelector('.entry').getBoundingClientRect().top - innerHeight + 90), true") // far down in the window
			b.do(cdp.KeyEvent(kb.Enter))
			b.until("document.querySelector('.entry') === null && (document.querySelector('.became')?.textContent ?? '').includes('more')")
			if text := fileText(t, path); !strings.Contains(text, "fresh water: about 100 gal") {
				t.Error("the file does not hold what was typed")
			}
			if became := js[string](b, "document.querySelector('.became').textContent"); !strings.Contains(became, "fresh water") {
				t.Errorf("the difference told is %q", became)
			}
			// The line lies over the foot of the sheet, and never over what it speaks of.
			b.until("(v => v.bottom <= document.querySelector('.what').getBoundingClientRect().top)(" + valueOf("stores", "fresh water") + ".getBoundingClientRect())")
			b.shot("changed-" + screen.name)

			// The line stands on every sheet; Ctrl-Z takes the change back, Ctrl-Y makes it again.
			js[bool](b, "location.hash = '#last', true")
			b.do(cdp.WaitVisible(cdp.CSS("[role=slider]")))
			if !js[bool](b, "document.querySelector('.became') !== null") {
				t.Error("the change is not told on the other sheet")
			}
			b.do(cdp.KeyEvent("z", cdp.KeyModifiers(cdp.ModifierCtrl)))
			b.until("document.querySelector('.what')?.textContent.startsWith('taken back')")
			if text := fileText(t, path); !strings.Contains(text, "fresh water: 50 gal") {
				t.Error("the change was not taken back in the file")
			}
			b.do(cdp.KeyEvent("y", cdp.KeyModifiers(cdp.ModifierCtrl)))
			b.until("document.querySelector('.what')?.textContent.startsWith('made again')")
			if text := fileText(t, path); !strings.Contains(text, "fresh water: about 100 gal") {
				t.Error("the change was not made again in the file")
			}
			if wide := js[float64](b, "document.documentElement.scrollWidth"); wide > float64(screen.width) {
				t.Errorf("the page is %v px wide in a window of %d px", wide, screen.width)
			}
		})
	}
}

// TestJourneyLeave types values and goes elsewhere with the mouse, as people do: what fits is saved, the press lands where it was meant, what
// does not fit stays open and says why, and Escape drops it.
func TestJourneyLeave(t *testing.T) {
	t.Parallel()
	for _, screen := range screens {
		t.Run(screen.name, func(t *testing.T) {
			t.Parallel()
			path := exampleRig(t)
			address, _ := program(t, path)
			b := openBrowserAt(t, address, screen.width, screen.height)
			b.open("#aboard", "#part-stores")
			b.unfold()
			typed := func(key, text string) {
				t.Helper()
				b.until(valueOf("stores", key) + " !== undefined")
				b.click(valueOf("stores", key))
				b.until("document.querySelector('#part-stores .entry input') !== null && document.activeElement?.closest('.entry') !== null")
				b.do(cdp.KeyEvent(text))
			}
			press := func(find string) { // with the mouse, where it stands
				t.Helper()
				b.until("(x => { if (!x) return false; x.scrollIntoView({block: 'center'}); x.setAttribute('data-press', ''); return true; })(" + find + ")")
				b.do(cdp.Click(cdp.CSS("[data-press]")))
				js[bool](b, "document.querySelectorAll('[data-press]').forEach(x => x.removeAttribute('data-press')), true")
			}
			typed("grey", "33")
			press(valueOf("stores", "black"))
			b.until("document.querySelectorAll('#part-stores .entry').length === 1 && document.activeElement?.value === '32 gal'")
			b.until("document.querySelector('.what')?.textContent.includes('grey')")
			if text := fileText(t, path); !strings.Contains(text, "grey: 33 gal") {
				t.Error("what was typed is not in the file, with the unit that stood there")
			}
			b.shot("left-" + screen.name)
			b.do(cdp.KeyEvent("a few"))
			press(`document.querySelector('#part-aims .value')`)
			b.until("document.querySelector('#part-aims .entry') !== null && document.querySelector('#part-stores .said.wrong') !== null && document.querySelector('.entry[aria-busy=true]') === null")
			b.shot("refused-" + screen.name)
			b.forgiven()
			b.do(cdp.KeyEvent(kb.Escape))
			b.until("document.querySelector('#part-aims .entry') === null")
			if text := fileText(t, path); strings.Contains(text, "a few") || !strings.Contains(text, "black: 32 gal") {
				t.Error("what does not fit is in the file")
			}
			js[bool](b, "document.querySelector('#part-stores .entry input').focus(), true")
			b.do(cdp.KeyEvent(kb.Escape))
			b.until("document.querySelector('.entry') === null")
			b.click("[...document.querySelectorAll('[role=status] button')].find(x => x.textContent === 'Undo')")
			b.until("document.querySelector('.what')?.textContent.startsWith('taken back')")
			if text := fileText(t, path); !strings.Contains(text, "grey: 40 gal") {
				t.Error("what was saved by leaving cannot be undone")
			}
			b.settled()
		})
	}
}

// TestJourneyRemove removes a controller that an array names: it is asked what becomes of the array, which names the other one then.
func TestJourneyRemove(t *testing.T) {
	t.Parallel()
	for _, screen := range screens {
		t.Run(screen.name, func(t *testing.T) {
			t.Parallel()
			path := exampleRig(t)
			before := fileText(t, path)
			address, _ := program(t, path)
			b := openBrowserAt(t, address, screen.width, screen.height)
			b.open("#aboard", "#part-bank")
			b.click("[...document.querySelectorAll('.index button')].find(x => x.textContent.startsWith('Controllers'))")
			press := func(text string) {
				t.Helper()
				b.click("[...document.querySelectorAll('#part-controllers button')].find(x => x.textContent.replace(/\\s+/g, ' ').startsWith('" + text + "'))")
			}
			press("Remove pantry")
			b.until("document.querySelector('.users')?.textContent.includes('array front pair, controller')")
			js[bool](b, "document.querySelector('.users').scrollIntoView({block: 'center'}), true")
			b.shot("users-" + screen.name)
			b.accessible()
			if fileText(t, path) != before {
				t.Error("the file was changed before the choice")
			}
			press("Name this instead")
			b.until("document.querySelector('.users') === null && ![...document.querySelectorAll('#part-controllers caption')].some(c => c.textContent === 'pantry')")
			if text := fileText(t, path); strings.Contains(text, "controller: pantry") || strings.Count(text, "controller: wardrobe") != 2 {
				t.Error("the array does not name the other controller")
			}
			b.click("[...document.querySelectorAll('[role=status] button')].find(x => x.textContent === 'Undo')")
			b.until("document.querySelector('.what')?.textContent.startsWith('taken back')")
			if fileText(t, path) != before {
				t.Error("one undo does not bring all of it back")
			}
			b.settled()
		})
	}
}

// TestJourneyParts adds, copies and removes a part, keeps a revision and compares with it, all by pressing what is there.
func TestJourneyParts(t *testing.T) {
	t.Parallel()
	path := exampleRig(t)
	address, _ := program(t, path)
	b := openBrowserAt(t, address, 1440, 900)
	b.open("#aboard", "#part-appliances")
	press := func(scope, text string) {
		t.Helper()
		find := `[...document.querySelectorAll('` + scope + ` button')].find(x => x.textContent.trim().startsWith('` + text + `'))`
		b.until(find + " !== undefined")
		b.click(find)
	}
	b.until("document.querySelectorAll('.keep input').length === 2")
	b.do(cdp.SendKeys(cdp.CSS(".keep input"), "as built"))
	press(".keep", "Keep")
	b.until("document.querySelector('.revision .value').textContent.startsWith('as built')")

	// A kind is found by what campers call it and added at once; it comes into sight with its name ready to be changed.
	press("#part-appliances", "Add an appliance")
	b.do(cdp.WaitVisible(cdp.CSS("#part-appliances .kinds input")), cdp.SendKeys(cdp.CSS("#part-appliances .kinds input"), "tea kettle"))
	b.until("document.querySelectorAll('#part-appliances .kinds li').length === 1")
	b.shot("add-desk")
	b.accessible("#part-appliances")
	b.do(cdp.KeyEvent(kb.Enter))
	b.until("document.activeElement?.value === 'electric kettle'")
	if !js[bool](b, "(r => r.top >= 0 && r.bottom <= innerHeight)(document.querySelector('.fresh').getBoundingClientRect())") {
		t.Error("the new part is not in sight")
	}
	b.shot("added-desk")
	b.accessible("#part-appliances")
	b.do(cdp.KeyEvent("kettle"), cdp.KeyEvent(kb.Enter))
	b.until("[...document.querySelectorAll('#part-appliances caption')].some(c => c.textContent === 'kettle')")
	if text := fileText(t, path); !strings.Contains(text, "name: kettle") || !strings.Contains(text, "taken, all of it: usual for electric kettle") {
		t.Error("the file does not hold the new part")
	}

	// Remove stands beside every part, and one press takes it back.
	b.click(`[...document.querySelectorAll('#part-appliances .acts button')].find(x => x.textContent === 'Remove kettle')`)
	b.until("![...document.querySelectorAll('#part-appliances caption')].some(c => c.textContent === 'kettle')")
	press("[role=status]", "Undo")
	b.until("[...document.querySelectorAll('#part-appliances caption')].some(c => c.textContent === 'kettle')")

	// A misspelt town is refused at once, and a press on what was meant puts it right.
	place := `[...document.querySelectorAll('#part-trip tr')].find(r => r.querySelector('th')?.textContent === 'place')?.querySelector('.value')`
	b.click(place)
	b.do(cdp.WaitVisible(cdp.CSS("#part-trip .entry input")))
	js[bool](b, "document.querySelector('#part-trip .entry input').select(), true")
	b.do(cdp.SendKeys(cdp.CSS("#part-trip .entry input"), "Quartzite"), cdp.KeyEvent(kb.Enter))
	b.until("document.querySelector('#part-trip .offers button')?.textContent === 'Quartzsite, AZ, US'")
	b.forgiven()
	if strings.Contains(fileText(t, path), "Quartzite") {
		t.Error("a place that is not known stands in the file")
	}
	b.shot("place-desk")
	b.accessible("#part-trip")
	b.click("document.querySelector('#part-trip .offers button')")
	b.until("document.querySelector('#part-trip .entry') === null")
	if text := fileText(t, path); !strings.Contains(text, "Quartzsite, AZ, US") {
		t.Error("the place that was meant is not in the file")
	}

	press("#part-rig, main", "Open the history")
	press("section", "Compare")
	b.until("document.querySelector('.sides')?.textContent.includes('kettle')")
	if heads := js[string](b, "[...document.querySelectorAll('.sides thead th')].map(x => x.textContent).join('|')"); heads != "Where|as built|now" {
		t.Errorf("the sides are headed %q", heads)
	}
	// Any two: what was kept against the rig as it was before the place was put right, which differs by the kettle alone.
	b.click(`(o => { o.selected = true; o.parentElement.parentElement.dispatchEvent(new Event('change', {bubbles: true})); return o })(
		[...document.querySelectorAll('.two label')].find(x => x.textContent === 'against').nextElementSibling.querySelector('optgroup[label="After a change"] option'))`)
	b.until("document.querySelector('.sides thead')?.textContent.includes('after')")
	if rows := js[string](b, "[...document.querySelectorAll('.sides tbody tr:not(.answer) th')].map(x => x.textContent).join('|')"); rows != "kettle" {
		t.Errorf("between the two is %q", rows)
	}
	b.shot("history-desk")
	b.accessible()

	// The file's own text: a fault is told with its line, and a good text is saved.
	js[bool](b, "document.querySelectorAll('.choices input')[1].click(), scrollTo(0, 0), true")
	b.do(cdp.WaitVisible(cdp.CSS("textarea")))
	js[bool](b, `(a => { a.value = a.value.replace('people: 2', 'people: two'); a.dispatchEvent(new Event('input', {bubbles: true})); return true })(document.querySelector('textarea'))`)
	b.until("document.querySelector('#file-faults li')?.textContent.includes('people')")
	b.shot("file-desk")
	b.accessible()
	js[bool](b, `(a => { a.value = a.value.replace('people: two', 'people: 3'); a.dispatchEvent(new Event('input', {bubbles: true})); return true })(document.querySelector('textarea'))`)
	b.until("document.querySelector('#file-faults').textContent.includes('in order')")
	press("#file-faults", "Save the text")
	b.until("document.querySelector('.what')?.textContent.includes('text')")
	if text := fileText(t, path); !strings.Contains(text, "people: 3") {
		t.Error("the text was not saved")
	}
	b.settled()
}

// TestJourneyAdvice tries out what could be done, does the first of it, and asks for the year at home.
func TestJourneyAdvice(t *testing.T) {
	t.Parallel()
	path := rigFile(t, string(readExample(t, "northern-van.yaml")))
	address, _ := program(t, path)
	b := openBrowserAt(t, address, 1440, 900)
	b.open("#last", ".sentence")
	press := func(word string) {
		t.Helper()
		find := `[...document.querySelectorAll('h2 button')].find(x => x.textContent === '` + word + `')`
		b.until(find + " !== undefined")
		b.click(find)
	}
	press("Answer it")
	b.until("document.querySelectorAll('[aria-label=\"At home, month by month\"] tbody tr').length === 12")
	press("Try it out")
	b.until("document.querySelector('button.do') !== null")
	b.shot("advice-desk")
	b.accessible()
	before := fileText(t, path)
	told := js[string](b, "document.querySelector('button.do').textContent")
	b.click("document.querySelector('button.do')")
	b.until("(document.querySelector('.became')?.textContent ?? '').includes('battery')")
	if fileText(t, path) == before {
		t.Errorf("%q: what was to be done is not in the file", told)
	}
	if what := js[string](b, "document.querySelector('.what').textContent"); !strings.HasSuffix(told, strings.TrimPrefix(what[strings.Index(what, ": ")+1:], " ")) {
		t.Errorf("%q is told as %q", told, what)
	}
	b.click("[...document.querySelectorAll('[role=status] button')].find(x => x.textContent === 'Undo')")
	b.until("document.querySelector('.what')?.textContent.startsWith('taken back')")
	if fileText(t, path) != before {
		t.Error("one press of Undo does not take it back")
	}
	b.settled()
}
