package web

import "testing"

// unfold presses every folded heading of the sheet; there are none on a wide screen.
func (b *browser) unfold() {
	js[bool](b, "document.querySelectorAll('.unfold[aria-expanded=false]').forEach(x => x.click()), true")
	b.until("document.querySelector('.unfold[aria-expanded=false]') === null")
}

// TestJourneyFolds: on a narrow screen a sheet is a list of headings, short enough to see, each of which is pressed to unfold what lies below
// it; on a wide screen nothing is folded.
func TestJourneyFolds(t *testing.T) {
	t.Parallel()
	for _, screen := range screens {
		t.Run(screen.name, func(t *testing.T) {
			t.Parallel()
			address, _ := program(t, exampleRig(t))
			b := openBrowserAt(t, address, screen.width, screen.height)
			for _, sheet := range []struct{ hash, wait, within string }{{"#aboard", "#part-stores", "#part-stores .value"}, {"#wired", "tbody.folded, tbody .name", "tbody tr .name"}, {"#safe", ".foot", ".list summary"}, {"#last", ".sentence", ".parts table"}} {
				b.open(sheet.hash, sheet.wait)
				seen := "document.querySelector('" + sheet.within + "')?.checkVisibility() === true"
				height := func() float64 { return js[float64](b, "document.documentElement.scrollHeight") }
				if screen.name != "phone" {
					if !js[bool](b, seen) || js[bool](b, "document.querySelector('.unfold') !== null") {
						t.Errorf("%s: something is folded", sheet.hash)
					}
					continue
				}
				if js[bool](b, seen) {
					t.Errorf("%s: nothing is folded", sheet.hash)
				}
				if h := height(); h > 5000 {
					t.Errorf("%s is %.0f px long before anything is unfolded", sheet.hash, h)
				}
				// Large enough for a thumb, and to be read at arm's length: common practice, no source.
				if small := js[string](b, `[...document.querySelectorAll('main button, main summary, main select, header button, nav button')]
					.filter(x => x.checkVisibility() && x.getBoundingClientRect().height < 43.5).map(x => x.textContent.trim()).join('; ')`); small != "" {
					t.Errorf("%s: less than 44 px high: %s", sheet.hash, small)
				}
				if fine := js[string](b, `[...document.querySelectorAll('body *')]
					.filter(x => x.checkVisibility() && [...x.childNodes].some(n => n.nodeType === 3 && n.data.trim()) && parseFloat(getComputedStyle(x).fontSize) < 12)
					.map(x => x.textContent.trim()).join('; ')`); fine != "" {
					t.Errorf("%s: set smaller than 12 px: %s", sheet.hash, fine)
				}
				b.shot("folded-" + sheet.hash[1:])
				b.accessible()
				b.unfold()
				b.until(seen)
			}
		})
	}
}
