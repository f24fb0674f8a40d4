package rig

import "strings"

// Terminals returns the names of all terminals that a rig has, without signs, in the order of the parts: "bank", "block 1", "controller closet pv".
func (r *Rig) Terminals() []string {
	var list []string
	for i := range partWords {
		w := &partWords[i]
		if w.free || !r.hasPart(w.word) {
			continue
		}
		names := []string{""}
		if w.names != nil {
			names = w.names(r)
		}
		for _, name := range names {
			t := strings.TrimSpace(w.word + " " + name)
			if len(w.ports) == 0 {
				list = append(list, t)
			}
			for _, p := range w.ports {
				if p.usual {
					list = append(list, t)
					continue
				}
				list = append(list, t+" "+p.name)
			}
		}
	}
	return list
}

// hasPart tells whether a rig has the part of which there is one that a word names.
func (r *Rig) hasPart(word string) bool {
	switch word {
	case "bank", "block":
		return r.Bank != nil
	case "dc-dc", "relay":
		for i := range r.ChargeLine {
			if l := &r.ChargeLine[i]; word == "dc-dc" && l.DCDC != nil || word == "relay" && l.Relay != nil {
				return true
			}
		}
		return false
	case "vehicle":
		return r.Vehicle != nil
	case "inlet":
		return r.Shore != nil
	}
	return true
}

// TerminalWord explains a terminal by the word that it begins with: what it is, and its sides where it has several; false for what begins with none.
func TerminalWord(text string) (word, doc string, sides []string, ok bool) {
	body, _ := cutSign(text)
	w, _ := partOf(body)
	if w == nil {
		return "", "", nil, false
	}
	for _, p := range w.ports {
		sides = append(sides, p.name)
	}
	return w.word, w.doc, sides, true
}
