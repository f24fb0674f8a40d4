// Package oracle holds the shipped packages against folders of independent answers: sun positions, light on planes, module curves,
// cell temperatures, whole years from weather to DC energy, a battery's year, partial shade and DC networks. The answers come from
// general-purpose tools, each computed a second time by a separate implementation; the program that is judged never made them.
//
// Run judges every file of a folder. Nothing about a folder is taken for granted but the layout: ids, counts, sites and numbers are
// its own. A field that is not understood, a file that is named and not there, a file without cases and a comparison beyond its
// tolerance all count against the program, so a judgement that passes has looked at everything it was given.
//
// Each kind of answer has a file here, named as its reference. CSV files may be stored compressed, with ".gz" behind their name.
package oracle

import (
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// Report is the judgement on a folder.
type Report struct {
	Folder string   `json:"folder"`
	Files  []string `json:"files"`            // that were judged
	Lines  []*Line  `json:"lines"`            // one for each field compared
	Faults []string `json:"faults,omitempty"` // what could not be judged, and why: each is a failure
	Notes  []string `json:"notes,omitempty"`  // what is told and does not count
}

// Failed says whether anything counts against the program.
func (r *Report) Failed() bool {
	if len(r.Faults) > 0 || len(r.Lines) == 0 {
		return true
	}
	return slices.ContainsFunc(r.Lines, func(l *Line) bool { return l.Beyond > 0 })
}

// Compared returns the number of comparisons made.
func (r *Report) Compared() int {
	n := 0
	for _, l := range r.Lines {
		n += l.Count
	}
	return n
}

// kinds are the files a folder may hold and who judges each.
var kinds = []struct {
	file  string
	judge func(*folder, *sheet)
}{
	{"sunpos.json", judgeSunpos},
	{"irradiance.json", judgeIrradiance},
	{"modules.json", judgeModules},
	{"singlediode.json", judgeSinglediode},
	{"precise_iv.json", judgePreciseIV},
	{"celltemp.json", judgeCelltemp},
	{"chain.json", judgeChain},
	{"chain_invented.json", judgeChain},
	{"soc.json", judgeSoC},
	{"shade.json", judgeShade},
	{"circuits/index.json", judgeCircuits},
}

// Run judges every file of a folder of answers.
func Run(fsys fs.FS, name string) *Report {
	f := &folder{fs: fsys, report: &Report{Folder: name}, used: map[string]bool{}}
	found := 0
	for _, k := range kinds {
		if !f.has(k.file) {
			f.report.Notes = append(f.report.Notes, k.file+" is not in the folder")
			continue
		}
		found++
		f.used[k.file] = true
		before := f.report.Compared()
		s := &sheet{report: f.report, file: k.file, lines: map[string]*Line{}}
		k.judge(f, s)
		f.report.Files = append(f.report.Files, k.file)
		if f.report.Compared() == before {
			s.fault("", "nothing was compared")
		}
	}
	if found == 0 {
		f.report.Faults = append(f.report.Faults, fmt.Sprintf("%s: holds none of the files that are known", name))
	}
	f.strangers()
	return f.report
}

// strangers reports files that nobody judged: a description that is not known counts, data that no description names is told.
func (f *folder) strangers() {
	err := fs.WalkDir(f.fs, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		plain := strings.TrimSuffix(p, ".gz")
		switch {
		case f.used[plain]:
		case path.Ext(plain) == ".json":
			f.report.Faults = append(f.report.Faults, p+": nobody here knows how to judge this file")
		case path.Ext(plain) == ".csv":
			f.report.Notes = append(f.report.Notes, p+" is named by no description and was not read")
		}
		return nil
	})
	if err != nil {
		f.report.Faults = append(f.report.Faults, err.Error())
	}
}
