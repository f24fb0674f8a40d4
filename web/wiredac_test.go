package web

import (
	"slices"
	"strings"
	"testing"
)

// TestWiredFeeds works a two-leg panel by hand: 1,200 W at 120 V is 10 A on its leg and the same in the neutral; nothing is on the other.
func TestWiredFeeds(t *testing.T) {
	s := newTestServer(t, rigFile(t, `campwright: 1
name: two legs
kind: fifth wheel
people: 1
bank: {chemistry: LFP, block: {voltage: 12.8 V, capacity: 100 Ah}}
shore: {inlet: 50 A}
appliances:
  - {name: heater, runs on: ac, power: 1200 W, leg: L1, on: always}
`))
	sheet := decoded[WiredSheet](t, get(s, "/api/wired"))
	at := slices.IndexFunc(sheet.AC, func(f WiredFeed) bool { return f.Name == "shore" })
	if at < 0 {
		t.Fatalf("no shore in %+v", sheet.AC)
	}
	f := sheet.AC[at]
	if len(f.Legs) != 3 {
		t.Fatalf("legs %+v", f.Legs)
	}
	for i, want := range []WiredLeg{
		{Name: "L1", Hours: "10.0 A", All: "10.0 A", Breaker: "50 A", Words: "within"},
		{Name: "L2", Hours: "0.0 A", All: "0.0 A", Breaker: "50 A", Words: "within"},
		{Name: "neutral", All: "10.0 A"},
	} {
		got := f.Legs[i]
		got.Cord, got.Bar = "", 0
		if got != want {
			t.Errorf("%+v, want %+v", got, want)
		}
	}
	if bar := f.Legs[0].Bar; bar < 0.19 || bar > 0.21 { // 10 of 50 A; the cord carries more
		t.Errorf("bar %v", bar)
	}
}

// TestWiredFeeds_Single: the leg of a feed with one has words, not a letter.
func TestWiredFeeds_Single(t *testing.T) {
	sheet := decoded[WiredSheet](t, get(newTestServer(t, rigFile(t, string(readExample(t, "desert-trailer.yaml")))), "/api/wired"))
	if len(sheet.AC) == 0 || sheet.AC[0].Legs[0].Name != "single leg" {
		t.Errorf("%+v", sheet.AC)
	}
}

// TestWiredFeeds_Demos: every feed of the demo rigs ends in its neutral, and what is over says so.
func TestWiredFeeds_Demos(t *testing.T) {
	feeds := 0
	for _, name := range demoRigs {
		sheet := decoded[WiredSheet](t, get(newTestServer(t, rigFile(t, string(readExample(t, name)))), "/api/wired"))
		for _, f := range sheet.AC {
			feeds++
			last := f.Legs[len(f.Legs)-1]
			if last.Name != "neutral" || last.All == "" || len(f.Legs) < 2 || f.Words == "" {
				t.Errorf("%s, %s: %+v", name, f.Name, f.Legs)
			}
			for _, l := range f.Legs {
				if l.Over != strings.HasPrefix(l.Words, "over") {
					t.Errorf("%s, %s %s: %q", name, f.Name, l.Name, l.Words)
				}
			}
		}
	}
	if feeds < 6 {
		t.Errorf("only %d feeds", feeds)
	}
}
