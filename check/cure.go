package check

import (
	"bytes"
	"slices"

	"campwright/rig"
)

// mostCures is how many cures are offered for one finding.
const mostCures = 3

// Cures returns the ways out of a finding that can be made in the file: those of its tries after which, the whole rig judged anew, the
// finding is gone or has become a note or a pass, and no STOP or FAIL stands that did not stand before. They come in the rule's order, the
// cheapest first. It takes some tens of milliseconds for each try, so it is done on request.
func Cures(c Case, o Outcome, rules []Rule) []Cure {
	if len(o.Tries) == 0 {
		return nil
	}
	before := Judge(c, rules)
	text := rig.Encode(*c.Said)
	var list []Cure
	for _, try := range o.Tries {
		if len(list) < mostCures && cures(c, o, rules, before, text, try) {
			list = append(list, try)
		}
	}
	return list
}

// cures makes the edits of a try and judges what comes of it.
func cures(c Case, o Outcome, rules []Rule, before Report, text []byte, try Cure) bool {
	edited, err := rig.Apply(text, try.Edits)
	if err != nil {
		return false
	}
	doc, faults := rig.Decode(bytes.NewReader(edited))
	if len(faults) > 0 {
		return false
	}
	next, err := Prepare(doc, c.find)
	if err != nil || len(next.Gaps) > len(c.Gaps) {
		return false
	}
	after := Judge(next, rules)
	for i := range after.Outcomes {
		a := &after.Outcomes[i]
		if a.Rule == o.Rule && a.Place == o.Place && a.Title == o.Title && a.Verdict >= Warn {
			return false
		}
		if a.Grave() && !slices.ContainsFunc(before.Outcomes, func(b Outcome) bool {
			return b.Rule == a.Rule && b.Place == a.Place && b.Verdict >= a.Verdict
		}) {
			return false
		}
	}
	return true
}

// Set returns the edit that makes a value of the document read as text. said is the value as the owner wrote it.
func Set(path string, said rig.Value, text string) rig.Edit {
	return rig.Edit{Path: path, Old: said.Text(), New: text}
}

// SetWord returns the edit that makes a word of the document read as text.
func SetWord(path, said, text string) rig.Edit { return rig.Edit{Path: path, Old: said, New: text} }
