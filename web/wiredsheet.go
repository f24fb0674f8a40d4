package web

import (
	"slices"
	"strings"

	"campwright/conductor"
	"campwright/design"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

func emptyWired(revision string) WiredSheet {
	return WiredSheet{
		Revision: revision, State: "faults", Gaps: []GapView{}, Facts: []WiredFact{}, Counts: []Count{}, States: []WiredState{}, Groups: []WiredGroup{},
		Devices: []WiredDevice{}, AC: []WiredFeed{}, Bars: []WiredChoice{}, Edits: []rig.Edit{}, Guesses: []WiredGuess{}, Loose: []WiredLoose{}, Problems: []string{}, Shifts: []WiredShift{}, Caution: design.Caution,
	}
}

// sides are the groups of runs, in the order in which current from the bank meets them.
var sides = []struct {
	side  conductor.Side
	title string
}{{conductor.Battery, "Battery side"}, {conductor.Photovoltaic, "Array side"}, {conductor.Vehicle, "Vehicle side"}, {conductor.Mains, "Mains side"}}

// branches is the title of the runs behind the fuses of fuse blocks.
const branches = "Branches"

// fill writes the answer of a solved rig.
func (t *WiredSheet) fill(w *design.Wired) {
	a := w.Answer()
	t.State, t.Sentence, t.Book, t.Caution = "answered", plainWords(a.Sentence), a.Book, a.Caution
	t.Edits, t.Problems = listed(a.Edits), listed(a.Problems)
	for i := range a.States {
		t.States = append(t.States, wiredState(&a.States[i]))
	}
	texts := textsOf(w)
	for _, title := range groupTitles() {
		g := WiredGroup{Title: title, Runs: []WiredRun{}}
		for i := range a.Runs {
			if groupOf(&w.Net().Runs[i]) == title {
				g.Runs = append(g.Runs, wiredRun(w, &a, i, texts))
			}
		}
		if len(g.Runs) > 0 {
			t.Groups = append(t.Groups, g)
		}
	}
	for i := range a.Devices {
		t.Devices = append(t.Devices, wiredDevice(w, &a, i, texts))
	}
	t.AC = wiredFeeds(a.AC)
	for i := range a.Choices {
		if c := &a.Choices[i]; !slices.ContainsFunc(a.Runs, func(r design.RunRow) bool { return within(c.Path, r.Path) }) {
			t.Bars = append(t.Bars, wiredChoice(c))
		}
	}
	for _, g := range a.Guesses {
		raw, hangs := texts.said[g.Path], ""
		if at := slices.IndexFunc(a.Runs, func(r design.RunRow) bool { return r.Known == "proposed" && within(g.Path, r.Path) }); at >= 0 {
			raw, hangs = texts.proposed[g.Path], a.Runs[at].Path
		}
		t.Guesses = append(t.Guesses, WiredGuess{g.Path, g.What, quantity.Digits(g.Moves, 2, 1), g.Measure, raw, hangs})
	}
	for _, l := range a.Loose {
		t.Loose = append(t.Loose, WiredLoose(l))
	}
	for _, known := range []string{"written", "measured", "guess", "unknown", "proposed"} {
		n := 0
		for i := range a.Runs {
			if a.Runs[i].Known == known {
				n++
			}
		}
		if n > 0 {
			t.Counts = append(t.Counts, Count{known, n})
		}
		if known == "proposed" {
			t.Proposed = n
		}
	}
	t.facts(&a)
}

func groupTitles() []string {
	list := []string{sides[0].title, branches}
	for _, s := range sides[1:] {
		list = append(list, s.title)
	}
	return list
}

func groupOf(r *system.Run) string {
	if r.Branch {
		return branches
	}
	for _, s := range sides {
		if r.Side == s.side {
			return s.title
		}
	}
	return sides[0].title
}

// within tells whether a path is another or lies inside it.
func within(path, of string) bool { return path == of || strings.HasPrefix(path, of+"/") }

func wiredState(s *design.StateRow) WiredState {
	v := WiredState{Name: s.Name, Words: s.Words, Problem: s.Problem, Notes: listed(s.Notes)}
	if s.BankV != nil && s.BankA != nil {
		v.BankV, v.BankA = fixed(*s.BankV, 2, "V"), fixed(*s.BankA, 1, "A")
		if *s.BankA > 0 {
			v.BankA = "+" + v.BankA
		}
	}
	return v
}
