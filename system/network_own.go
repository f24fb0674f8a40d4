package system

import (
	"fmt"

	"campwright/catalogue"
	"campwright/conductor"
	"campwright/figure"
	"campwright/rig"
)

// reached tells whether a run of the network ends at a node.
func (b *builder) reached(node int) bool {
	for i := range b.net.Runs {
		for _, c := range b.net.Runs[i].Core {
			if c.From == node || c.To == node {
				return true
			}
		}
	}
	return false
}

// arrayRuns adds the runs that arrays bring along, for those that the wiring does not mention.
func (b *builder) arrayRuns() {
	for i := range b.doc.Arrays {
		a := &b.doc.Arrays[i]
		from := rig.Terminal{Part: "array", Name: a.Name}
		for k := range b.w.Combiners {
			for _, name := range b.w.Combiners[k].Arrays {
				if name == a.Name {
					from = rig.Terminal{Part: "combiner", Name: b.w.Combiners[k].Name}
				}
			}
		}
		if a.Run == nil || b.reached(b.terminal(from, "+")) {
			continue
		}
		to := rig.Terminal{Part: "controller", Name: a.Controller, Port: "pv"}
		path := "arrays/" + a.Name + "/run"
		w := rig.Wire{Gauge: a.Run.Gauge, Length: a.Run.Length, Ambient: a.Run.Ambient}
		r := Run{Path: path, From: from.String(), To: to.String(), Side: conductor.Photovoltaic, Volts: b.volts(conductor.Photovoltaic, from), Wire: &w}
		b.run(&r, &w, b.pair(from), b.pair(to), nil)
	}
}

func (b *builder) pair(t rig.Terminal) [2]int { return [2]int{b.terminal(t, "+"), b.terminal(t, "-")} }

// chargeLine adds the chain from the vehicle to the unit, unless runs of the wiring reach the unit's input. Fuses and plugs belong to the
// cable behind them, those behind the last cable to that.
func (b *builder) chargeLine() {
	end, ok := lineEnd(b.doc)
	if !ok || b.reached(b.terminal(end, "+")) {
		return
	}
	type piece struct {
		link    int
		devices []int
	}
	var pieces []piece
	var waiting []int
	for i := range b.doc.ChargeLine {
		switch l := &b.doc.ChargeLine[i]; {
		case l.Fuse.State != figure.Absent, l.Plug.State != figure.Absent:
			waiting = append(waiting, i)
		case l.Run != nil, l.Ohms.State != figure.Absent:
			pieces = append(pieces, piece{i, waiting})
			waiting = nil
		}
	}
	from, name := b.pair(rig.Terminal{Part: "vehicle"}), "vehicle"
	if len(pieces) == 0 {
		return
	}
	for k, p := range pieces {
		last := k == len(pieces)-1
		to, toName := b.pair(end), end.String()
		if !last {
			toName = fmt.Sprintf("charge line %d", k+1)
			to = [2]int{b.net.node(toName+" +", rig.Terminal{}, Plus), b.net.node(toName+" -", rig.Terminal{}, Minus)}
		}
		l := &b.doc.ChargeLine[p.link]
		path := fmt.Sprintf("charge line/%d", p.link+1)
		w := rig.Wire{Length: lengthValue(0.01, 0.01, 0.01, "")}
		if l.Run != nil {
			path += "/run"
			w.Gauge, w.Length, w.Ambient = l.Run.Gauge, l.Run.Length, l.Run.Ambient
		} else {
			w.Ohms = l.Ohms
			w.Ohms.Quantity.Base, w.Ohms.Low, w.Ohms.High = w.Ohms.Quantity.Base/2, w.Ohms.Low/2, w.Ohms.High/2
		}
		r := Run{Path: path, From: name, To: toName, Side: conductor.Vehicle, Volts: b.volts(conductor.Vehicle), Wire: &w}
		if k == 0 {
			r.Route = "engine bay"
		}
		var paths []string
		add := func(i int, at rig.Value) {
			w.Devices = append(w.Devices, linkDevice(&b.doc.ChargeLine[i], at))
			paths = append(paths, fmt.Sprintf("charge line/%d", i+1))
		}
		for _, i := range p.devices {
			add(i, lengthValue(0, 0, 0, ""))
		}
		if last {
			for _, i := range waiting {
				add(i, w.Length)
			}
		}
		for i := range w.Devices {
			w.Devices[i].At.State = figure.Plain
		}
		b.run(&r, &w, from, to, paths)
		from, name = to, toName
	}
}

// linkDevice is a fuse or plug of the charge line as a device of a run.
func linkDevice(l *rig.Link, at rig.Value) rig.Device {
	if l.Fuse.State != figure.Absent {
		return rig.Device{Name: "charge line fuse", Kind: "fuse", Rating: l.Fuse, At: at}
	}
	return rig.Device{Name: "vehicle plug", Kind: "plug", Rating: l.Plug, At: at}
}

// mains adds the cord, and, where no run of the wiring is on the AC side, what must be joined there for anything to work.
func (b *builder) mains() {
	n := b.net
	written := false
	for i := range n.Runs {
		written = written || n.Runs[i].Side == conductor.Mains
	}
	inlet, transfer, panel := rig.Terminal{Part: "inlet"}, rig.Terminal{Part: "transfer"}, rig.Terminal{Part: "ac panel"}
	if s := b.doc.Shore; s != nil {
		post := n.node("shore", rig.Terminal{}, Mains)
		if c := s.Cord; c != nil && c.Gauge.Known() && c.Length.Known() {
			w := rig.Wire{Name: "shore cord", Gauge: c.Gauge, Length: c.Length, Ambient: c.Ambient}
			r := Run{Path: "shore/cord", Name: "shore cord", From: "shore", To: "inlet", Side: conductor.Mains, Route: "outside", Volts: outletV(b.doc.Book), Wire: &w}
			b.run(&r, &w, [2]int{post, -1}, [2]int{b.terminal(inlet, ""), -1}, nil)
		} else {
			b.oneWay(post, b.terminal(inlet, ""))
		}
	}
	if written {
		return
	}
	if b.doc.Shore != nil {
		b.oneWay(b.terminal(inlet, ""), b.terminal(transfer, ""))
	}
	for i := range b.doc.Generators {
		b.oneWay(b.terminal(rig.Terminal{Part: "generator", Name: b.doc.Generators[i].Name}, ""), b.terminal(transfer, ""))
	}
	for i := range b.doc.Inverters {
		b.oneWay(b.terminal(rig.Terminal{Part: "inverter", Name: b.doc.Inverters[i].Name, Port: "ac"}, ""), b.terminal(transfer, ""))
	}
	b.oneWay(b.terminal(transfer, ""), b.terminal(panel, ""))
	if s := b.doc.Shore; s != nil {
		for i := range s.Chargers {
			from := b.terminal(inlet, "")
			if s.Chargers[i].FedBy == "any AC" {
				from = b.terminal(panel, "")
			}
			to := b.terminal(rig.Terminal{Part: "charger", Name: s.Chargers[i].Name, Port: "ac"}, "")
			b.oneWay(from, to)
			for g := range b.doc.Generators {
				b.oneWay(b.terminal(rig.Terminal{Part: "generator", Name: b.doc.Generators[g].Name}, ""), to)
			}
		}
	}
}

func (b *builder) oneWay(from, to int) {
	b.net.edge(Edge{A: from, B: to, Ohms: insideOhm, Run: -1, Device: -1, OneWay: true})
}

// bond ties down what must be on the bank's minus and is not by any written run, and joins a charger that lives in an inverter's case.
func (b *builder) bond() {
	n := b.net
	if s := b.doc.Shore; s != nil && s.MakeUp == "yes" && len(b.doc.Inverters) > 0 {
		inverter := b.pair(rig.Terminal{Part: "inverter", Name: b.doc.Inverters[0].Name, Port: "dc"})
		for i := range s.Chargers {
			dc := b.pair(rig.Terminal{Part: "charger", Name: s.Chargers[i].Name, Port: "dc"})
			if !b.reached(dc[0]) && b.reached(inverter[0]) {
				n.inside(dc[0], inverter[0], insideOhm)
				n.inside(dc[1], inverter[1], insideOhm)
			}
		}
	}
	group := n.groups()
	tie := func(name, why string) {
		if i, ok := n.index[name]; ok && group[i] != group[n.Reference()] {
			n.inside(i, n.Reference(), bondOhm)
			n.Loose = append(n.Loose, Loose{Path: "wiring", Part: name, Why: why, Taken: true})
			group = n.groups()
		}
	}
	tie("chassis -", "its bond to the bank's minus is not written, and is taken as there")
	for i := range b.w.FuseBlocks {
		name := "fuse block " + b.w.FuseBlocks[i].Name
		if plus, ok := n.index[name+" +"]; ok && b.reached(plus) {
			tie(name+" -", "its return to the bank is not written, and is taken as there")
		}
	}
}

// Reference returns the node at zero volts: the minus post of the bank's first block.
func (n *Network) Reference() int { return n.index["block 1 -"] }

// groups numbers the parts of the graph that hang together.
func (n *Network) groups() []int {
	root := make([]int, len(n.Nodes))
	for i := range root {
		root[i] = i
	}
	for _, e := range n.Edges {
		join(root, e.A, e.B)
	}
	for i := range root {
		root[i] = find(root, i)
	}
	return root
}

func find(root []int, i int) int {
	for root[i] != i {
		root[i] = root[root[i]]
		i = root[i]
	}
	return i
}

func join(root []int, a, b int) { root[find(root, a)] = find(root, b) }

// loose lists the parts that no run reaches.
func (b *builder) loose() {
	n := b.net
	group, bank := n.groups(), n.index["block 1 +"]
	add := func(path, name, why string) {
		i, ok := n.index[name+" +"]
		switch {
		case !ok || !b.reached(i):
			n.Loose = append(n.Loose, Loose{Path: path, Part: name, Why: why})
		case b.reached(bank) && group[i] != group[bank]:
			n.Loose = append(n.Loose, Loose{Path: path, Part: name, Why: "no run joins it to the bank"})
		}
	}
	const why = "no run reaches it"
	if b.blocks == 1 || b.blockNamed {
		for i := range b.blocks {
			add("bank", fmt.Sprintf("block %d", i+1), why)
		}
	} else {
		add("bank", "bank", why)
		n.Loose = append(n.Loose, Loose{Path: "bank", Part: "bank", Why: "the leads between its blocks are not written, and are taken as equal"})
	}
	for i := range b.doc.Controllers {
		c := &b.doc.Controllers[i]
		if b.sys.Supply.Also == i && b.sys.Supply.Unit != nil {
			continue // it lives in the case of the dc-dc unit
		}
		add("controllers/"+c.Name, "controller "+c.Name+" bank", why)
	}
	for i := range b.doc.Inverters {
		add("inverters/"+b.doc.Inverters[i].Name, "inverter "+b.doc.Inverters[i].Name, why)
	}
	if s := b.doc.Shore; s != nil {
		for i := range s.Chargers {
			if s.MakeUp == "yes" && len(b.doc.Inverters) > 0 {
				continue
			}
			add("shore/chargers/"+s.Chargers[i].Name, "charger "+s.Chargers[i].Name, why)
		}
	}
	if end, ok := lineEnd(b.doc); ok {
		end.Port = "out"
		add("charge line", end.String(), why)
	}
	for i := range b.w.FuseBlocks {
		add("wiring/fuse blocks/"+b.w.FuseBlocks[i].Name, "fuse block "+b.w.FuseBlocks[i].Name, why)
	}
	b.looseLoads()
}

// looseLoads lists the appliances on the DC side that hang on no branch and no run.
func (b *builder) looseLoads() {
	fed := map[string]bool{}
	for i := range b.net.Loads {
		for _, name := range b.net.Loads[i].Appliances {
			fed[name] = true
		}
	}
	for i := range b.doc.Appliances {
		a := &b.doc.Appliances[i]
		if w, _ := b.dcWatts(a); w > 0 && !fed[a.Name] {
			b.net.Loose = append(b.net.Loose, Loose{Path: "appliances/" + a.Name, Part: "appliance " + a.Name, Why: "it hangs on no fuse block and no run"})
		}
	}
}

// plugOhm is what a plug of the charge line adds to each of its conductors [Ω].
const plugOhm = catalogue.PlugOhm / 2
