package web

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"campwright/rig"
	"campwright/trip"
)

// unsaid leaves out of a rig file the words of appliances and inverters for which another is taken.
func unsaid(t *testing.T, text []byte) []byte {
	t.Helper()
	doc, _ := rig.Decode(bytes.NewReader(text))
	var paths []string
	for _, a := range doc.Appliances {
		paths = append(paths, "appliances/"+a.Name+"/runs on", "appliances/"+a.Name+"/takes AC")
	}
	for _, v := range doc.Inverters {
		paths = append(paths, "inverters/"+v.Name+"/on")
	}
	left := 0
	for _, path := range paths {
		old, err := rig.Read(text, path)
		if err != nil || old == "" {
			continue
		}
		if next, err := rig.Apply(text, []rig.Edit{{Path: path, Old: old}}); err == nil {
			text, left = next, left+1
		}
	}
	if left < 5 {
		t.Fatalf("only %d words were left out", left)
	}
	return text
}

// TestAdvice_Pressed presses every "Do it" of the demo rigs as the page does, as they are and with words left out: each is made, the rig
// answers anew, and one Undo leaves the file byte for byte as it was.
func TestAdvice_Pressed(t *testing.T) {
	rigs := map[string][]byte{}
	for _, name := range []string{"desert-trailer", "coastal-camper", "northern-van", "fifth-wheel"} {
		rigs[name] = readExample(t, name+".yaml")
		rigs[name+", words left out"] = unsaid(t, rigs[name])
	}
	for name, text := range rigs {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			path := rigFile(t, string(text))
			teller := trip.NewTeller(trip.Options{Members: 4, StepMin: 60})
			s := newTestServer(t, path, func(o *Options) {
				o.Trip = func(ctx context.Context, full rig.Rig, _ TripAsk) (trip.Answer, error) {
					return teller.Answer(ctx, &full)
				}
				o.Advise = func(ctx context.Context, full rig.Rig) (trip.Advice, error) { return teller.Advise(ctx, &full) }
			})
			before := fileText(t, path)
			a := decoded[AdviceView](t, get(s, "/api/trip/advice"))
			pressed := 0
			press := func(words string, edits []rig.Edit) {
				if len(edits) == 0 {
					return
				}
				pressed++
				shown := decoded[RigView](t, get(s, "/api/rig"))
				w := post(t, s, "/api/edit", EditAsk{Revision: shown.Revision, Edits: edits, Note: words})
				if w.Code != 200 {
					t.Errorf("%s: status %d: %s", words, w.Code, w.Body)
					return
				}
				done := decoded[RigView](t, w)
				if len(done.Faults) > 0 || fileText(t, path) == before {
					t.Errorf("%s: faults %v, or nothing was changed", words, done.Faults)
				}
				if sheet := decoded[TripSheet](t, get(s, "/api/trip")); sheet.State != "answered" || sheet.Revision != done.Revision {
					t.Errorf("%s: then %q for %s", words, sheet.State, sheet.Revision)
				}
				if w := post(t, s, "/api/undo", StepAsk{Revision: done.Revision}); w.Code != 200 {
					t.Fatalf("%s: undo: %d: %s", words, w.Code, w.Body)
				}
				if fileText(t, path) != before {
					t.Fatalf("%s: the file is not what it was", words)
				}
			}
			for _, way := range a.Ways {
				press(way.Store+": "+way.Words.US, way.Edits)
			}
			for _, row := range a.Switches {
				press(row.Name+" "+row.Words, row.Edits)
			}
			if pressed < 3 {
				t.Errorf("only %d were pressed", pressed)
			}
		})
	}
}

// TestAsWritten fills in what stands in the text: nothing where a word is left out, and what an edit before it has put there.
func TestAsWritten(t *testing.T) {
	text := []byte("campwright: 1\nname: n\nkind: van\ninverters: {i: {power: 1000 W}}\nstores: {fresh water: 50 gal}\n")
	edits := asWritten(text, []rig.Edit{
		{Path: "inverters/i/on", Old: "always", New: "when used"},
		{Path: "stores/fresh water", Old: "about 50 gal", New: "60 gal"},
		{Path: "stores/fresh water", Old: "50 gal", New: "70 gal"},
	})
	var olds []string
	for _, e := range edits {
		olds = append(olds, e.Old)
	}
	if got := strings.Join(olds, "; "); got != "; 50 gal; 60 gal" {
		t.Errorf("%q", got)
	}
	if _, err := rig.Apply(text, edits); err != nil {
		t.Error(err)
	}
	if none := asWritten(text, nil); none == nil || len(none) != 0 {
		t.Errorf("%v", none)
	}
}
