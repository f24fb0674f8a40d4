package design

import (
	"fmt"
	"math"
	"strings"

	"campwright/conductor"
	"campwright/rig"
	"campwright/system"
)

// Ratings in which bus bars, switches and shunts are made [A]. Common practice, no source.
var (
	barRatings    = []float64{100, 150, 250, 300, 400, 500, 600, 800, 1000}
	switchRatings = []float64{100, 200, 300, 350, 500, 600, 1000}
	shuntRatings  = []float64{150, 500, 1000}
)

func rated(list []float64, need float64) float64 {
	if r, ok := conductor.Next(list, need); ok {
		return r
	}
	return list[len(list)-1]
}

// lowV is the lowest voltage at which everything still runs: where the inverter stops, or the loads' cut-off [V].
func (p *plan) lowV() float64 {
	b := p.full.Bank
	v := b.InverterOff.Quantity.Base
	if len(p.full.Inverters) == 0 {
		v = b.LoadsOff.Quantity.Base
	}
	return math.Max(v, 0.8*p.net.BankV)
}

// inverterA is the current of an inverter at its rating, at the lowest voltage [A].
func (p *plan) inverterA(i int) float64 {
	u := &p.sys.Inverters[i].Unit
	return u.DCA(u.Params().RatedW, p.lowV())
}

// loadA is what an appliance takes from the DC side at the lowest voltage [A].
func (p *plan) loadA(a *rig.Appliance) float64 {
	w, _ := system.DCWatts(a, system.Draw{}, p.net.BankV)
	most, _ := system.DCWatts(a, system.HighEnd(), p.net.BankV) // more where it is a guess, of a blower or control board as well
	return math.Max(w, most) / p.lowV()
}

// takesA is what everything takes at once, and givesA what everything gives at once, at the main bar [A].
func (p *plan) takesA() float64 {
	a := 0.0
	for i := range p.full.Inverters {
		a += p.inverterA(i)
	}
	for i := range p.full.Appliances {
		a += p.loadA(&p.full.Appliances[i])
	}
	return a
}

func (p *plan) givesA() float64 {
	a, engine, shore := 0.0, 0.0, 0.0
	for i := range p.full.Controllers {
		if p.sys.Supply.Also != i || p.sys.Supply.Unit == nil {
			a += p.full.Controllers[i].Output.Quantity.Base
		}
	}
	engine = p.dcdcA()
	if s := p.full.Shore; s != nil {
		for i := range s.Chargers {
			shore += s.Chargers[i].Output.Quantity.Base
		}
	}
	return a + math.Max(engine, shore)
}

// dcdcA is what the dc-dc unit puts out [A].
func (p *plan) dcdcA() float64 {
	if u := p.sys.Supply.Unit; u != nil {
		if q := u.Params(); q.OutputA > 0 {
			return q.OutputA
		}
		return u.MostW(p.net.BankV) / p.net.BankV
	}
	return 0
}

// bars makes the main bar, and one for the bank where several blocks meet.
func (p *plan) bars() {
	p.mainA = math.Max(p.takesA(), p.givesA())
	p.bankBar = "bank"
	if p.net.Blocks > 1 {
		p.bankBar = "bus bar bank"
		p.bar("bank", p.mainA, "the blocks meet on it, so that their leads can be equal")
	}
	for _, b := range p.w.Bars {
		if (b.Rails == "" || b.Rails == "both") && b.Name != "bank" {
			p.mainBar = b.Name
			return
		}
	}
	p.mainBar = "main"
	p.bar("main", p.mainA, "everything meets on it")
}

func (p *plan) bar(name string, lasting float64, why string) {
	for _, b := range p.w.Bars {
		if b.Name == name {
			return
		}
	}
	r := rated(barRatings, lasting)
	p.w.Bars = append(p.w.Bars, rig.Bar{Name: name, Rails: "both", Rating: amps(r)})
	p.choices = append(p.choices, Choice{
		Path: "wiring/bus bars/" + name, Part: "bus bar " + name, Chosen: fmt.Sprintf("%g A each rail", r), Final: true, Book: "common practice, no source",
		Why: fmt.Sprintf("%s; up to %.0f A at once", why, lasting),
	})
	p.refresh()
}

// raiseBars makes no proposed bar carry less than the fuse before it lets through.
func (p *plan) raiseBars(fuse float64) {
	for i := range p.choices {
		c := &p.choices[i]
		name, ok := strings.CutPrefix(c.Path, "wiring/bus bars/")
		if !ok {
			continue
		}
		for k := range p.w.Bars {
			if b := &p.w.Bars[k]; b.Name == name && b.Rating.Quantity.Base < fuse {
				r := rated(barRatings, fuse)
				b.Rating, c.Chosen = amps(r), fmt.Sprintf("%g A each rail", r)
				c.Why += fmt.Sprintf("; not below the main fuse, %g A", fuse)
			}
		}
	}
}

// blocks gives each string of blocks its leads to the bank's bar, all alike, with a fuse at each post: the first device has to be near it.
func (p *plan) blocks() {
	if p.net.Blocks < 2 || p.reached("block 1") {
		return
	}
	n := float64(p.net.Blocks)
	limit := p.full.Bank.Block.DischargeLimit.Quantity.Base
	each := p.mainA / n
	if limit > 0 {
		each = math.Min(math.Max(each, p.mainA/(n-1)), math.Max(limit, each))
	}
	for i := range p.net.Blocks {
		name := fmt.Sprintf("block %d plus", i+1)
		a := ask{name: name, from: fmt.Sprintf("block %d +", i+1), to: p.bankBar + " +", lasting: each, dropA: p.mainA / n, share: p.pathShare(leadPart), reason: "with one block out, the others share all of it"}
		d, rating, ok := p.fuse(name, fmt.Sprintf("block %d fuse", i+1), each, p.bankA*math.Max(1, n-1)/n, firstAt)
		if !ok {
			return
		}
		a.devices, a.fuse = []rig.Device{d}, rating
		if p.equal(i, &a); a.least.Valid() {
			a.reason = "all leads of the bank are alike"
		}
		if _, ok := p.run(a); !ok {
			return
		}
		lead := p.sized[len(p.sized)-1].gauge
		a.name, a.from, a.to, a.devices = fmt.Sprintf("block %d minus", i+1), fmt.Sprintf("block %d -", i+1), p.bankBar+" -", nil
		if _, ok := p.run(a); !ok {
			return
		}
		if i == p.net.Blocks-1 {
			p.bankA = p.faultWith(lead, a.fuse) // the leads take their part off a fault behind the bar
		}
	}
}

// Parts of the allowance between the blocks' posts and the inverter: leads, main run, inverter's run. Common practice, no source.
const (
	leadPart     = 0.2
	mainPart     = 0.4
	inverterPart = 0.4
)

// pathShare is a part of the 3 % that may be lost between the bank's posts and the inverter, there and back.
func (p *plan) pathShare(part float64) float64 {
	share, _, err := conductor.DropPractice(p.book, true)
	if err != nil {
		share = 0.03
	}
	if p.net.Blocks < 2 {
		part *= 1 / (1 - leadPart)
	}
	return share * part
}

// equal makes a later block's leads as long as the first one's, to be cut alike.
func (p *plan) equal(i int, a *ask) {
	if i > 0 && len(p.sized) > 0 {
		a.least = p.sized[len(p.sized)-1].gauge
	}
}

// mainRun joins bank and main bar: main fuse and disconnect in plus, shunt in minus.
func (p *plan) mainRun() {
	bar := "bus bar " + p.mainBar
	if p.reached(bar) && p.said.Wiring != nil {
		p.mainFuse = p.foundMain()
		return
	}
	fuse, rating, ok := p.fuse("main", "main fuse", p.mainA, p.bankA, firstAt)
	if !ok {
		if p.net.Blocks > 1 { // each block has its fuse; what joins the two bars is for somebody to lay out who sees them
			p.unsizable(ask{name: "main", from: p.bankBar, to: bar, devices: []rig.Device{{Name: "main switch", Kind: "disconnect"}, {Name: "shunt", Kind: "shunt", In: "minus"}}})
		}
		return
	}
	p.mainFuse = rating
	p.raiseBars(rating)
	cut := rated(switchRatings, rating)
	p.choices = append(p.choices, Choice{Path: "wiring/runs/main/devices/main switch", Part: "main switch", Chosen: fmt.Sprintf("%g A", cut), Final: true,
		Why: fmt.Sprintf("not below the main fuse, %g A", rating), Book: "common practice, no source"})
	shunt := rated(shuntRatings, 1.25*p.mainA)
	p.choices = append(p.choices, Choice{Path: "wiring/runs/main return/devices/shunt", Part: "shunt", Chosen: fmt.Sprintf("%g A", shunt), Final: true,
		Why: fmt.Sprintf("%.0f A for hours with a quarter to spare; all that draws or charges is on its far side", p.mainA), Book: "common practice, no source"})
	plus := ask{name: "main", from: p.bankBar + " +", to: bar + " +", lasting: p.mainA, share: p.pathShare(mainPart), fuse: rating, reason: "inverter at its rating and every DC load, bank nearly empty",
		devices: []rig.Device{fuse, {Name: "main switch", Kind: "disconnect", Rating: amps(cut)}}}
	minus := plus
	minus.name, minus.from, minus.to = "main return", p.bankBar+" -", bar+" -"
	minus.devices = []rig.Device{{Name: "shunt", Kind: "shunt", Rating: amps(shunt)}}
	if _, ok := p.run(plus); ok {
		p.run(minus)
		return
	}
	if !p.smallerMain(plus, minus) {
		minus.devices[0].In = "minus"
		plus.from, plus.to, plus.devices = p.bankBar, bar, append(plus.devices, minus.devices...)
		p.unsizable(plus)
	}
}

// smallerMain takes the largest fuse that the thickest cable allows, where 125 % cannot be had, and says so; false where that does not do either.
func (p *plan) smallerMain(plus, minus ask) bool {
	n := p.need(plus, conductor.Battery, p.trade(system.RunLength(&p.work, p.terminal(plus.from), p.terminal(plus.to))))
	n.Fuse = 0
	c, err := conductor.Size(n)
	if err != nil {
		return false
	}
	sizes := conductor.Gauges(p.sizes)
	n.Use.Gauge = sizes[len(sizes)-1]
	r, err := conductor.Ampacity(n.Use)
	if err != nil {
		return false
	}
	limit, err := conductor.LargestFuse(r, n.Volts)
	family, _ := conductor.FamilyNamed(plus.devices[0].Family)
	rating, ok := conductor.Last(family.Ratings, limit.Amps)
	if err != nil || !ok || rating < p.mainA {
		return false
	}
	p.problem("main: a fuse of 125 %% of %.0f A is larger than any single cable bears here; %g A on %s carries it with %.0f %% to spare", p.mainA, rating, sizes[len(sizes)-1], 100*(rating/p.mainA-1))
	p.mainFuse, plus.fuse, minus.fuse = rating, rating, rating
	plus.devices[0].Rating = amps(rating)
	plus.least, minus.least = c.Gauge, c.Gauge
	for i := range p.choices {
		if p.choices[i].Part == "main fuse" {
			p.choices[i].Chosen, p.choices[i].Final = fmt.Sprintf("%g A %s", rating, family.Name), false
		}
	}
	_, ok = p.run(plus)
	if ok {
		p.run(minus)
	}
	return ok
}

// foundMain returns the rating of a fuse that is already written between bank and main bar, zero where there is none.
func (p *plan) foundMain() float64 {
	for i := range p.net.Devices {
		d := &p.net.Devices[i]
		if d.Run < 0 || !d.Protects() || d.RatingA <= 0 {
			continue
		}
		r := &p.net.Runs[d.Run]
		if r.To == "bus bar "+p.mainBar || r.From == "bus bar "+p.mainBar {
			return d.RatingA
		}
	}
	return 0
}

// inverters joins each inverter to the main bar: behind the main fuse alone where its cable bears that, behind a fuse of its own otherwise.
func (p *plan) inverters() {
	for i := range p.full.Inverters {
		t := "inverter " + p.full.Inverters[i].Name
		if p.reached(t) {
			continue
		}
		lasting := p.inverterA(i)
		a := ask{name: t, from: "bus bar " + p.mainBar, to: t, lasting: lasting, share: p.pathShare(inverterPart),
			reason: fmt.Sprintf("%.0f W at %.1f V", p.sys.Inverters[i].Unit.Params().RatedW, p.lowV())}
		if one := len(p.full.Inverters) == 1 && p.mainFuse > 0 && p.mainFuse <= 1.6*1.25*lasting; one && p.bears(a, p.mainFuse) {
			a.fuse = p.mainFuse
			a.reason += "; the main fuse protects it too"
			if _, ok := p.run(a); !ok {
				p.unsizable(a)
			}
			continue
		}
		fault := 0.0
		if p.mainFuse == 0 {
			fault = p.bankA
		}
		d, rating, ok := p.fuse(t, t+" fuse", lasting, fault, firstAt)
		if !ok {
			continue
		}
		a.fuse, a.devices = rating, []rig.Device{d}
		if _, ok := p.run(a); !ok {
			p.unsizable(a)
		}
	}
}

// bears tells whether some single cable may stand behind a fuse in a run.
func (p *plan) bears(a ask, fuse float64) bool {
	a.fuse = fuse
	p.refresh()
	n := p.need(a, conductor.Battery, p.trade(system.RunLength(&p.work, p.terminal(a.from), p.terminal(a.to))))
	_, err := conductor.Size(n)
	return err == nil
}

// sources joins controllers, shore chargers and the dc-dc unit to the main bar, each behind a fuse at the bar.
func (p *plan) sources() {
	for i := range p.full.Controllers {
		c := &p.full.Controllers[i]
		if p.sys.Supply.Unit != nil && p.sys.Supply.Also == i {
			continue // its output is the dc-dc unit's
		}
		p.source("controller "+c.Name+" bank", "controller "+c.Name, c.Output.Quantity.Base)
	}
	if p.sys.Supply.Unit != nil {
		p.source("dc-dc out", "dc-dc output", p.dcdcA())
	}
	if s := p.full.Shore; s != nil {
		for i := range s.Chargers {
			if s.MakeUp == "yes" && len(p.full.Inverters) > 0 {
				continue // it lives in the inverter's case
			}
			p.source("charger "+s.Chargers[i].Name, "charger "+s.Chargers[i].Name, s.Chargers[i].Output.Quantity.Base)
		}
	}
	if p.sys.Supply.Relay != nil && p.full.Vehicle != nil && !p.reached("relay out") {
		p.source("relay out", "charge relay", p.relayA())
	}
}

// relayA is what a charge relay passes for hours: its rating, or what the alternators give hot where it has none [A].
func (p *plan) relayA() float64 {
	for i := range p.full.ChargeLine {
		if r := p.full.ChargeLine[i].Relay; r != nil && r.Rated.Given() {
			return r.Rated.Quantity.Base
		}
	}
	a := 0.0
	for _, alt := range p.full.Vehicle.Alternators {
		a += alt.HotCruise.Quantity.Base
	}
	return a
}

func (p *plan) source(terminal, name string, output float64) {
	if p.reached(terminal) || !(output > 0) {
		return
	}
	fault := 0.0
	if p.mainFuse == 0 {
		fault = p.bankA
	}
	d, rating, ok := p.fuse(name, name+" fuse", output, fault, firstAt)
	if !ok {
		return
	}
	share, _, _ := conductor.DropPractice(p.book, true)
	p.run(ask{name: name, from: "bus bar " + p.mainBar, to: terminal, lasting: output, share: share, fuse: rating, devices: []rig.Device{d},
		reason: fmt.Sprintf("it gives up to %.0f A; the bank feeds a fault in it, so the fuse is at the bar", output)})
}
