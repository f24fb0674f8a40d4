package trip

import (
	"fmt"
	"math"
	"slices"

	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// tilts are the tilts tried, short of the steepest that the mount allows [deg].
var tilts = []float64{15, 30, 45, 60}

// tilt proposes to tilt the arrays that can be, each as steep as its mount allows or at one of a few tilts: the one with which the battery lasts longest.
func (w *wayfinder) tilt() {
	can := canTilt(w.doc)
	if len(can) == 0 {
		return
	}
	kept := w.list
	var best *Way
	seen := map[string]bool{}
	for _, deg := range append(slices.Clone(tilts), 90) {
		doc := *w.doc
		doc.Arrays = slices.Clone(w.doc.Arrays)
		var edits []rig.Edit
		var names []string
		for _, i := range can {
			a := &doc.Arrays[i]
			to := math.Min(deg, a.TiltsTo.Quantity.Base)
			if to <= a.Tilt.Quantity.Base {
				continue
			}
			said := rig.Value{Quantity: quantity.Quantity{Base: to, Kind: quantity.Angle, Unit: "deg"}, State: figure.Plain, At: a.Tilt.At}
			edits = append(edits, rig.Edit{Path: "arrays/" + a.Name + "/tilt", Old: system.AsWritten(a.Tilt), New: said.Text()})
			names = append(names, fmt.Sprintf("%s to %.0f°", a.Name, to))
			a.Tilt = said
		}
		words := "tilt " + figure.List(names)
		if len(edits) == 0 || seen[words] {
			continue
		}
		seen[words] = true
		w.list = nil
		w.attempt(same(words), &doc, change{}, edits, figure.Figure{})
		if w.err != nil {
			return
		}
		for k := range w.list {
			if best == nil || w.list[k].better(best) {
				best = &w.list[k]
			}
		}
	}
	if w.list = kept; best != nil {
		w.list = append(w.list, *best)
	}
}

// better tells whether a way makes its store last longer than another: by its usual end, then by its soonest.
func (w *Way) better(than *Way) bool {
	if w.Lasts.Value != than.Lasts.Value {
		return w.Lasts.Value > than.Lasts.Value
	}
	return w.Lasts.Low > than.Lasts.Low
}
