package design

import (
	"fmt"

	"campwright/conductor"
	"campwright/convert"
	"campwright/rig"
)

// mains joins inlet, generators and inverters to a transfer switch and that to the breaker panel, each behind a breaker, where nothing on the AC
// side is written. What hangs on the panel is for a licensed person to lay out.
func (p *plan) mains() {
	for i := range p.net.Runs {
		if p.net.Runs[i].Side == conductor.Mains && p.net.Runs[i].Path != "shore/cord" {
			return
		}
	}
	service, hasInlet := convert.Service{}, false
	if s := p.full.Shore; s != nil {
		service, hasInlet = convert.ServiceNamed(s.Inlet)
	}
	if !hasInlet && len(p.full.Inverters) == 0 {
		return
	}
	panel := "ac panel"
	if hasInlet || len(p.full.Generators) > 0 {
		panel = "transfer"
	}
	most := 0.0
	feed := func(name, from string, breaker, lasting float64) {
		if breaker > most {
			most = breaker
		}
		d := rig.Device{Name: name + " breaker", Kind: "breaker", Rating: amps(breaker), Made: "ac"}
		p.choices = append(p.choices, Choice{Path: "wiring/runs/" + name + "/devices/" + d.Name, Part: d.Name, Chosen: fmt.Sprintf("%g A", breaker), Final: true,
			Book: "[NEC] 551.43, 240.6", Why: fmt.Sprintf("%.0f A is what it may give", lasting)})
		p.run(ask{name: name, from: from, to: panel, lasting: 0.8 * breaker, share: 0.03, fuse: breaker, least: p.mainsLeast(breaker), devices: []rig.Device{d}})
	}
	ratings, _ := conductor.StandardRatings()
	if hasInlet {
		feed("inlet", "inlet", service.Amps, service.Amps)
	}
	for i := range p.full.Generators {
		g := &p.full.Generators[i]
		a := g.Power.Quantity.Base / p.mainsV()
		if g.Legs == "split" { // half of it on each of two legs, behind a breaker of two poles
			a /= 2
		}
		b, _ := conductor.Next(ratings, a)
		feed("generator "+g.Name, "generator "+g.Name, max(b, 15), a)
	}
	for i := range p.sys.Inverters {
		v := &p.sys.Inverters[i]
		a := v.Unit.Params().RatedW / p.mainsV()
		b, _ := conductor.Next(ratings, a)
		feed("inverter "+v.Name+" output", "inverter "+v.Name+" ac", max(b, 15), a)
	}
	if panel == "transfer" {
		p.run(ask{name: "ac feed", from: "transfer", to: "ac panel", lasting: 0.8 * most, share: 0.03, fuse: most, least: p.mainsLeast(most), reason: "the largest breaker before it"})
	}
	if s := p.full.Shore; s != nil && hasInlet {
		for i := range s.Chargers {
			p.chargerMains(s, i)
		}
	}
}

// chargerMains feeds a shore charger: ahead of the transfer switch where it must not run on the inverter.
func (p *plan) chargerMains(s *rig.Shore, i int) {
	c := &s.Chargers[i]
	from := "inlet"
	if c.FedBy == "any AC" {
		from = "ac panel"
	}
	unit := &p.sys.Supply.Chargers[i].Unit
	a := unit.InputVA(unit.MostW(p.sys.Supply.Chargers[i].V)) / p.mainsV()
	need, _ := conductor.SmallestFuse(a)
	ratings, _ := conductor.StandardRatings()
	b, _ := conductor.Next(ratings, need)
	b = max(b, 15)
	name := "charger " + c.Name + " input"
	d := rig.Device{Name: name + " breaker", Kind: "breaker", Rating: amps(b), Made: "ac"}
	p.choices = append(p.choices, Choice{Path: "wiring/runs/" + name + "/devices/" + d.Name, Part: d.Name, Chosen: fmt.Sprintf("%g A", b), Final: true, Book: "[NEC] 210.20(A), 240.6",
		Why: fmt.Sprintf("it takes %.1f A for hours", a)})
	p.run(ask{name: name, from: from, to: "charger " + c.Name + " ac", lasting: a, share: 0.03, fuse: b, least: p.mainsLeast(b), devices: []rig.Device{d}})
}

// mainsLeast is the thinnest copper behind a breaker on the AC side, whatever the book lets pass by table: 15 A on 14 AWG, 20 A on 12 and 30 A on
// 10, and from there the 60 C column, since breakers and terminals of a small panel are not marked for more as a rule. [NEC] 240.4(D), 110.14(C)
// and table 310.16, from memory. Metric cable goes by its own book.
func (p *plan) mainsLeast(breaker float64) conductor.Gauge {
	if p.sizes == conductor.Metric {
		return conductor.Gauge{}
	}
	for _, row := range []struct {
		amps float64
		awg  int
	}{{15, 14}, {20, 12}, {30, 10}, {40, 8}, {55, 6}, {70, 4}, {95, 2}} {
		if breaker <= row.amps {
			g, _ := conductor.OfAWG(row.awg)
			return g
		}
	}
	return conductor.Gauge{}
}
