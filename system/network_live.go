package system

import (
	"fmt"
	"slices"

	"campwright/conductor"
)

// Source is something that makes a wire live.
type Source struct {
	Name        string
	Plus, Minus int // nodes; Minus is −1 on the AC side
	Bank        bool
	How         string // how it is taken away where no device does it
}

// Sources returns everything that can make a wire live.
func (n *Network) Sources() []Source {
	var list []Source
	pair := func(name, terminal, how string, bank bool) {
		if plus, ok := n.index[terminal+" +"]; ok {
			list = append(list, Source{name, plus, n.index[terminal+" -"], bank, how})
		}
	}
	for i := range n.Blocks {
		pair(fmt.Sprintf("block %d", i+1), fmt.Sprintf("block %d", i+1), "take its minus lead off its post first, then the plus lead, and cover the posts", true)
	}
	for i := range n.Doc.Arrays {
		pair("array "+n.Doc.Arrays[i].Name+", in daylight", "array "+n.Doc.Arrays[i].Name, "cover the modules", false)
	}
	if n.Doc.Vehicle != nil {
		pair(vehicleSource, "vehicle", "stop the engine, then unplug the vehicle, or take the minus lead off its battery", false)
	}
	mains := func(name, node, how string) {
		if i, ok := n.index[node]; ok {
			list = append(list, Source{name, i, -1, false, how})
		}
	}
	mains("shore", "shore", "unplug the shore cord")
	for i := range n.Doc.Generators {
		name := "generator " + n.Doc.Generators[i].Name
		mains(name, name, "stop the generator and lock its start")
	}
	return list
}

// reach is where one source is felt.
type reach struct{ node []bool }

// spread returns the nodes that a source makes live with some devices open, through the parts that energy crosses.
func (n *Network) spread(s Source, open func(device int) bool) reach {
	r := reach{node: make([]bool, len(n.Nodes))}
	r.node[s.Plus] = true
	if s.Minus >= 0 {
		r.node[s.Minus] = true
	}
	for grew := true; grew; {
		grew = false
		for i := range n.Edges {
			e := &n.Edges[i]
			if e.Device >= 0 && open(e.Device) {
				continue
			}
			switch a, b := r.node[e.A], r.node[e.B]; {
			case a && !b:
				r.node[e.B], grew = true, true
			case b && !a && !e.OneWay:
				r.node[e.A], grew = true, true
			}
		}
		for _, l := range n.links {
			grew = r.cross(l) || grew
		}
	}
	return r
}

// cross carries energy across a part.
func (r *reach) cross(l link) bool {
	has := func(plus, minus int) bool { return r.node[plus] && (minus < 0 || r.node[minus]) }
	set := func(plus, minus int) bool {
		grew := !r.node[plus] || minus >= 0 && !r.node[minus]
		r.node[plus] = true
		if minus >= 0 {
			r.node[minus] = true
		}
		return grew
	}
	if l.kind == linkRelay {
		return false // its contact is a device
	}
	if has(l.from, l.fromMinus) && set(l.to, l.toMinus) {
		return true
	}
	return l.backwards && has(l.to, l.toMinus) && set(l.from, l.fromMinus)
}

// Live says what opening a device does.
type Live struct {
	Device    int
	Dark      []string // loads and parts that lose their feed
	Unsteady  []string // those that only a charger still feeds, without the bank
	Before    []string // sources that still make its beginning live
	Behind    []string // sources that still make its end live
	BeforeAt  string   // where its beginning leads to
	BehindAt  string
	Order     []string // what to open, in order, to make both its ends dead
	Remaining []string // what stays live after all of that
	Prove     []string // how a meter shows that it is dead
}

// feedPoint is what can go dark.
type feedPoint struct {
	name        string
	plus, minus int
}

func (n *Network) feedPoints() []feedPoint {
	var list []feedPoint
	for i := range n.Loads {
		l := &n.Loads[i]
		name := l.Name
		for _, a := range l.Appliances {
			if a != l.Name {
				name = ""
			}
		}
		if name != "" {
			list = append(list, feedPoint{name, l.Plus, l.Minus})
			continue
		}
		for _, a := range l.Appliances {
			list = append(list, feedPoint{a, l.Plus, l.Minus})
		}
	}
	for i := range n.Doc.Inverters {
		t := "inverter " + n.Doc.Inverters[i].Name
		list = append(list, feedPoint{t, n.index[t+" +"], n.index[t+" -"]})
	}
	if panel, ok := n.index["ac panel"]; ok {
		for i := range n.Doc.Appliances {
			if n.Doc.Appliances[i].Runs == "ac" {
				list = append(list, feedPoint{n.Doc.Appliances[i].Name, panel, -1})
			}
		}
	}
	return list
}

// Open says what opening one device does, off grid: what the bank no longer feeds, what is still live and from where, and how to make the
// place dead.
func (n *Network) Open(device int) Live {
	out := Live{Device: device}
	sources := n.Sources()
	opened := func(d int) bool { return d == device }
	none := func(int) bool { return false }
	before, after := make([]reach, len(sources)), make([]reach, len(sources))
	for i, s := range sources {
		before[i], after[i] = n.spread(s, none), n.spread(s, opened)
	}
	for _, p := range n.feedPoints() {
		was, _ := fedBy(sources, before, p)
		bank, other := fedBy(sources, after, p)
		switch {
		case !was || bank:
		case other:
			out.Unsteady = append(out.Unsteady, p.name)
		default:
			out.Dark = append(out.Dark, p.name)
		}
	}
	a, b := n.ends(device)
	for i, s := range sources {
		if after[i].node[a] {
			out.Before = append(out.Before, s.Name)
		}
		if after[i].node[b] {
			out.Behind = append(out.Behind, s.Name)
		}
	}
	out.BeforeAt, out.BehindAt = n.leadsTo(device)
	n.makeDead(device, sources, &out)
	return out
}

// fedBy tells whether the bank feeds a point, and whether anything but the bank and shore does.
func fedBy(sources []Source, r []reach, p feedPoint) (bank, other bool) {
	for i, s := range sources {
		if !r[i].node[p.plus] || p.minus >= 0 && !r[i].node[p.minus] {
			continue
		}
		if s.Bank {
			bank = true
		} else if s.Minus >= 0 {
			other = true
		}
	}
	return bank, other
}

// ends returns the nodes at the beginning and the end of a device's first pole.
func (n *Network) ends(device int) (a, b int) {
	d := &n.Devices[device]
	if len(d.Edges) == 0 {
		return n.Reference(), n.Reference()
	}
	e := n.Edges[d.Edges[0]]
	return e.A, e.B
}

func (n *Network) leadsTo(device int) (before, behind string) {
	d := &n.Devices[device]
	if d.Run < 0 {
		return "its one side", "its other side"
	}
	return n.Runs[d.Run].From, n.Runs[d.Run].To
}

// vehicleSource is the source before the charge line, which gives nothing once its engine stands and is cut off next to its battery.
const vehicleSource = "vehicle battery"

// makeDead finds what to open so that no source reaches either end of a device: for each source that still does, the last device on its way
// to the place, or, where there is none, what takes the source itself away.
func (n *Network) makeDead(device int, sources []Source, out *Live) {
	open := map[int]bool{device: true}
	gone := map[string]bool{}
	a, b := n.ends(device)
	var steps [6][]string
	sources = slices.Clone(sources)
	slices.SortStableFunc(sources, func(x, y Source) int { return rank(x) - rank(y) })
	for range 4 * len(sources) {
		busy := false
		for _, s := range sources {
			if gone[s.Name] {
				continue
			}
			r := n.spread(s, func(d int) bool { return open[d] })
			if !r.node[a] && !r.node[b] {
				continue
			}
			busy = true
			if d := n.firstOpener(s, open, a, b); d >= 0 && s.Minus >= 0 {
				open[d] = true
				steps[rank(s)] = append(steps[rank(s)], n.before(s, d, device)+"open "+n.Devices[d].Title(n)+" ("+s.Name+")")
				continue
			}
			gone[s.Name] = true
			steps[rank(s)] = append(steps[rank(s)], s.How+" ("+s.Name+")")
			if s.Minus >= 0 {
				out.Remaining = append(out.Remaining, s.Name)
			}
		}
		if !busy {
			break
		}
	}
	name := n.Devices[device].Title(n)
	out.Order = append(out.Order, "switch off the inverter and all loads")
	if breaksLoad(&n.Devices[device]) {
		out.Order = append(out.Order, "open "+name+", which is made to break what still flows")
	}
	for _, s := range steps {
		for _, step := range s {
			if !slices.Contains(out.Order, step) {
				out.Order = append(out.Order, step)
			}
		}
	}
	if breaksLoad(&n.Devices[device]) {
		out.Order = append(out.Order, "keep "+name+" open with a tag")
	} else {
		out.Order = append(out.Order, "open "+name+" last, and keep it open with a tag")
	}
	out.Prove = proof(n.Runs, n.Devices[device])
}

// before is what comes before a device is opened: no running alternator is cut off from the bank that it charges, and what is not made to break
// the direct current of modules is opened when they give none.
// Nothing flows any more where the device that is asked about has broken it.
func (n *Network) before(s Source, opener, device int) string {
	q := &n.Devices[device]
	switch {
	case s.Name == vehicleSource:
		return "stop the engine, then "
	case breaksLoad(q) && q.Run >= 0 && n.Runs[q.Run].Side == conductor.Photovoltaic:
		return ""
	case !s.Bank && s.Minus >= 0 && !breaksLoad(&n.Devices[opener]):
		return "with the modules covered or in the dark, "
	}
	return ""
}

// breaksLoad tells whether a device is made to be opened while current flows.
func breaksLoad(d *Device) bool { return d.Kind != "fuse" && d.Kind != "plug" }

// rank puts sources in the order in which they are taken away: shore and generator, engine, sun, bank.
func rank(s Source) int {
	switch {
	case s.Minus < 0:
		return 0
	case s.Name == vehicleSource:
		return 1
	case s.Bank:
		return 3
	}
	return 2
}

// firstOpener returns the device, on the way of a source to one of two nodes, that a person opens to cut it off: of those that are made to be
// opened under load the nearest to the source, or where there is none of them the fuse or plug nearest to it, which has to wait until nothing
// flows; −1 where nothing can be opened.
func (n *Network) firstOpener(s Source, open map[int]bool, a, b int) int {
	came := make([]int, len(n.Nodes)) // the step by which a node was reached: edges, then links, from 1
	queue := []int{s.Plus}
	came[s.Plus] = -1
	visit := func(node, step int) {
		if came[node] == 0 {
			came[node] = step
			queue = append(queue, node)
		}
	}
	for len(queue) > 0 && came[a] == 0 && came[b] == 0 {
		at := queue[0]
		queue = queue[1:]
		for i := range n.Edges {
			e := &n.Edges[i]
			switch {
			case e.Device >= 0 && open[e.Device]:
			case e.A == at:
				visit(e.B, i+1)
			case e.B == at && !e.OneWay:
				visit(e.A, i+1)
			}
		}
		for i, l := range n.links {
			switch {
			case l.kind == linkRelay:
			case l.from == at:
				visit(l.to, len(n.Edges)+i+1)
			case l.backwards && l.to == at:
				visit(l.from, len(n.Edges)+i+1)
			}
		}
	}
	at, found, breaks := a, -1, false
	if came[a] == 0 {
		at = b
	}
	for came[at] > 0 {
		step := came[at] - 1
		if step >= len(n.Edges) {
			l := n.links[step-len(n.Edges)]
			at = l.from + l.to - at
			continue
		}
		e := n.Edges[step]
		if e.Device >= 0 && n.Devices[e.Device].Opens() {
			if d := &n.Devices[e.Device]; s.Name == vehicleSource || breaksLoad(d) || !breaks {
				found, breaks = e.Device, breaks || breaksLoad(d)
			}
		}
		at = e.A + e.B - at
	}
	return found
}

// proof is how a meter shows that a place is dead. A direct-voltage range shows nothing on live AC, so that each side has its own. Common
// practice, no source.
func proof(runs []Run, d Device) []string {
	span := "a direct-voltage range above the array's cold voltage"
	switch {
	case d.Run >= 0 && runs[d.Run].Side == conductor.Mains:
		return []string{
			"take a meter made for mains, CAT II at an outlet and CAT III at a panel or post, set it to an alternating-voltage range above the voltage between two hot legs, and read an outlet that is surely live first",
			"read both ends of the opened device, each leg: hot to neutral, hot to ground, neutral to ground, and from leg to leg where there are two; all must read nothing, and more than a few volts mean that something still feeds it",
			"read the live outlet again, so that a dead meter does not pass for a dead wire",
			"a direct-voltage range shows nothing on live AC: see that the meter is not on it",
		}
	case d.Run >= 0 && runs[d.Run].Side != conductor.Photovoltaic:
		span = "a direct-voltage range above twice the bank's voltage"
	}
	return []string{
		"set the meter to " + span + " and read a source that is surely live first",
		"read both ends of the opened device, each to minus and each to the frame: all under 0.5 V; a voltage that falls slowly is an inverter's capacitors, wait for it",
		"read across the opened device: under 0.5 V",
		"read the live source again, so that a dead meter does not pass for a dead wire",
	}
}
