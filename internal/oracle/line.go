package oracle

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Limit is how far a value may lie from the reference: the greater of a fixed distance and a share of the reference's size.
type Limit struct {
	Abs float64 `json:"absolute,omitempty"`
	Rel float64 `json:"relative,omitempty"`
}

func (l Limit) allows(want float64) float64 { return max(l.Abs, l.Rel*math.Abs(want)) }

func (l Limit) String() string {
	switch {
	case l.Rel == 0:
		return fmt.Sprintf("%.3g", l.Abs)
	case l.Abs == 0:
		return fmt.Sprintf("%.3g rel", l.Rel)
	}
	return fmt.Sprintf("%.3g or %.3g rel", l.Abs, l.Rel)
}

// Line is one field of one file: every comparison of it in one.
type Line struct {
	File      string  `json:"file"`
	Field     string  `json:"field"`
	Count     int     `json:"count"`
	Worst     Off     `json:"worst"` // difference of the comparison nearest to its limit, or farthest beyond
	Share     Off     `json:"share"` // of its limit
	Target    Limit   `json:"target"`
	Suggested string  `json:"suggested,omitempty"` // what the file itself suggests
	Place     string  `json:"place"`               // of the worst
	Got       Off     `json:"got"`
	Want      float64 `json:"want"`
	Beyond    int     `json:"beyond"` // how many comparisons lie beyond the limit
}

// Off is a number that may be infinite or none, which JSON has no form for: it is then written as text.
type Off float64

// MarshalJSON writes the number.
func (o Off) MarshalJSON() ([]byte, error) {
	v := float64(o)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return json.Marshal(fmt.Sprint(v))
	}
	return json.Marshal(v)
}

// sheet gathers the lines of one file.
type sheet struct {
	report    *Report
	file      string
	lines     map[string]*Line
	suggested map[string]json.RawMessage
}

// see takes one comparison into account; hint names the key of the file's suggested tolerance, empty for none.
func (s *sheet) see(field, hint string, got, want float64, limit Limit, place string) {
	l := s.lines[field]
	if l == nil {
		l = &Line{File: s.file, Field: field, Target: limit, Suggested: s.suggestion(hint), Share: -1}
		s.lines[field] = l
		s.report.Lines = append(s.report.Lines, l)
	}
	l.Count++
	off := math.Abs(got - want)
	allowed := limit.allows(want)
	share := 0.0
	switch {
	case math.IsNaN(off):
		off, share = math.Inf(1), math.Inf(1)
	case off > 0:
		share = off / allowed
	}
	if !(off <= allowed) {
		l.Beyond++
	}
	if share > float64(l.Share) {
		l.Worst, l.Share, l.Place, l.Got, l.Want = Off(off), Off(share), place, Off(got), want
	}
}

// seeNum is see for a field of the file that has to be there and not be null.
func (s *sheet) seeNum(field, hint string, got float64, want Num, limit Limit, place string) {
	if !want.Set || want.Null {
		s.fault(place, "field %q is missing or null", field)
		return
	}
	s.see(field, hint, got, want.V, limit, place)
}

// seeText compares words; a difference counts as infinitely far off.
func (s *sheet) seeText(field, got, want, place string) {
	v := 0.0
	if got != want {
		v = math.Inf(1)
		place = fmt.Sprintf("%s (%q, want %q)", place, got, want)
	}
	s.see(field, "", v, 0, Limit{}, place)
}

// fault keeps what could not be judged.
func (s *sheet) fault(place, format string, args ...any) {
	text := s.file
	if place != "" {
		text += ": " + place
	}
	s.report.Faults = append(s.report.Faults, text+": "+fmt.Sprintf(format, args...))
}

// suggestion words the file's suggested tolerance of a key.
func (s *sheet) suggestion(hint string) string {
	raw, ok := s.suggested[hint]
	if !ok {
		return ""
	}
	return strings.Trim(string(raw), `"`)
}

// own returns the file's suggested tolerance of a key as a limit, for files that are judged at their own.
func (s *sheet) own(hint string) Limit {
	text := s.suggestion(hint)
	var l Limit
	for part := range strings.SplitSeq(text, " or ") {
		f := strings.Fields(part)
		if len(f) == 0 {
			continue
		}
		v, err := strconv.ParseFloat(f[0], 64)
		if err != nil {
			continue
		}
		if len(f) > 1 && f[1] == "relative" {
			l.Rel = v
		} else {
			l.Abs = v
		}
	}
	if l == (Limit{}) {
		s.fault("", "suggested tolerance %q of %q is not understood", text, hint)
	}
	return l
}
