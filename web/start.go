package web

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"maps"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"campwright/figure"
	"campwright/rig"
	"campwright/starter"
	"campwright/store"

	"github.com/danielgtaylor/huma/v2"
)

// ownRig is what a rig goes by that was begun here, until it is saved under a name. Whatever else is in memory only is a demo.
const ownRig = "new rig"

// Demo is a rig to look around in, inside the program.
type Demo struct {
	Key  string // to ask for it
	Text []byte
}

// RigsView is what can be opened.
type RigsView struct {
	Folder string    `json:"folder"`                  // that files are looked for in
	Files  []RigRow  `json:"files" nullable:"false"`  // rig files in it
	Recent []RigRow  `json:"recent" nullable:"false"` // opened last, wherever they lie
	Demos  []RigRow  `json:"demos" nullable:"false"`  // inside the program
	Asks   []AskRow  `json:"asks" nullable:"false"`   // questions that a new rig begins with
	Links  []LinkRow `json:"links" nullable:"false"`  // under which the local network reaches this page; none when it does not
}

// RigRow is a rig that can be opened.
type RigRow struct {
	Key  string `json:"key"`  // to open it
	Name string `json:"name"` // what the rig is called
	Kind string `json:"kind"`
	File string `json:"file"` // where it lies, in words
	Note string `json:"note"`
}

// AskRow is a question about a new rig.
type AskRow struct {
	Key     string   `json:"key"`
	Number  int      `json:"number"`
	Ask     string   `json:"ask"`
	Choices []string `json:"choices" nullable:"false"`
	Usual   string   `json:"usual"`
}

// LinkRow is a link to this page with its square code.
type LinkRow struct {
	Link string `json:"link"`
	Size int    `json:"size"` // modules along a side
	Path string `json:"path"` // of the dark ones, as an SVG path
}

// OpenAsk opens a rig that RigsView lists.
type OpenAsk struct {
	Key string `json:"key" maxLength:"2000"`
}

// SaveAsAsk puts the rig that is open into a file of its own, in the folder.
type SaveAsAsk struct {
	Name string `json:"name" minLength:"1" maxLength:"80" doc:"of the file, without an ending"`
}

// NewAsk answers the questions of a new rig, by key. What is left out takes the usual answer.
type NewAsk struct {
	Answers map[string]string `json:"answers"`
}

type rigsOutput struct{ Body RigsView }
type openInput struct{ Body OpenAsk }
type saveAsInput struct{ Body SaveAsAsk }
type newInput struct{ Body NewAsk }

type newTryInput struct {
	Key  string `query:"key" required:"true" maxLength:"40" doc:"of the question"`
	Text string `query:"text" maxLength:"2000"`
}

func (s *Server) startOperations(api huma.API) {
	problems := []int{404, 409, 422, 500}
	huma.Register(api, huma.Operation{
		OperationID: "rigs", Method: http.MethodGet, Path: "/api/rigs", Summary: "Which rigs can be opened?",
	}, func(context.Context, *struct{}) (*rigsOutput, error) {
		return &rigsOutput{s.rigsView()}, nil
	})
	huma.Register(api, huma.Operation{
		OperationID: "open", Method: http.MethodPost, Path: "/api/open", Summary: "Open a rig", Errors: problems,
	}, func(_ context.Context, in *openInput) (*rigOutput, error) {
		opened, err := s.find(in.Body.Key)
		if err != nil {
			return nil, s.fail("open", err)
		}
		return s.turnTo(opened)
	})
	huma.Register(api, huma.Operation{
		OperationID: "saveAs", Method: http.MethodPost, Path: "/api/save-as", Summary: "Put the rig into a file of its own", Errors: problems,
	}, func(_ context.Context, in *saveAsInput) (*rigOutput, error) {
		opened, err := s.saveAs(in.Body.Name)
		if err != nil {
			return nil, s.fail("save-as", err)
		}
		return s.turnTo(opened)
	})
	huma.Register(api, huma.Operation{
		OperationID: "newTry", Method: http.MethodGet, Path: "/api/new/try", Summary: "What would this answer mean?", Errors: []int{422},
	}, func(_ context.Context, in *newTryInput) (*tryOutput, error) {
		m := s.answerMeant(in.Key, in.Text)
		v := TryView{Problem: m.problem, Means: alike(m.text), Remark: m.remark, Offers: m.offers}
		if v.Offers == nil {
			v.Offers = []Offer{}
		}
		return &tryOutput{v}, nil
	})
	huma.Register(api, huma.Operation{
		OperationID: "new", Method: http.MethodPost, Path: "/api/new", Summary: "Begin a rig from a few answers", Errors: problems,
	}, func(_ context.Context, in *newInput) (*rigOutput, error) {
		text, err := s.begun(in.Body.Answers)
		if err != nil {
			return nil, s.fail("new", refused{err})
		}
		return s.turnTo(store.Scratch(ownRig, text, s.options.Now))
	})
}

// turnTo makes a rig the one that is open.
func (s *Server) turnTo(opened OpenRig) (*rigOutput, error) {
	s.mu.Lock()
	s.rig = opened
	s.mu.Unlock()
	r, err := s.read()
	if err != nil {
		return nil, s.fail("open", err)
	}
	return &rigOutput{s.rigView(r)}, nil
}

func (s *Server) rigsView() RigsView {
	v := RigsView{Folder: s.options.Folder, Files: []RigRow{}, Recent: []RigRow{}, Demos: []RigRow{}, Asks: []AskRow{}, Links: []LinkRow{}}
	for _, path := range rigFiles(s.options.Folder) {
		v.Files = append(v.Files, fileRow(path))
	}
	for _, path := range s.options.Recent.List() {
		v.Recent = append(v.Recent, fileRow(path))
	}
	for _, d := range s.options.Demos {
		v.Demos = append(v.Demos, rigRow("demo:"+d.Key, "", d.Text))
	}
	for _, q := range starter.Questions() {
		row := AskRow{Key: q.Key, Number: q.Number, Ask: q.Ask, Choices: q.Choices, Usual: q.Usual}
		if q.Key == "when" { // here more is understood than at a terminal
			row.Ask = "From when? A month, or a day such as January 5"
		}
		if row.Choices == nil {
			row.Choices = []string{}
		}
		v.Asks = append(v.Asks, row)
	}
	for _, link := range s.options.Links {
		if c, err := qrCode(link); err == nil {
			v.Links = append(v.Links, LinkRow{link, c.size, c.path()})
		}
	}
	return v
}

// find opens what a key of RigsView names. A path that is not listed is not opened, whoever asks.
func (s *Server) find(key string) (OpenRig, error) {
	if name, demo := strings.CutPrefix(key, "demo:"); demo {
		for _, d := range s.options.Demos {
			if d.Key == name {
				return store.Scratch(d.Key, d.Text, s.options.Now), nil
			}
		}
	}
	path, file := strings.CutPrefix(key, "file:")
	if !file || !slices.Contains(append(rigFiles(s.options.Folder), s.options.Recent.List()...), path) {
		return nil, refused{errors.New("there is no such rig to open")}
	}
	return s.openFile(path)
}

func (s *Server) openFile(path string) (OpenRig, error) {
	opened, err := store.Open(path, s.options.Now)
	if err != nil {
		return nil, err
	}
	if err := s.options.Recent.Add(path); err != nil {
		s.options.Log.Warn("recent", "error", err) // a list that cannot be kept does not keep the rig shut
	}
	return opened, nil
}

// saveAs writes the text of the rig that is open into a new file of the folder.
func (s *Server) saveAs(name string) (OpenRig, error) {
	if s.options.Folder == "" {
		return nil, refused{errors.New("there is no folder to save into")}
	}
	name = strings.TrimSuffix(strings.TrimSuffix(strings.TrimSpace(name), ".yaml"), ".yml")
	if bad := strings.IndexFunc(name, func(r rune) bool { return r < ' ' || strings.ContainsRune(`/\:*?"<>|`, r) }); bad >= 0 || name == "" || strings.HasPrefix(name, ".") {
		return nil, refused{fmt.Errorf("%q cannot be the name of a file; use letters, digits, blanks and hyphens", name)}
	}
	state, err := s.open().State()
	if err != nil {
		return nil, err
	}
	path := filepath.Join(s.options.Folder, name+".yaml")
	if err := store.Create(path, state.Text); err != nil {
		if errors.Is(err, os.ErrExist) {
			err = refused{err}
		}
		return nil, err
	}
	return s.openFile(path)
}

// today is the day on which months without a year are counted on.
func (s *Server) today() rig.Date {
	now := s.options.Now()
	return rig.Date{Year: now.Year(), Month: int(now.Month()), Day: now.Day(), State: figure.Plain}
}

// answerMeant reads the answer to a question of a new rig as it was typed; an empty one takes the usual answer.
func (s *Server) answerMeant(key, said string) meaning {
	m := meaning{text: strings.TrimSpace(said)}
	if m.text == "" {
		return m
	}
	switch key {
	case "when": // a month alone is an answer too
		if day := dateMeant(m.text, s.options.Now()); day.problem == "" || len(day.offers) > 1 {
			m = day
		}
	case "place":
		m = placeMeant(m.text)
	}
	if m.problem != "" {
		return m
	}
	a := starter.Answers{Today: s.today()}
	if err := a.Set(key, m.text); err != nil {
		_, problem, _ := strings.Cut(err.Error(), ": ") // the question stands beside it
		m.problem = plainWords(problem)
	}
	return m
}

// begun makes the text of a new rig out of answers.
func (s *Server) begun(answers map[string]string) ([]byte, error) {
	a := starter.Answers{Today: s.today()}
	asked := map[string]string{"name": "What is it called?"}
	for _, q := range starter.Questions() {
		asked[q.Key] = q.Ask
	}
	keys := slices.Sorted(maps.Keys(answers))
	var all []error
	for _, k := range keys {
		m := s.answerMeant(k, answers[k])
		if m.problem == "" {
			err := a.Set(k, m.text)
			if err == nil {
				continue
			}
			m.problem = plainWords(err.Error())
		}
		all = append(all, fmt.Errorf("%s %s", asked[k], figure.Sentence(m.problem)))
	}
	if err := errors.Join(all...); err != nil {
		return nil, err
	}
	start, err := starter.Build(a)
	if err != nil {
		return nil, errors.New(plainWords(err.Error()))
	}
	return start.Text, nil
}

// rigFiles lists the rig files of a folder by name. A folder that cannot be read holds none.
func rigFiles(folder string) []string {
	if folder == "" {
		return nil
	}
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil
	}
	var list []string
	for _, e := range entries {
		name := e.Name()
		if ext := strings.ToLower(filepath.Ext(name)); e.IsDir() || strings.HasPrefix(name, ".") || ext != ".yaml" && ext != ".yml" {
			continue
		}
		if path := filepath.Join(folder, name); bytes.Contains(beginning(path), []byte("campwright:")) {
			list = append(list, path)
		}
		if len(list) == 200 {
			break // a folder with more is not one of rigs
		}
	}
	return list
}

// beginning reads the first part of a file; nothing when it cannot be read.
func beginning(path string) []byte {
	f, err := os.Open(path)
	if err != nil {
		return nil
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, 64<<10))
	if err != nil {
		return nil
	}
	return text
}

func fileRow(path string) RigRow { return rigRow("file:"+path, path, beginning(path)) }

// rigRow tells a rig by the first lines of its text, without reading all of it.
func rigRow(key, file string, text []byte) RigRow {
	row := RigRow{Key: key, File: file}
	for _, line := range strings.Split(string(text), "\n") {
		for k, to := range map[string]*string{"name: ": &row.Name, "kind: ": &row.Kind} {
			if value, ok := strings.CutPrefix(line, k); ok && *to == "" {
				value, _, _ = strings.Cut(value, " #")
				*to = strings.Trim(strings.TrimSpace(value), `"'`)
			}
		}
	}
	row.Note = firstSentence(string(text))
	if row.Name == "" {
		row.Name = strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))
	}
	return row
}

// firstSentence is the first sentence of the remark with which a text begins.
func firstSentence(text string) string {
	var words []string
	for _, line := range strings.Split(text, "\n") {
		note, ok := strings.CutPrefix(line, "# ")
		if ok {
			words = append(words, strings.TrimSpace(note))
		} else if len(words) > 0 {
			break
		}
	}
	note := strings.Join(words, " ")
	if end := strings.Index(note, ". "); end >= 0 {
		note = note[:end+1]
	}
	return note
}

// settings is the folder of this user's settings; empty where the system has none.
func settings() string {
	folder, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(folder, "campwright")
}

// startedAt is the folder that rigs are looked for in: that of the rig that was named, or the one the program was started in.
func startedAt(rigPath string) string {
	if rigPath != "" {
		if full, err := filepath.Abs(rigPath); err == nil {
			return filepath.Dir(full)
		}
	}
	folder, err := os.Getwd()
	if err != nil {
		return ""
	}
	return folder
}
