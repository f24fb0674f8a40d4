package rig

import (
	"fmt"
	"sort"
	"strings"
)

// Fault is one thing wrong with a document: where, what stands there, what is the matter, what the limit is and what to do.
type Fault struct {
	Line    int    `json:"line"` // from 1; zero when the fault has no place in the text
	Column  int    `json:"column"`
	Path    string `json:"path"`
	Value   string `json:"value"`
	Problem string `json:"problem"`
	Limit   string `json:"limit"`
	Hint    string `json:"hint"`
}

// Error tells the fault on one line: place, value, problem, limit, hint.
func (f Fault) Error() string {
	var b strings.Builder
	if f.Line > 0 {
		fmt.Fprintf(&b, "line %d, column %d: ", f.Line, f.Column)
	}
	if f.Path != "" {
		b.WriteString(f.Path + ": ")
	}
	if f.Value != "" {
		fmt.Fprintf(&b, "%q: ", f.Value)
	}
	b.WriteString(f.Problem)
	if f.Limit != "" {
		b.WriteString(", allowed is " + f.Limit)
	}
	if f.Hint != "" {
		b.WriteString("; " + f.Hint)
	}
	return b.String()
}

// Faults are all the faults of a document, sorted by place. None means that the document is well formed.
type Faults []Fault

// Error lists the faults, one a line.
func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// Err returns the faults as an error, nil when there are none.
func (fs Faults) Err() error {
	if len(fs) == 0 {
		return nil
	}
	return fs
}

// mostFaults caps the list; a document with more is not a rig.
const mostFaults = 1000

// sorted puts the faults in the order of their places and cuts the list at mostFaults.
func (fs Faults) sorted() Faults {
	sort.SliceStable(fs, func(i, j int) bool {
		a, b := fs[i], fs[j]
		if a.Line != b.Line {
			return a.Line < b.Line
		}
		return a.Column < b.Column
	})
	if len(fs) > mostFaults {
		rest := len(fs) - mostFaults
		fs = append(fs[:mostFaults:mostFaults], Fault{Problem: fmt.Sprintf("%d more faults", rest)})
	}
	return fs
}
