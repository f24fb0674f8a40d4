package check

import (
	"fmt"

	"campwright/conductor"
	"campwright/rig"
)

// FirstFuse returns edits that put a fuse before everything else in the charge line, as tries of a cure: of the rating that its current asks for, and of the next.
func (c Case) FirstFuse() []Cure {
	l, ok := c.ChargeLine()
	if !ok || l.Vs.Figure.Value <= 0 {
		return nil
	}
	text := rig.Encode(*c.Said)
	n := len(c.Said.ChargeLine)
	old := make([]string, n)
	for i := range old {
		var err error
		if old[i], err = rig.Read(text, fmt.Sprintf("charge line/%d", i+1)); err != nil || old[i] == "" {
			return nil
		}
	}
	ratings, _ := conductor.StandardRatings()
	need, _ := conductor.SmallestFuse(l.Pin.Figure.Value / l.Vs.Figure.Value)
	var list []Cure
	for range 2 {
		r, ok := conductor.Next(ratings, need)
		if !ok {
			break
		}
		fuse := fmt.Sprintf("{fuse: %g A}", r)
		cure := Cure{Words: fmt.Sprintf("put a fuse of %g A at the vehicle", r)}
		for i := range old {
			now := fuse
			if i > 0 {
				now = old[i-1]
			}
			cure.Edits = append(cure.Edits, rig.Edit{Path: fmt.Sprintf("charge line/%d", i+1), Old: old[i], New: now})
		}
		cure.Edits = append(cure.Edits, rig.Edit{Path: fmt.Sprintf("charge line/%d", n+1), New: old[n-1]})
		list = append(list, cure)
		need = r * 1.01
	}
	return list
}
