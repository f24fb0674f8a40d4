package system

import (
	"fmt"
	"math"

	"campwright/conductor"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Resistances inside parts [Ω]. Common practice, no source: what a good stud, a case's common minus and a relay's contact have.
const (
	insideOhm = 0.00005
	leadOhm   = 0.0002 // of leads between blocks that are not written, for each block, plus and minus each
	bondOhm   = 0.0005 // of an assumed bond
)

// parts makes the terminals of everything that the document names, and what joins them inside.
func (b *builder) parts() {
	n := b.net
	for i := range b.blocks {
		t := rig.Terminal{Part: "block", Name: fmt.Sprint(i + 1)}
		plus, minus := b.terminal(t, "+"), b.terminal(t, "-")
		if b.blocks > 1 && !b.blockNamed {
			bank := rig.Terminal{Part: "bank"}
			n.inside(b.terminal(bank, "+"), plus, leadOhm)
			n.inside(b.terminal(bank, "-"), minus, leadOhm)
		}
	}
	for i := range b.doc.Controllers {
		name := b.doc.Controllers[i].Name
		pv := rig.Terminal{Part: "controller", Name: name, Port: "pv"}
		bank := rig.Terminal{Part: "controller", Name: name, Port: "bank"}
		n.inside(b.terminal(pv, "-"), b.terminal(bank, "-"), insideOhm)
		b.link(linkController, i, name, "controllers/"+name, pv, bank, false)
	}
	for i := range b.doc.Inverters {
		name := b.doc.Inverters[i].Name
		b.link(linkInverter, i, name, "inverters/"+name, rig.Terminal{Part: "inverter", Name: name, Port: "dc"}, rig.Terminal{Part: "inverter", Name: name, Port: "ac"}, false)
	}
	if s := b.doc.Shore; s != nil {
		for i := range s.Chargers {
			name := s.Chargers[i].Name
			b.link(linkCharger, i, name, "shore/chargers/"+name, rig.Terminal{Part: "charger", Name: name, Port: "ac"}, rig.Terminal{Part: "charger", Name: name, Port: "dc"}, false)
		}
	}
	unit := UnitAt(b.doc)
	for i := range b.doc.ChargeLine {
		in, out := rig.Terminal{Part: "dc-dc", Port: "in"}, rig.Terminal{Part: "dc-dc", Port: "out"}
		switch l := &b.doc.ChargeLine[i]; {
		case i == unit:
			n.inside(b.terminal(in, "-"), b.terminal(out, "-"), insideOhm)
			if name := l.DCDC.Controller; name != "" {
				shared := rig.Terminal{Part: "controller", Name: name, Port: "bank"}
				n.inside(b.terminal(shared, "+"), b.terminal(out, "+"), insideOhm)
				n.inside(b.terminal(shared, "-"), b.terminal(out, "-"), insideOhm)
			}
			b.link(linkDCDC, i, "dc-dc", fmt.Sprintf("charge line/%d/dc-dc", i+1), in, out, l.DCDC.TwoWay == "yes")
		case l.Relay != nil:
			in.Part, out.Part = "relay", "relay"
			n.inside(b.terminal(in, "-"), b.terminal(out, "-"), insideOhm)
			b.relay(i, l, in, out)
		}
	}
	if b.doc.Vehicle != nil || len(b.doc.ChargeLine) > 0 {
		b.terminal(rig.Terminal{Part: "vehicle"}, "+")
		b.terminal(rig.Terminal{Part: "vehicle"}, "-")
	}
}

// link notes how energy crosses a part.
func (b *builder) link(kind linkKind, doc int, name, path string, from, to rig.Terminal, backwards bool) {
	l := link{part: path, kind: kind, doc: doc, name: name, backwards: backwards, fromMinus: -1, toMinus: -1}
	l.from, l.to = b.terminal(from, "+"), b.terminal(to, "+")
	if !from.Mains() {
		l.fromMinus = b.terminal(from, "-")
	}
	if !to.Mains() {
		l.toMinus = b.terminal(to, "-")
	}
	b.net.links = append(b.net.links, l)
}

// relay is a device of its own: it opens, and nothing else holds the two sides apart.
func (b *builder) relay(i int, l *rig.Link, in, out rig.Terminal) {
	n := b.net
	path := fmt.Sprintf("charge line/%d/relay", i+1)
	d := Device{Path: path, Name: "charge relay", Kind: "relay", RatingA: given(l.Relay.Rated), Rating: l.Relay.Rated, Run: -1, AtM: math.NaN(), Alike: 1, Doc: &rig.Device{Kind: "relay"}}
	n.Devices = append(n.Devices, d)
	k := len(n.Devices) - 1
	e := n.edge(Edge{A: b.terminal(in, "+"), B: b.terminal(out, "+"), Ohms: b.deviceOhm("relay", d.RatingA), Run: -1, Device: k})
	n.Devices[k].Edges = []int{e}
	n.links = append(n.links, link{part: path, kind: linkRelay, doc: i, name: "relay", from: b.terminal(in, "+"), fromMinus: b.terminal(in, "-"), to: b.terminal(out, "+"), toMinus: b.terminal(out, "-"), backwards: true})
}

// bars makes the rails that a bus bar has, so that a bar without a run is there too.
func (b *builder) bars() {
	for i := range b.w.Bars {
		bar := &b.w.Bars[i]
		t := rig.Terminal{Part: "bus bar", Name: bar.Name}
		if bar.Rails != "minus" {
			b.terminal(t, "+")
		}
		if bar.Rails != "plus" {
			b.terminal(t, "-")
		}
	}
}

// bar returns the bus bar of a terminal, nil when it is none.
func (b *builder) bar(t rig.Terminal) *rig.Bar {
	if t.Part != "bus bar" {
		return nil
	}
	for i := range b.w.Bars {
		if b.w.Bars[i].Name == t.Name {
			return &b.w.Bars[i]
		}
	}
	return nil
}

// Voltage across a device at its rating [V], which gives its resistance; of a plug contact and of what is not known [Ω]. Common practice,
// no source: fuse sheets print 60 to 100 mV hot, a little less at the loads they carry; switches 20 to 50 mV, shunts 50 mV.
var deviceV = map[string]float64{"fuse": 0.06, "breaker": 0.08, "switch": 0.03, "disconnect": 0.03, "cut-off": 0.05, "relay": 0.05, "shunt": 0.05, "plug": 0.05}

const unknownDeviceOhm = 0.0005

// deviceOhm returns the resistance of a device of which only the rating is known [Ω].
func (b *builder) deviceOhm(kind string, ratingA float64) float64 {
	ohm := unknownDeviceOhm
	if v := deviceV[kind]; v > 0 && ratingA > 0 {
		ohm = v / ratingA
	}
	return ohm * [...]float64{0.5, 1, 1.5}[b.lean+1]
}

// fuseBlocks makes the branches of each fuse block and the loads at their ends.
func (b *builder) fuseBlocks() {
	for i := range b.w.FuseBlocks {
		block := &b.w.FuseBlocks[i]
		t := rig.Terminal{Part: "fuse block", Name: block.Name}
		plus, minus := b.terminal(t, "+"), b.terminal(t, "-")
		for k, path := range block.BranchPaths() {
			b.branch(&block.Branches[k], path, "fuse block "+block.Name, plus, minus)
		}
	}
}

// branch makes one branch: fuse, cable, load.
func (b *builder) branch(br *rig.Branch, path, from string, plus, minus int) {
	n := b.net
	name := br.Name
	if name == "" && len(br.Feeds) > 0 {
		name = br.Feeds[0]
	}
	if name == "" {
		name = path
	}
	w := rig.Wire{Name: name, From: from, To: "branch " + name, Gauge: br.Gauge, Length: br.Length, Insulation: br.Insulation, Bundled: br.Bundled, Return: br.Return}
	r := Run{Path: path, Name: name, From: from, To: w.To, Side: conductor.Battery, Volts: n.BankV, Branch: true, Wire: &w}
	w.Devices = []rig.Device{{Name: name + " fuse", Kind: "fuse", Family: br.Family, Rating: br.Fuse}}
	if br.Family == "breaker" {
		w.Devices[0].Kind, w.Devices[0].Family, w.Devices[0].Name = "breaker", "", name+" breaker"
	}
	w.Devices[0].At = rig.Value{State: br.Fuse.State}
	endPlus := n.node(path+" +", rig.Terminal{}, Plus)
	endMinus := n.node(path+" -", rig.Terminal{}, Minus)
	if br.Return == "chassis" {
		minus = b.chassis()
		r.Chassis = true
	}
	b.run(&r, &w, [2]int{plus, minus}, [2]int{endPlus, endMinus}, []string{path + "/fuse"})
	n.Loads = append(n.Loads, b.load(name, br.Feeds, endPlus, endMinus))
}

func (b *builder) chassis() int { return b.terminal(rig.Terminal{Part: "chassis"}, "-") }

// load makes the load at the end of a cable.
func (b *builder) load(name string, feeds []string, plus, minus int) WiredLoad {
	l := WiredLoad{Name: name, Appliances: feeds, Plus: plus, Minus: minus}
	for _, feed := range feeds {
		for i := range b.doc.Appliances {
			a := &b.doc.Appliances[i]
			if a.Name == feed {
				w, unknown := b.dcWatts(a)
				l.FullW += w
				l.Unknown = l.Unknown || unknown
			}
		}
		for i := range b.sys.Loads {
			if s := &b.sys.Loads[i]; s.Name == feed && s.Bus == DC && s.Parked {
				l.ParkedW += s.mean(b.net.BankV)
			}
		}
	}
	return l
}

// mean returns a load's mean over the day at a bus voltage [W].
func (l *Load) mean(busV float64) float64 {
	sum := 0.0
	for _, x := range l.Day {
		sum += x
	}
	if len(l.Day) > 0 {
		sum /= float64(len(l.Day))
	}
	if l.Amps {
		sum *= busV
	}
	return sum
}

// dcWatts returns what an appliance takes from the DC side while all of it runs [W], and whether that is a stand-in for an unknown.
func (b *builder) dcWatts(a *rig.Appliance) (watts float64, unknown bool) {
	return DCWatts(a, b.d, b.net.BankV)
}

// DCWatts returns what an appliance of a completed document takes from the DC side while all of it runs [W]: its blower and its control
// board too, and so many of it as there are. unknown tells that a stand-in for an unknown draw is in it.
func DCWatts(a *rig.Appliance, d Draw, bankV float64) (watts float64, unknown bool) {
	list := []rig.Value{a.Control}
	if a.Runs == "dc" || a.Kind == "compressor refrigerator" && a.Runs != "ac" && a.Runs != "off" {
		list = append(list, a.Power.Rate)
	}
	if a.Kind == "furnace" {
		list = append(list, a.Blower.Rate)
	}
	if a.Runs != "ac" {
		list = append(list, a.Standby)
	}
	for _, v := range list {
		if !v.Known() && !IsGuess(v) {
			continue
		}
		w := d.Of(v)
		if v.Quantity.Kind == quantity.Current {
			w *= bankV
		}
		watts += w
		unknown = unknown || v.State == figure.Unknown
	}
	count := math.Max(1, d.Of(a.Count))
	return watts * count, unknown
}

// combiners joins the arrays of each combiner, string fuses between.
func (b *builder) combiners() {
	n := b.net
	for i := range b.w.Combiners {
		c := &b.w.Combiners[i]
		out := rig.Terminal{Part: "combiner", Name: c.Name}
		plus, minus := b.terminal(out, "+"), b.terminal(out, "-")
		for _, name := range c.Arrays {
			from := rig.Terminal{Part: "array", Name: name}
			n.inside(b.terminal(from, "-"), minus, insideOhm)
			if c.Fuse == nil {
				n.inside(b.terminal(from, "+"), plus, insideOhm)
				continue
			}
			strings := 1.0
			for k := range b.doc.Arrays {
				if b.doc.Arrays[k].Name == name {
					strings = math.Max(1, b.d.Of(b.doc.Arrays[k].Strings))
				}
			}
			path := "wiring/combiners/" + c.Name + "/string fuse"
			d := b.device(c.Fuse, path)
			d.Name, d.Run, d.Alike = "string fuses of "+name, -1, strings
			n.Devices = append(n.Devices, d)
			k := len(n.Devices) - 1
			e := n.edge(Edge{A: b.terminal(from, "+"), B: plus, Ohms: b.deviceOhm("fuse", d.RatingA) / strings, Run: -1, Device: k})
			n.Devices[k].Edges = []int{e}
		}
	}
}

// device reads what is printed on a device; what is not written and belongs to its family is taken from there.
func (b *builder) device(d *rig.Device, path string) Device {
	out := Device{
		Path: path, Name: d.Name, Kind: d.Kind, Family: d.Family, RatingA: b.numberOf(d.Rating), VoltsDC: b.numberOf(d.Volts),
		InterruptA: b.numberOf(d.Interrupt), AtM: math.NaN(), Doc: d, Rating: d.Rating, Alike: 1,
	}
	if d.At.Given() {
		out.AtM = b.d.Of(d.At)
	}
	if f, ok := conductor.FamilyNamed(d.Family); ok {
		if out.VoltsDC == 0 {
			out.VoltsDC = f.Volts
		}
		if i, ok := f.InterruptAt(b.chargingV()); ok && out.InterruptA == 0 {
			out.InterruptA = i.Amps
		}
	}
	return out
}

// numberOf returns a number that is written, or zero.
func (b *builder) numberOf(v rig.Value) float64 {
	if v.Given() {
		return b.d.Of(v)
	}
	return 0
}

// chargingV is the highest voltage of the bank in ordinary work: the highest charging voltage of anything that charges it, and not below the
// usual one of its chemistry [V].
func (b *builder) chargingV() float64 {
	v := math.Max(b.net.BankV, b.sys.Bank.Model.AbsorptionV())
	for i := range b.doc.Controllers {
		v = math.Max(v, b.d.Of(b.doc.Controllers[i].Absorption))
	}
	if s := b.doc.Shore; s != nil {
		for i := range s.Chargers {
			v = math.Max(v, b.d.Of(s.Chargers[i].Absorption))
		}
	}
	if i := UnitAt(b.doc); i >= 0 {
		v = math.Max(v, b.d.Of(b.doc.ChargeLine[i].DCDC.Absorption))
	}
	return v
}

// ChargingV returns the highest voltage of the bank in ordinary work [V].
func (n *Network) ChargingV() float64 {
	return (&builder{doc: n.Doc, sys: n.Sys, net: n}).chargingV()
}
