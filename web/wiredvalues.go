package web

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"campwright/design"
	"campwright/rig"
	"campwright/system"
)

// WiredValue is one value of a run or device that can be changed where it is shown.
type WiredValue struct {
	Key   string `json:"key"` // what it is: size, length, rating
	Path  string `json:"path"`
	Raw   string `json:"raw"`   // what stands there in the file or in the proposal; empty where nothing does
	Hangs string `json:"hangs"` // the proposed run that is accepted along with a change; empty where the value is in the file
}

// wiredTexts are the values of a rig, as its file has them and as the proposal has them, by path.
type wiredTexts struct{ said, proposed map[string]string }

func textsOf(w *design.Wired) wiredTexts {
	return wiredTexts{valueTexts(&w.Said), valueTexts(&w.Proposal.Doc)}
}

func valueTexts(doc *rig.Rig) map[string]string {
	texts := map[string]string{}
	rig.Walk(doc, func(path string, v *rig.Value) { texts[path] = v.Text() })
	return texts
}

// value is the value at a path: of the file, or of a proposed run.
func (t wiredTexts) value(key, path, proposed string) WiredValue {
	if proposed != "" {
		return WiredValue{key, path, t.proposed[path], proposed}
	}
	return WiredValue{Key: key, Path: path, Raw: t.said[path]}
}

// ofRun are the values of a run that can be changed in its row, and those that stand behind it.
func (t wiredTexts) ofRun(row *design.RunRow, r *system.Run) (list []WiredValue) {
	proposed := ""
	if row.Known == "proposed" {
		proposed = row.Path
	}
	if strings.HasPrefix(row.Path, "charge line/") && !strings.HasSuffix(row.Path, "/run") {
		return []WiredValue{t.value("length", row.Path+"/resistance", "")}
	}
	for _, at := range [...]struct{ key, field string }{{"size", "gauge"}, {"length", "length"}} {
		v := t.value(at.key, row.Path+"/"+at.field, proposed)
		if name, ok := strings.CutPrefix(r.From, "array "); ok && v.Raw == "" { // the cable that is written with the array
			if own := "arrays/" + name + "/run/" + at.field; t.said[own] != "" {
				v = t.value(at.key, own, "")
			}
		}
		list = append(list, v)
	}
	if r.Branch || strings.HasPrefix(row.Path, "wiring/runs/") {
		for _, at := range [...]struct{ key, field string }{{"insulation", "insulation"}, {"conductors lying together", "bundled"}} {
			list = append(list, t.value(at.key, row.Path+"/"+at.field, proposed))
		}
	}
	if strings.HasPrefix(row.Path, "wiring/runs/") {
		v := t.value("hottest place it passes", row.Path+"/route", proposed)
		v.Raw = r.Wire.Route
		list = append(list, v)
	}
	return list
}

// ofDevice are the values of a device that can be changed in its row.
func (t wiredTexts) ofDevice(row *design.DeviceRow, d *system.Device, run *design.RunRow) []WiredValue {
	proposed := ""
	if row.Known == "proposed" {
		if run == nil || run.Known != "proposed" {
			return []WiredValue{}
		}
		proposed = run.Path
	}
	switch {
	case strings.HasPrefix(d.Path, "charge line/") && (d.Kind == "fuse" || d.Kind == "plug"):
		return []WiredValue{t.value("rating", d.Path+"/"+d.Kind, "")}
	case strings.HasSuffix(d.Path, "/fuse"):
		return []WiredValue{t.value("rating", d.Path, proposed)}
	case strings.HasPrefix(d.Path, "wiring/runs/"):
		list := []WiredValue{t.value("rating", d.Path+"/rating", proposed)}
		if d.Kind == "fuse" {
			v := t.value("kind", d.Path+"/family", proposed)
			v.Raw = d.Doc.Family
			list = append(list, v)
		}
		return list
	}
	return []WiredValue{}
}

// taken returns the edits that take a proposed run into the file, and what they leave: the text with the run in it.
func (s *Server) taken(run string) (edits []rig.Edit, text []byte, revision string, err error) {
	r, err := s.read()
	if err != nil {
		return nil, nil, "", err
	}
	if len(r.faults)+len(r.gaps) > 0 {
		return nil, nil, "", refused{errors.New("nothing is proposed for a rig that cannot be wired yet")}
	}
	k, err := s.wired.get(r)
	if err != nil {
		return nil, nil, "", refused{err}
	}
	rows := k.wired.Answer().Runs
	at := slices.IndexFunc(rows, func(row design.RunRow) bool { return row.Path == run && row.Known == "proposed" })
	if at < 0 {
		return nil, nil, "", refused{fmt.Errorf("no run %q is proposed any more", run)}
	}
	edits = acceptance(k.wired, rows, at)
	if text, err = rig.Apply(r.state.Text, edits); err != nil {
		return nil, nil, "", refused{err}
	}
	return edits, text, r.revision, nil
}

// withValue adds to the edits that take a run the one that puts a text at a place of it.
func withValue(edits []rig.Edit, text []byte, path, value string) ([]rig.Edit, error) {
	old, err := rig.Read(text, path)
	if err != nil {
		return nil, refused{err}
	}
	if old != value {
		edits = append(edits, rig.Edit{Path: path, Old: old, New: value})
	}
	return edits, nil
}
