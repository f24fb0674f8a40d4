package rig

import (
	"fmt"
	"reflect"
	"strings"
)

var (
	wireShape   = shapeOf(reflect.TypeFor[Wire]())
	branchShape = shapeOf(reflect.TypeFor[Branch]())
	deviceShape = shapeOf(reflect.TypeFor[Device]())
)

func wireSegments(list []Wire) []string     { return segmentsOf(reflect.ValueOf(list), wireShape) }
func branchSegments(list []Branch) []string { return segmentsOf(reflect.ValueOf(list), branchShape) }
func deviceSegments(list []Device) []string { return segmentsOf(reflect.ValueOf(list), deviceShape) }

// wiring checks what the wiring says beyond single values: terminals that are not there, pairs that join plus to minus, devices beyond
// the end of their run, names that lead nowhere.
func (c *checker) wiring(r *Rig) {
	c.breakaway(r)
	w := r.Wiring
	if w == nil {
		return
	}
	for i, b := range w.Bays {
		for k, name := range b.Holds {
			if _, bad := r.terminal(name, false); bad != nil {
				c.add(fmt.Sprintf("wiring/bays/%s/holds/%d", w.Bays[i].Name, k+1), bad.value, bad.problem, "", bad.hint)
			}
		}
	}
	appliances := namesOf(r.Appliances, func(a Appliance) string { return a.Name })
	for i := range w.FuseBlocks {
		b := &w.FuseBlocks[i]
		for k, at := range branchSegments(b.Branches) {
			for n, name := range b.Branches[k].Feeds {
				c.refers(fmt.Sprintf("wiring/fuse blocks/%s/branches/%s/feeds/%d", b.Name, at, n+1), name, appliances, "appliances")
			}
		}
	}
	arrays := namesOf(r.Arrays, func(a Array) string { return a.Name })
	for i := range w.Combiners {
		for n, name := range w.Combiners[i].Arrays {
			c.refers(fmt.Sprintf("wiring/combiners/%s/arrays/%d", w.Combiners[i].Name, n+1), name, arrays, "arrays")
		}
	}
	for i, at := range wireSegments(w.Runs) {
		c.run(r, &w.Runs[i], "wiring/runs/"+at)
	}
}

// OwnBattery is what feeds breakaway brakes that need nothing else.
const OwnBattery = "own battery"

// breakaway checks what feeds the breakaway brakes.
func (c *checker) breakaway(r *Rig) {
	if r.Breakaway == "" || r.Breakaway == OwnBattery || r.Breakaway == "unknown" {
		return
	}
	switch t, bad := r.terminal(r.Breakaway, true); {
	case bad != nil:
		c.add("breakaway brakes", bad.value, bad.problem, "", "write "+OwnBattery+", a terminal of the DC side, or unknown; "+bad.hint)
	case t.Mains():
		c.add("breakaway brakes", short(r.Breakaway), "a terminal on the AC side", "", "breakaway brakes take DC")
	}
}

// run checks one run.
func (c *checker) run(r *Rig, w *Wire, here string) {
	from, bad := r.terminal(w.From, true)
	if bad != nil && w.From != "" {
		c.add(here+"/from", bad.value, bad.problem, "", c.choices(r, bad.hint))
	}
	to, worse := r.terminal(w.To, true)
	if worse != nil && w.To != "" {
		c.add(here+"/to", worse.value, worse.problem, "", c.choices(r, worse.hint))
	}
	if bad == nil && worse == nil {
		switch {
		case from == to:
			c.add(here, w.To, "a run from a terminal to itself", "", "")
		case from.Mains() != to.Mains():
			c.add(here, w.To, "a run from the DC side to the AC side", "", "an inverter, charger or transfer switch stands between them")
		case from.Sign != "" && to.Sign != "" && from.Sign != to.Sign:
			c.add(here, w.To, "plus joined to minus", "", "a run joins like to like")
		}
	}
	for k := range w.Devices {
		d := &w.Devices[k]
		if d.At.Given() && w.Length.Given() && d.At.Quantity.Base > w.Length.Quantity.Base*(1+1e-9) {
			c.add(fmt.Sprintf("%s/devices/%s/at", here, deviceSegments(w.Devices)[k]), d.At.Text(), "beyond the end of its run", "up to "+w.Length.Text(), "")
		}
	}
}

// choices adds to a hint the terminals that the rig has, once in a document.
func (c *checker) choices(r *Rig, hint string) string {
	if c.listed {
		return hint
	}
	c.listed = true
	const most = 40
	list := r.Terminals()
	text := "this rig has " + strings.Join(list[:min(len(list), most)], ", ")
	if more := len(list) - most; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	if hint == "" {
		return text
	}
	return hint + "; " + text
}

// RunPaths returns the path of each run of the wiring.
func (r *Rig) RunPaths() []string {
	if r.Wiring == nil {
		return nil
	}
	paths := wireSegments(r.Wiring.Runs)
	for i := range paths {
		paths[i] = "wiring/runs/" + paths[i]
	}
	return paths
}

// BranchPaths returns the path of each branch of a fuse block.
func (b *FuseBlock) BranchPaths() []string {
	paths := branchSegments(b.Branches)
	for i := range paths {
		paths[i] = "wiring/fuse blocks/" + b.Name + "/branches/" + paths[i]
	}
	return paths
}

// DevicePaths returns the path of each device of a run whose path is run.
func (w *Wire) DevicePaths(run string) []string {
	paths := deviceSegments(w.Devices)
	for i := range paths {
		paths[i] = run + "/devices/" + paths[i]
	}
	return paths
}
