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
		p.run(ask{name: name, from: from, to: panel, lasting: 0.8 * breaker, share: 0.03, fuse: breaker, devices: []rig.Device{d}})
	}
	ratings, _ := conductor.StandardRatings()
	if hasInlet {
		feed("inlet", "inlet", service.Amps, service.Amps)
	}
	for i := range p.full.Generators {
		g := &p.full.Generators[i]
		a := g.Power.Quantity.Base / p.mainsV()
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
		p.run(ask{name: "ac feed", from: "transfer", to: "ac panel", lasting: 0.8 * most, share: 0.03, fuse: most, reason: "the largest breaker before it"})
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
	p.run(ask{name: name, from: from, to: "charger " + c.Name + " ac", lasting: a, share: 0.03, fuse: b, devices: []rig.Device{d}})
}
