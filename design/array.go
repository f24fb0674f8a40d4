package design

import (
	"fmt"
	"math"

	"campwright/conductor"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// Direct voltages and currents for which photovoltaic disconnects are made [V], [A]. Common practice, no source.
var (
	pvVolts = []float64{125, 150, 250, 500, 600, 1000}
	pvAmps  = []float64{10, 16, 20, 25, 32, 40, 50, 63, 80, 100}
)

// coldMost is how far a module's open voltage may rise in the deepest cold of the handbook's table: 1.25 times.
const coldMost = 1.25

// arrays gives each array a disconnect in front of its controller, its strings fuses where the others could burn one, and a cable where
// none is written.
func (p *plan) arrays() {
	for i := range p.full.Arrays {
		a := &p.full.Arrays[i]
		if p.reached("array "+a.Name) && p.inWiring("array "+a.Name) || p.combined(a.Name) {
			continue
		}
		p.array(a)
	}
}

// inWiring tells whether the written wiring itself has a run at a terminal.
func (p *plan) inWiring(terminal string) bool {
	if p.said.Wiring == nil {
		return false
	}
	for i := range p.said.Wiring.Runs {
		if r := &p.said.Wiring.Runs[i]; r.From == terminal || r.To == terminal {
			return true
		}
	}
	return false
}

func (p *plan) combined(array string) bool {
	if p.said.Wiring == nil {
		return false
	}
	for _, c := range p.said.Wiring.Combiners {
		for _, name := range c.Arrays {
			if name == array {
				return true
			}
		}
	}
	return false
}

func (p *plan) array(a *rig.Array) {
	m := p.module(a.Module)
	if m == nil {
		return
	}
	strings, series := math.Max(1, a.Strings.Quantity.Base), math.Max(1, a.InSeries.Quantity.Base)
	isc := m.Isc.Quantity.Base
	name := "array " + a.Name
	from := name
	if p.stringFuses(a, m, strings, isc) {
		from = "combiner " + a.Name
	}
	openV := series * m.Voc.Quantity.Base * coldMost
	need := conductor.DeviceCurrent(isc * strings)
	v, ok := conductor.Next(pvVolts, openV)
	if !ok {
		p.problem("%s: no disconnect here is made for %.0f V", name, openV)
		return
	}
	rating := rated(pvAmps, need)
	d := rig.Device{Name: a.Name + " disconnect", Kind: "disconnect", Rating: amps(rating), Volts: volts(v), In: "both", Made: "dc", Polarised: "no"}
	p.choices = append(p.choices, Choice{Path: "wiring/runs/" + name + "/devices/" + d.Name, Part: d.Name, Chosen: fmt.Sprintf("%g A, %g V direct", rating, v), Final: true,
		Book: "[NEC] 690.7, 690.8, 690.9, 690.13",
		Why:  fmt.Sprintf("%.0f V open in the deepest cold and 1.56 times %.1f A; it opens both poles, whichever way the fault current flows", openV, isc*strings)})
	w := rig.Wire{Name: name, From: from, To: "controller " + a.Controller + " pv", Devices: []rig.Device{d}}
	p.arrayCable(a, &w, isc*strings, series*m.Vmp.Quantity.Base, strings*m.Imp.Quantity.Base)
	p.w.Runs = append(p.w.Runs, w)
	p.refresh()
}

// arrayCable sizes an array's cable where the document has none; a combiner's run needs its own, the array's being that of the array.
func (p *plan) arrayCable(a *rig.Array, w *rig.Wire, sumIsc, vmp, imp float64) {
	said := p.saidRun(a.Name)
	combiner := w.From != "array "+a.Name
	if said != nil && said.Gauge.State != figure.Absent && said.Length.State != figure.Absent {
		if combiner {
			w.Gauge, w.Length, w.Ambient = said.Gauge, said.Length, said.Ambient
		}
		return
	}
	length := p.trade(a.Run.Length)
	share, _, _ := conductor.DropPractice(p.book, true)
	k := ask{name: w.Name, from: w.From, to: w.To, lasting: conductor.CircuitCurrent(sumIsc), share: share, dropA: imp}
	k.least = p.notBelow(a.Run.Gauge.Quantity.Base)
	n := p.need(k, conductor.Photovoltaic, length)
	n.Volts = vmp
	if a.Run.Ambient.Given() {
		n.Use.AmbientC = a.Run.Ambient.Quantity.Base
		n.DropC = system.LoadedC(n.Use.AmbientC, n.Use.InsulationC)
	}
	w.Length = p.guessed(length)
	if length.Given() {
		w.Length = length
	}
	if said != nil && said.Gauge.Given() {
		w.Gauge = said.Gauge // it lies on the roof already
		return
	}
	g, c, ok := p.size(n, k, "wiring/runs/"+w.Name, w.Length)
	if !ok {
		w.Gauge.State = figure.Unknown // why none does stands among the problems
		return
	}
	w.Gauge = value(g.String(), quantity.Section)
	p.choices = append(p.choices, c)
}

// notBelow returns the stocked size of the proposal's system that comes nearest to a section [mm²] without being thinner.
func (p *plan) notBelow(section float64) conductor.Gauge {
	for _, g := range conductor.Gauges(p.sizes) {
		if g.Section() >= section*(1-1e-9) && !seldom(g) {
			return g
		}
	}
	return conductor.Gauge{}
}

func (p *plan) saidRun(array string) *rig.Run {
	for i := range p.said.Arrays {
		if p.said.Arrays[i].Name == array {
			return p.said.Arrays[i].Run
		}
	}
	return nil
}

func (p *plan) module(name string) *rig.Module {
	for i := range p.full.Modules {
		if p.full.Modules[i].Name == name {
			return &p.full.Modules[i]
		}
	}
	return nil
}

// stringFuses gives the strings of an array a fuse each where the others could drive more through one than its modules were tested for.
func (p *plan) stringFuses(a *rig.Array, m *rig.Module, strings, isc float64) bool {
	if strings < 2 || !m.Fuse.Given() {
		if strings >= 3 {
			p.problem("array %s: the largest series fuse of its modules is not written, so whether its strings need fuses cannot be told", a.Name)
		}
		return false
	}
	f, err := conductor.Strings{Count: int(math.Round(strings)), Isc: isc, MaxSeries: m.Fuse.Quantity.Base}.Fuse()
	if err != nil || !f.Needed {
		return false
	}
	if f.Rating == 0 {
		p.problem("array %s: no fuse lies between %.1f A and the modules' %.0f A", a.Name, f.Smallest, f.Largest)
		return false
	}
	const family = "photovoltaic cartridge fuse 10 x 38 mm"
	d := rig.Device{Kind: "fuse", Family: family, Rating: amps(f.Rating)}
	connectors := rated(pvAmps, conductor.CircuitCurrent(isc*strings))
	p.w.Combiners = append(p.w.Combiners, rig.Combiner{Name: a.Name, Arrays: []string{a.Name}, Fuse: &d, Connectors: amps(connectors)})
	p.choices = append(p.choices, Choice{Path: "wiring/combiners/" + a.Name, Part: "string fuses of " + a.Name, Chosen: fmt.Sprintf("%g A %s", f.Rating, family), Final: true, Book: f.Origin.String(),
		Why: fmt.Sprintf("the other strings could drive %.1f A into a faulted one, and its modules bear %.0f A; %.1f A or more so that it does not open in full sun", f.Backfeed, f.Largest, f.Smallest)})
	p.refresh()
	return true
}

// mainsV is the voltage of an outlet [V].
func (p *plan) mainsV() float64 { return system.OutletV(p.full.Book) }
