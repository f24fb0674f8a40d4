package oracle

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strconv"
	"strings"
)

// folder is a folder of answers with what has been read of it.
type folder struct {
	fs      fs.FS
	report  *Report
	used    map[string]bool
	modules map[string]moduleSet // by file
	years   map[string]*chainYear
}

// has says whether a file is there, plain or compressed.
func (f *folder) has(name string) bool {
	for _, n := range []string{name, name + ".gz"} {
		if _, err := fs.Stat(f.fs, n); err == nil {
			return true
		}
	}
	return false
}

// bytes reads a file, plain or compressed.
func (f *folder) bytes(name string) ([]byte, error) {
	f.used[name] = true
	raw, err := fs.ReadFile(f.fs, name)
	if err == nil || !errors.Is(err, fs.ErrNotExist) {
		return raw, err
	}
	packed, err := fs.ReadFile(f.fs, name+".gz")
	if err != nil {
		return nil, fmt.Errorf("file %s is named and not there", name)
	}
	r, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, fmt.Errorf("%s.gz: %w", name, err)
	}
	return io.ReadAll(r)
}

// decode reads the JSON file of a sheet; a field that into does not know is an error.
func (f *folder) decode(name string, into any) error {
	raw, err := f.bytes(name)
	if err != nil {
		return err
	}
	d := json.NewDecoder(bytes.NewReader(raw))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return errors.New("something follows the end of the document")
	}
	return nil
}

// load decodes the file of a sheet and takes its suggested tolerances.
func (f *folder) load(s *sheet, into interface {
	tolerances() map[string]json.RawMessage
}) bool {
	if err := f.decode(s.file, into); err != nil {
		s.fault("", "%v", err)
		return false
	}
	s.suggested = into.tolerances()
	return true
}

// prose holds the fields of a description that are for people, and the suggested tolerances.
type prose struct {
	Title         json.RawMessage            `json:"title"`
	Half          json.RawMessage            `json:"half"`
	Generator     json.RawMessage            `json:"generator"`
	Solver        json.RawMessage            `json:"solver"`
	Source        json.RawMessage            `json:"source"`
	Description   json.RawMessage            `json:"description"`
	Note          json.RawMessage            `json:"note"`
	Model         json.RawMessage            `json:"model"`
	Method        json.RawMessage            `json:"method"`
	Inputs        json.RawMessage            `json:"inputs"`
	PatternLayout json.RawMessage            `json:"pattern_layout"`
	TraceFiles    json.RawMessage            `json:"trace_files"`
	WeatherUnits  json.RawMessage            `json:"weather_csv_units"`
	WireNote      json.RawMessage            `json:"wire_note"`
	Units         json.RawMessage            `json:"units"`
	Conventions   json.RawMessage            `json:"conventions"`
	Equations     json.RawMessage            `json:"equations"`
	Assumptions   json.RawMessage            `json:"assumptions"`
	Metrics       json.RawMessage            `json:"metrics"`
	Suggested     map[string]json.RawMessage `json:"suggested_tolerance"`
	ModulesFile   string                     `json:"modules_file"`
}

func (p *prose) tolerances() map[string]json.RawMessage { return p.Suggested }

// modulesFile returns the file of modules the description names, or the usual one.
func (p *prose) modulesFile() string {
	if p.ModulesFile == "" {
		return "modules.json"
	}
	return p.ModulesFile
}

// Num is a number of a description: written as a number or as a decimal string, null, or left out.
type Num struct {
	V         float64
	Set, Null bool
}

// UnmarshalJSON reads the number.
func (n *Num) UnmarshalJSON(raw []byte) error {
	n.Set = true
	text := strings.Trim(string(raw), `"`)
	if text == "null" {
		n.Null = true
		return nil
	}
	v, err := strconv.ParseFloat(text, 64)
	n.V = v
	return err
}

// table is a CSV file of numbers with one line of names; the first column may hold time stamps, which stay text.
type table struct {
	names  []string
	stamps []string
	cols   [][]float64 // by column; that of the stamps is empty
}

// csv reads a table whose first column is a stamp.
func (f *folder) csv(name string) (*table, error) {
	raw, err := f.bytes(name)
	if err != nil {
		return nil, err
	}
	lines := strings.Split(strings.TrimRight(strings.ReplaceAll(string(raw), "\r\n", "\n"), "\n"), "\n")
	t := &table{names: strings.Split(lines[0], ",")}
	t.cols = make([][]float64, len(t.names))
	for i, line := range lines[1:] {
		cells := strings.Split(line, ",")
		if len(cells) != len(t.names) {
			return nil, fmt.Errorf("%s line %d: %d columns, the header has %d", name, i+2, len(cells), len(t.names))
		}
		t.stamps = append(t.stamps, cells[0])
		for c, cell := range cells[1:] {
			v, err := strconv.ParseFloat(cell, 64)
			if err != nil {
				return nil, fmt.Errorf("%s line %d: %q is not a number", name, i+2, cell)
			}
			t.cols[c+1] = append(t.cols[c+1], v)
		}
	}
	if len(t.stamps) == 0 {
		return nil, fmt.Errorf("%s: no records", name)
	}
	return t, nil
}

// col returns a column by name, nil when it is not there.
func (t *table) col(name string) []float64 {
	for i, n := range t.names {
		if n == name {
			return t.cols[i]
		}
	}
	return nil
}
