package web

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"time"

	"campwright/figure"
	"campwright/rig"
	"campwright/system"

	"github.com/danielgtaylor/huma/v2"
)

// RigView is the rig as it is understood.
type RigView struct {
	Name     string      `json:"name"`
	Kind     string      `json:"kind"`
	File     string      `json:"file"`     // its name, without the folder
	Revision string      `json:"revision"` // changes with the text
	Changed  string      `json:"changed"`  // day on which the file was last changed, in words; empty where it is no file
	Today    string      `json:"today"`
	Source   string      `json:"source"` // the text as it stands
	Faults   []rig.Fault `json:"faults" nullable:"false"`
	Gaps     []GapView   `json:"gaps" nullable:"false"`
	Sections []Section   `json:"sections" nullable:"false"`
	Counts   []Count     `json:"counts" nullable:"false"`
	Program  string      `json:"program"` // version
}

// GapView is a value that no answer can do without.
type GapView struct {
	Path string `json:"path"`
	What string `json:"what"`
	Hint string `json:"hint"`
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

// reading is the rig file read once: its text, what it says, and what that means.
type reading struct {
	text     Text
	revision string
	said     rig.Rig
	faults   rig.Faults
	full     rig.Rig
	gaps     []system.Gap
}

// read reads the rig file. Faults of the text are part of the reading, not an error.
func (s *Server) read() (reading, error) {
	text, err := s.options.Rig.Read()
	if err != nil {
		return reading{}, err
	}
	sum := sha256.Sum256(text.Bytes)
	r := reading{text: text, revision: hex.EncodeToString(sum[:4])}
	r.said, r.faults = rig.Decode(bytes.NewReader(text.Bytes))
	r.full, r.gaps = system.Complete(r.said)
	return r, nil
}

func (s *Server) rigView(r reading) RigView {
	v := RigView{
		Name: r.said.Name, Kind: r.said.Kind, File: s.options.Rig.Name(), Revision: r.revision, Today: spelled(s.options.Now()),
		Source: string(r.text.Bytes), Faults: r.faults, Gaps: gapViews(r.gaps), Sections: sectionsOf(&r.said, &r.full), Program: s.options.Version,
	}
	if !r.text.Changed.IsZero() {
		v.Changed = spelled(r.text.Changed)
	}
	if v.Faults == nil {
		v.Faults = []rig.Fault{}
	}
	counts := map[string]int{}
	for _, section := range v.Sections {
		for _, part := range section.Parts {
			for _, row := range part.Rows {
				counts[row.State]++
			}
		}
	}
	for _, state := range []figure.State{figure.Measured, figure.Plain, figure.About, figure.Unknown, figure.Default} {
		v.Counts = append(v.Counts, Count{State: states[state], N: counts[states[state]]})
	}
	return v
}

func gapViews(gaps []system.Gap) []GapView {
	list := make([]GapView, 0, len(gaps))
	for _, g := range gaps {
		list = append(list, GapView(g))
	}
	return list
}

// spelled writes a day as people do.
func spelled(t time.Time) string { return t.Format("2 January 2006") }
