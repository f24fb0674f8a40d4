package web

import (
	"bytes"
	"context"
	"net/http"
	"slices"
	"strings"
	"time"

	"campwright/figure"
	"campwright/rig"
	"campwright/store"
	"campwright/system"

	"github.com/danielgtaylor/huma/v2"
)

// RigView is the rig as it is understood.
type RigView struct {
	Name     string      `json:"name"`
	Kind     string      `json:"kind"`
	File     string      `json:"file"`     // its name, without the folder
	Saved    bool        `json:"saved"`    // it is a file; otherwise it is gone when the program ends
	Demo     bool        `json:"demo"`     // it is one to look around in, inside the program
	Revision string      `json:"revision"` // names the text
	Label    string      `json:"label"`    // names it for people
	Changed  string      `json:"changed"`  // day on which the file was last changed, in words; empty where it is no file
	Today    string      `json:"today"`
	Undo     string      `json:"undo"` // what the next undo takes back, in words; empty when there is nothing
	Redo     string      `json:"redo"`
	Source   string      `json:"source"` // the text as it stands
	Faults   []rig.Fault `json:"faults" nullable:"false"`
	Gaps     []GapView   `json:"gaps" nullable:"false"`
	Asks     []AskView   `json:"asks" nullable:"false"` // what parts aboard cannot do their work without, and what is not told of at all
	Sentence Both        `json:"sentence"`              // what is aboard today
	Sections []Section   `json:"sections" nullable:"false"`
	Alike    []AlikeRow  `json:"alike" nullable:"false"` // what is remarked of many estimates, told once instead of beside each
	Counts   []Count     `json:"counts" nullable:"false"`
	Added    string      `json:"added"`   // path of the part that the change has added; empty for any other
	Program  string      `json:"program"` // version
}

// GapView is a value that no answer can do without.
type GapView struct {
	Path string `json:"path"`
	At   string `json:"at"` // the part in words
	What string `json:"what"`
	Hint string `json:"hint"`
	Raw  string `json:"raw"` // what stands there in the file, such as unknown; empty where nothing does
}

// AskView is a part that another one works with, and of which nothing is told yet.
type AskView struct {
	At   string `json:"at"`   // section that asks for it
	What string `json:"what"` // in words
	Why  string `json:"why"`
	List string `json:"list"` // that the part goes into
}

// AlikeRow is a remark that many values have in common.
type AlikeRow struct {
	N   int    `json:"n"`
	Why string `json:"why"`
}

// Count is how many values are known in one way.
type Count struct {
	State string `json:"state"`
	N     int    `json:"n"`
}

type rigOutput struct{ Body RigView }

func (s *Server) rigOperation(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "rig", Method: http.MethodGet, Path: "/api/rig", Summary: "What is aboard?",
		Description: "The rig file, its faults, and the rig as it is understood with everything filled in.", Errors: []int{404, 500},
	}, func(ctx context.Context, _ *struct{}) (*rigOutput, error) {
		r, err := s.read()
		if err != nil {
			return nil, s.fail("rig", err)
		}
		return &rigOutput{s.rigView(r)}, nil
	})
}

// reading is the rig file read once: how it stands, what it says, and what that means.
type reading struct {
	file     string
	state    store.State
	text     Text
	revision string
	said     rig.Rig
	faults   rig.Faults
	full     rig.Rig
	gaps     []system.Gap
}

// Text is a rig file's text.
type Text struct{ Bytes []byte }

// read reads the rig. Faults of its text are part of the reading, not an error.
func (s *Server) read() (reading, error) {
	open := s.open()
	state, err := open.State()
	if err != nil {
		return reading{}, err
	}
	return s.last.understood(open.Name(), state), nil
}

// understood reads a text that stands in a file.
func understood(file string, state store.State) reading {
	r := reading{file: file, state: state, text: Text{state.Text}, revision: state.Revision}
	r.said, r.faults = rig.Decode(bytes.NewReader(state.Text))
	r.full, r.gaps = system.Complete(r.said)
	return r
}

func (s *Server) rigView(r reading) RigView {
	v := RigView{
		Name: r.said.Name, Kind: r.said.Kind, File: r.file, Saved: r.state.Saved, Demo: !r.state.Saved && r.file != ownRig, Revision: r.revision, Label: r.state.Label, Today: spelled(s.options.Now()),
		Undo: r.state.Undo, Redo: r.state.Redo, Source: string(r.state.Text), Faults: r.faults, Gaps: gapViews(r.gaps, r.text.Bytes),
		Sections: sectionsOf(&r.said, &r.full), Program: s.options.Version,
	}
	if !r.state.Changed.IsZero() {
		v.Changed = spelled(r.state.Changed)
	}
	if v.Faults == nil {
		v.Faults = []rig.Fault{}
	}
	v.Asks = asksOf(&r.said)
	day := s.options.Now()
	today := r.full.At(rig.Date{Year: day.Year(), Month: int(day.Month()), Day: day.Day(), State: figure.Plain})
	v.Sentence = aboard(&today)
	for path, total := range totals(&today) {
		if at := slices.IndexFunc(v.Sections, func(s Section) bool { return s.Path == path }); at >= 0 {
			v.Sections[at].Total = total
		}
	}
	counts := map[string]int{}
	taken := store.Taken(r.state.Text)
	missing := func(path string) bool {
		return slices.ContainsFunc(r.gaps, func(g system.Gap) bool { return g.Path == path })
	}
	for _, section := range v.Sections {
		eachRow(section.Parts, func(row *Row) {
			row.remark(taken, s.options.Now())
			if missing(row.Path) { // what no part of the program can work out, which may have left a zero there
				row.Text, row.State, row.Why = alike("not known"), states[figure.Unknown], ""
			}
			counts[row.State]++
		})
	}
	v.Alike = toldOnce(v.Sections)
	for _, state := range []string{states[figure.Measured], states[figure.Plain], states[figure.About], takenState, states[figure.Unknown], states[figure.Default]} {
		v.Counts = append(v.Counts, Count{State: state, N: counts[state]})
	}
	return v
}

// mostRepeated is how often a remark on estimates stands beside its values before it is told once for all of them.
const mostRepeated = 3

// toldOnce takes remarks away that stand beside many estimates, and returns them.
func toldOnce(sections []Section) []AlikeRow {
	count := map[string]int{}
	about := func(f func(*Row)) {
		for _, s := range sections {
			eachRow(s.Parts, func(row *Row) {
				if row.State == states[figure.About] && row.Why != "" {
					f(row)
				}
			})
		}
	}
	list := []AlikeRow{}
	about(func(row *Row) {
		if count[row.Why]++; count[row.Why] == mostRepeated+1 {
			list = append(list, AlikeRow{Why: row.Why})
		}
	})
	about(func(row *Row) {
		if count[row.Why] > mostRepeated {
			row.Why = ""
		}
	})
	for i := range list {
		list[i].N = count[list[i].Why]
	}
	return list
}

// takenState is the word for a value that the file remarks as taken for the owner, not said by them.
const takenState = "taken"

// remark tells what is worth knowing about a value beside it: that it was taken for the owner, or is a day that has passed.
func (r *Row) remark(taken func(path string) bool, now time.Time) {
	if (r.State == states[figure.Plain] || r.State == states[figure.About]) && taken(r.Path) {
		r.State = takenState
	}
	if r.Pattern == "trip/*/from" && r.Why == "" {
		r.Why = passed(strings.TrimPrefix(r.Raw, "about "), now)
	}
}

// eachRow calls f for every row of parts and of the lists in them.
func eachRow(parts []Part, f func(*Row)) {
	for _, p := range parts {
		for i := range p.Rows {
			f(&p.Rows[i])
		}
		for _, l := range p.Lists {
			eachRow(l.Parts, f)
		}
	}
}

// asksOf finds the parts of a rig that work with another of which nothing is told: what charges from the vehicle wants its alternator.
func asksOf(said *rig.Rig) []AskView {
	asks := []AskView{}
	if said.Vehicle != nil && len(said.Vehicle.Alternators) > 0 {
		return asks
	}
	for _, l := range said.ChargeLine {
		if l.DCDC != nil || l.Relay != nil {
			return append(asks, AskView{
				At: "charge line", What: "the vehicle’s alternator", List: "vehicle/alternators",
				Why: "The charge line takes its charge from the vehicle, and nothing is told of that yet: without it nothing is charged on the road",
			})
		}
	}
	return asks
}

// gapViews tells what is missing of a rig, with what its text says there.
func gapViews(gaps []system.Gap, text []byte) []GapView {
	list := make([]GapView, 0, len(gaps))
	for _, g := range gaps {
		raw, err := rig.Read(text, g.Path)
		if err != nil {
			raw = ""
		}
		list = append(list, GapView{Path: g.Path, At: partWords(g.Path), What: g.What, Hint: g.Hint, Raw: raw})
	}
	return list
}

// partWords tells the part that a value belongs to: "kettle" for appliances/kettle/power; empty for a value of the rig itself.
func partWords(path string) string {
	if cut := strings.LastIndexByte(path, '/'); cut > 0 {
		return store.Where(path[:cut])
	}
	return ""
}

// spelled writes a day as people do.
func spelled(t time.Time) string { return t.Format("2 January 2006") }
