package rig

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
)

// Validate makes the checks that look beyond one value: names that are used twice, references that lead nowhere, links of the charge
// line with more or less than one part, stops without place or drive, parts removed before they were fitted, a version newer than
// ours. Decode makes the same checks; this is for rigs that were put together or changed by the program, so the faults carry paths
// and no lines.
func Validate(r Rig) Faults { return validate(&r, nil).sorted() }

// checker collects faults at known places.
type checker struct {
	faults Faults
	places map[string]At
	listed bool // the terminals have been listed in a hint
}

// add notes a fault at a path, at the place of the path or of the nearest part above it.
func (c *checker) add(path, value, problem, limit, hint string) {
	f := Fault{Path: path, Value: value, Problem: problem, Limit: limit, Hint: hint}
	for p := path; p != ""; p = parent(p) {
		if at, ok := c.places[p]; ok {
			f.Line, f.Column = at.Line, at.Column
			break
		}
	}
	c.faults = append(c.faults, f)
}

// written tells whether the text has something at a path, understood or not.
func (c *checker) written(path string) bool {
	_, ok := c.places[path]
	return ok
}

func parent(path string) string {
	for i := len(path) - 1; i >= 0; i-- {
		if path[i] == '/' {
			return path[:i]
		}
	}
	return ""
}

func validate(r *Rig, places map[string]At) Faults {
	c := &checker{places: places}
	if newer(*r) {
		c.add("campwright", strconv.Itoa(r.Version), "newer than this program reads", fmt.Sprintf("up to %d", Format), "get a newer program")
		return c.faults
	}
	c.references(r)
	c.uniqueNames(r)
	c.links(r)
	c.stops(r)
	c.dates(r)
	c.wiring(r)
	return c.faults
}

// references follows every name that points to another part.
func (c *checker) references(r *Rig) {
	modules, controllers, appliances := make([]string, 0, len(r.Modules)), make([]string, 0, len(r.Controllers)), make([]string, 0, len(r.Appliances))
	for _, m := range r.Modules {
		modules = append(modules, m.Name)
	}
	for _, m := range r.Controllers {
		controllers = append(controllers, m.Name)
	}
	for _, a := range r.Appliances {
		appliances = append(appliances, a.Name)
	}
	inverters := make([]string, 0, len(r.Inverters))
	for _, v := range r.Inverters {
		inverters = append(inverters, v.Name)
	}
	for i, a := range r.Appliances {
		c.refers(fmt.Sprintf("appliances/%s/inverter", cmp.Or(a.Name, strconv.Itoa(i+1))), a.Inverter, inverters, "inverters")
	}
	segments := arraySegments(r)
	for i, a := range r.Arrays {
		here := "arrays/" + segments[i]
		c.refers(here+"/module", a.Module, modules, "modules")
		c.refers(here+"/controller", a.Controller, controllers, "controllers")
	}
	for i, l := range r.ChargeLine {
		if l.DCDC != nil {
			c.refers(fmt.Sprintf("charge line/%d/dc-dc/also controller", i+1), l.DCDC.Controller, controllers, "controllers")
		}
	}
	if r.Aims != nil {
		for i, name := range r.Aims.NeverLose {
			c.refers(fmt.Sprintf("aims/must never lose/%d", i+1), name, appliances, "appliances")
		}
	}
}

// mostNames is how many names a hint looks through and lists.
const mostNames = 60

// refers checks one reference; an empty one is not there.
func (c *checker) refers(path, name string, known []string, where string) {
	if name == "" {
		return
	}
	named := make([]string, 0, len(known))
	for _, k := range known {
		if k == name {
			return
		}
		if k != "" {
			named = append(named, k)
		}
	}
	known = named
	var hint string
	switch {
	case len(known) == 0:
		hint = "write it under " + where
	case len(known) > mostNames:
		hint = fmt.Sprintf("%d names are known there", len(known))
	default:
		hint = "known there: " + oneOf(known)
		if near := nearest(name, known); near != "" {
			hint = "did you mean \"" + near + "\"?"
		}
	}
	c.add(path, name, "no such name under "+where, "", hint)
}

// uniqueNames finds names used twice in lists. Named groups cannot hold a name twice once they are decoded, but rigs that the program
// put together can.
func (c *checker) uniqueNames(r *Rig) {
	Members(r, func(list string, names []string) {
		seen := map[string]int{}
		for i, name := range names {
			if name == "" {
				continue
			}
			if first, twice := seen[name]; twice {
				path := join(list, strconv.Itoa(i+1))
				c.add(path, name, fmt.Sprintf("number %d has this name already", first), "", "give each its own name")
				continue
			}
			seen[name] = i + 1
		}
	})
}

// links checks that every piece of the charge line is one thing, and that one unit at most stands in it on any day: a line is a chain,
// and what stands side by side at its end acts as one.
func (c *checker) links(r *Rig) {
	for i, l := range r.ChargeLine {
		here := fmt.Sprintf("charge line/%d", i+1)
		parts := 0
		for key, there := range map[string]bool{"fuse": l.Fuse.State != 0, "run": l.Run != nil, "plug": l.Plug.State != 0, "resistance": l.Ohms.State != 0,
			"dc-dc": l.DCDC != nil, "relay": l.Relay != nil} {
			if there || c.written(here+"/"+key) {
				parts++
			}
		}
		switch {
		case parts == 0 && l.Position.State != 0:
			c.add(here, "", "a position without its fuse", "", "write the fuse that sits in it")
		case parts != 1:
			c.add(here, "", fmt.Sprintf("a link of the charge line with %d parts", parts), "exactly one",
				"begin a new member with a dash for each fuse, run, plug, resistance, dc-dc and relay")
		case l.DCDC != nil:
			if j := slices.IndexFunc(r.ChargeLine[:i], func(o Link) bool { return o.DCDC != nil && o.DCDC.beside(l.DCDC.Dates) }); j >= 0 {
				c.add(here+"/dc-dc", "", fmt.Sprintf("a second dc-dc unit in the charge line, beside that of member %d", j+1), "one at a time",
					"write units that work side by side as one, their outputs, powers and input limits added; give one that was replaced the day it was removed")
			}
		}
	}
}

// stops checks that every stop is somewhere or drives, and that its skyline reads.
func (c *checker) stops(r *Rig) {
	for i, s := range r.Trip {
		here := fmt.Sprintf("trip/%d", i+1)
		if s.Place.State == 0 && s.Drive.State == 0 && !c.written(here+"/place") && !c.written(here+"/drive") {
			c.add(here, "", "a stop needs a place or a drive", "", "write place: 33.5 N 114.2 W, or drive: 4 h")
		}
		if s.Horizon != "" {
			if _, bad := readHorizon(s.Horizon); bad != nil {
				value := bad.value
				if value == "" {
					value = short(s.Horizon)
				}
				c.add(here+"/horizon", value, bad.problem, bad.limit, bad.hint)
			}
		}
	}
}

// dates checks that nothing is removed before it is fitted.
func (c *checker) dates(r *Rig) {
	eachDated(r, func(path string, d *Dates) {
		if d.Removed.Before(d.Fitted) {
			c.add(path+"/removed", d.Removed.Text(), "removed before it was fitted", "from "+d.Fitted.Text()+" on", "")
		}
	})
}
