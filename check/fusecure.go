package check

import (
	"fmt"
	"strings"

	"campwright/conductor"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// NearPost is the place of a fuse at a battery's post as a file in the case's units writes it: within every book's distance.
func (c Case) NearPost() string {
	if c.Units == quantity.US {
		return "4 in"
	}
	return "10 cm"
}

// AddFuse returns the edits that put a class T fuse at the beginning of a written run, of the smallest rating that bears its lasting current and a quarter and that
// its cable bears; none where there is no such rating, or where the run is not one that the owner wrote.
func (c Case) AddFuse(n *Nets, run int) []rig.Edit {
	r := &n.Net().Runs[run]
	path := r.Path
	if !strings.HasPrefix(path, "wiring/runs/") {
		return nil
	}
	family, _ := conductor.FamilyNamed("class T fuse")
	need, _ := conductor.SmallestFuse(n.Run(run).Amps)
	rating, ok := conductor.Next(family.Ratings, need)
	if !ok {
		return nil
	}
	name := "new fuse of " + r.Title()
	if r.Name == "" {
		name = "new fuse"
	}
	device := fmt.Sprintf("{name: %s, kind: fuse, family: %s, rating: %g A, at: %s}", name, family.Name, rating, c.NearPost())
	if r.Wire != nil && len(r.Wire.Devices) > 0 {
		return []rig.Edit{{Path: fmt.Sprintf("%s/devices/%d", path, len(r.Wire.Devices)+1), New: device}}
	}
	return []rig.Edit{{Path: path + "/devices", New: "[" + device + "]"}}
}

// MoveToPost returns the edit that puts a device of a written run where it begins; none where its place is not written or is no place in a run.
func (c Case) MoveToPost(d *system.Device) []rig.Edit {
	if !strings.HasPrefix(d.Path, "wiring/runs/") {
		return nil
	}
	edit := rig.Edit{Path: d.Path + "/at", New: c.NearPost()}
	if said, ok := c.SaidValue(edit.Path); ok {
		edit.Old = said.Text()
	}
	return []rig.Edit{edit}
}
