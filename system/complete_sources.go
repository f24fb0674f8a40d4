package system

import (
	"fmt"

	"campwright/catalogue"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// sources fills what vehicle, charge line, shore and generators leave out.
func (f *filler) sources(doc *rig.Rig) {
	if v := doc.Vehicle; v != nil {
		f.vehicle(v)
	}
	cells := BankCells(doc.Bank)
	for i := range doc.ChargeLine {
		f.link(&doc.ChargeLine[i], fmt.Sprintf("charge line/%d/", i+1), doc.Bank, cells)
	}
	if s := doc.Shore; s != nil {
		word(&s.Inlet, "30 A")
		word(&s.MakeUp, "no")
		for i := range s.Chargers {
			c := &s.Chargers[i]
			p := "shore/chargers/" + c.Name + "/"
			f.need(c.Output, p+"output", "the charge current", "it is printed on the charger")
			f.value(&c.Efficiency, p+"efficiency", catalogue.ChargerEfficiency)
			f.value(&c.PowerFactor, p+"power factor", catalogue.ChargerPowerFactor)
			f.setPoints(p, doc.Bank, cells, &c.Absorption, &c.Float, &c.Restart)
			word(&c.FedBy, "shore only")
		}
	}
	for i := range doc.Generators {
		g := &doc.Generators[i]
		p := "generators/" + g.Name + "/"
		f.need(g.Power, p+"power", "the lasting output", "it is printed on the generator; the larger figure is for seconds")
		word(&g.Derating, "3.5 % per 1000 ft")
		burns := catalogue.GeneratorBurnsPerW
		f.scaled(&g.Burns, p+"burns", burns, g.Power.Quantity.Base)
		if g.Quiet.Word == "" && len(g.Quiet.Spans) == 0 {
			g.Quiet = rig.Hours{Spans: []rig.Span{{From: 22 * 60, Until: 8 * 60}}, State: figure.Default}
		}
	}
}

func (f *filler) vehicle(v *rig.Vehicle) {
	for i := range v.Alternators {
		a := &v.Alternators[i]
		p := fmt.Sprintf("vehicle/alternators/%d/", i+1)
		f.need(a.Rated, p+"rated", "the alternator's rating", "it is printed on it, or in the vehicle's papers")
		idle, cruise := catalogue.HotIdleShare, catalogue.HotCruiseShare
		idle.Kind, cruise.Kind = quantity.Current, quantity.Current
		f.scaled(&a.HotIdle, p+"hot idle", idle, a.Rated.Quantity.Base)
		f.scaled(&a.HotCruise, p+"hot cruise", cruise, a.Rated.Quantity.Base)
	}
	f.value(&v.OwnLoad, "vehicle/own load", catalogue.OwnLoad)
	f.fixed(&v.IdleLoad, "vehicle/load at idle", v.OwnLoad.Quantity.Kind, v.OwnLoad.Quantity.Base, "taken as while driving")
	f.value(&v.Volts, "vehicle/volts", catalogue.VehicleVolts)
	word(&v.Regulation, "fixed")
	if v.Regulation == "variable" {
		f.value(&v.Rests, "vehicle/rests at", catalogue.RestsAt)
		f.value(&v.RestShare, "vehicle/rests for", catalogue.RestShare)
	}
}

func (f *filler) link(l *rig.Link, p string, b *rig.Bank, cells float64) {
	if l.Run != nil {
		f.value(&l.Run.Gauge, p+"run/gauge", catalogue.LineGauge)
		f.value(&l.Run.Length, p+"run/length", catalogue.LineLength)
	}
	d := l.DCDC
	if d == nil {
		return
	}
	p += "dc-dc/"
	if !d.Power.Given() {
		f.need(d.Output, p+"output", "the charge current", "it is printed on the unit")
	}
	f.value(&d.Efficiency, p+"efficiency", catalogue.DCDCEfficiency)
	if !d.Folds.Given() && !d.InputLimit.Given() {
		f.value(&d.CutsOut, p+"cuts out at", catalogue.DCDCCutsOut)
		f.value(&d.Restarts, p+"restarts at", catalogue.DCDCRestarts)
	}
	word(&d.Wake, "engine signal")
	word(&d.TwoWay, "no")
	if d.Controller != "" {
		word(&d.Shares, "unknown")
	}
	a := catalogue.LFPAbsorption
	if b != nil && b.Chemistry != "LFP" {
		a = catalogue.LeadAbsorption
	}
	f.scaled(&d.Absorption, p+"absorption", a, cells)
}
