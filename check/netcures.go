package check

import (
	"fmt"
	"slices"
	"strings"

	"campwright/conductor"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// SizeCures returns edits that make a written run thicker, size by size, as tries of a cure.
func (c Case) SizeCures(r *system.Run) []Cure {
	path, ok := c.gaugePath(r)
	if !ok {
		return nil
	}
	said, ok := c.SaidValue(path)
	if !ok || !said.Given() {
		return nil
	}
	var list []Cure
	for _, g := range conductor.Gauges(r.Use.Gauge.System()) {
		if n, awg := g.Number(); g.Section() > r.Use.Gauge.Section()*1.01 && !(awg && slices.Contains([]int{3, 1, -2}, n)) {
			list = append(list, Cure{Words: "lay " + r.Title() + " in " + g.String(), Edits: []rig.Edit{Set(path, said, g.String())}})
		}
	}
	return list
}

// gaugePath returns where the size of a run is written.
func (c Case) gaugePath(r *system.Run) (string, bool) {
	path := r.Path + "/gauge"
	if _, ok := c.SaidValue(path); ok {
		return path, true
	}
	if name, ok := strings.CutPrefix(r.From, "array "); ok {
		path = "arrays/" + name + "/run/gauge"
		_, ok := c.SaidValue(path)
		return path, ok
	}
	return "", false
}

// RatingCures returns edits that give a device another rating out of a list, as tries of a cure.
func (c Case) RatingCures(net *system.Network, d *system.Device, key string, ratings []float64, words string) []Cure {
	path := d.Path + "/" + key
	if !strings.HasPrefix(d.Path, "wiring/runs/") && !strings.HasPrefix(d.Path, "wiring/combiners/") {
		path = d.Path // the value itself is the device
	}
	said, ok := c.SaidValue(path)
	if !ok || !said.Given() {
		return nil
	}
	var list []Cure
	for _, r := range ratings {
		list = append(list, Cure{Words: fmt.Sprintf(words, quantity.Digits(r, 4, 1), d.Title(net)), Edits: []rig.Edit{Set(path, said, quantity.Digits(r, 4, 1)+" "+said.Quantity.Kind.BaseUnit())}})
	}
	return list
}
