package system

import (
	"fmt"
	"math"
	"slices"

	"campwright/battery"
	"campwright/catalogue"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Gap is a value that an answer cannot do without and that no part of the program can guess.
type Gap struct {
	Path string
	What string // what is missing, in trade words
	Hint string // where to read it
}

func (g Gap) Error() string { return fmt.Sprintf("%s: %s is not known; %s", g.Path, g.What, g.Hint) }

// Complete returns a copy of the document in which everything left out holds the value the program takes, marked as a default with its
// reason, and every estimate has ends. What is missing and cannot be guessed is returned as gaps. The document itself is not changed.
func Complete(doc rig.Rig) (rig.Rig, []Gap) {
	f := filler{}
	doc = copyRig(doc)
	f.words(&doc)
	f.value(&doc.People, "people", catalogue.People)
	for i := range doc.Modules {
		f.module(&doc.Modules[i])
	}
	f.bank(doc.Bank)
	cells := BankCells(doc.Bank)
	for i := range doc.Controllers {
		f.controller(&doc.Controllers[i], doc.Bank, cells)
	}
	for i := range doc.Arrays {
		f.array(&doc.Arrays[i], &doc)
	}
	for i := range doc.Inverters {
		f.inverter(&doc.Inverters[i])
	}
	for i := range doc.Appliances {
		f.appliance(&doc.Appliances[i], doc)
	}
	f.sources(&doc)
	f.stores(&doc)
	f.aims(&doc)
	rig.Walk(&doc, f.ends)
	return doc, f.gaps
}

// filler writes defaults into a document and collects what it could not fill.
type filler struct{ gaps []Gap }

// value fills v from what is typical when the owner left it out or does not know it.
func (f *filler) value(v *rig.Value, path string, t catalogue.Typical) {
	f.scaled(v, path, t, 1)
}

// scaled is value with the typical figure multiplied, for figures that are per cell, per amp-hour or per watt.
func (f *filler) scaled(v *rig.Value, path string, t catalogue.Typical, by float64) {
	if v.Given() {
		return
	}
	state, at := v.State, v.At
	if state == figure.Absent {
		state = figure.Default
	}
	at.Path = path
	low, high := t.Low*by, t.High*by
	base := t.Value * by
	if state == figure.Unknown {
		base = (low + high) / 2 // an unknown is drawn evenly over its span: what stands for it is the middle
	}
	*v = rig.Value{
		Quantity: quantity.Quantity{Base: base, Kind: t.Kind},
		State:    state, Low: math.Min(low, high), High: math.Max(low, high), Why: t.Why, At: at,
	}
}

// fixed fills v with a value that follows from something else and is not a guess of its own.
func (f *filler) fixed(v *rig.Value, path string, kind quantity.Kind, base float64, why string) {
	f.value(v, path, catalogue.Typical{Kind: kind, Value: base, Low: base, High: base, Why: why})
}

// need reports a gap unless the value is given.
func (f *filler) need(v rig.Value, path, what, hint string) {
	if !v.Given() {
		f.gaps = append(f.gaps, Gap{Path: path, What: what, Hint: hint})
	}
}

// known reports a gap unless there is a number, be it deduced.
func (f *filler) known(v rig.Value, path, what, hint string) {
	if v.Quantity.Base == 0 {
		f.need(v, path, what, hint)
	}
}

func (f *filler) words(doc *rig.Rig) {
	word(&doc.Book, "us-rv")
	for i := range doc.Controllers {
		word(&doc.Controllers[i].Kind, "step-down")
	}
	for i := range doc.Arrays {
		word(&doc.Arrays[i].Mounting, "raised")
		word(&doc.Arrays[i].Site, "")
	}
	if doc.Bank != nil {
		word(&doc.Bank.Bay, "inside")
	}
	for i := range doc.Inverters {
		hours(&doc.Inverters[i].On, "always")
	}
	for i := range doc.Trip {
		word(&doc.Trip[i].Site, "open")
		word(&doc.Trip[i].Hookup, "none")
	}
	if doc.Home != nil {
		word(&doc.Home.Site, "open")
		word(&doc.Home.Lived, "no")
		word(&doc.Home.Hookup, "none")
	}
}

func word(w *string, taken string) {
	if *w == "" || *w == "unknown" {
		*w = taken
	}
}

func hours(h *rig.Hours, taken string) {
	if h.Word == "" && len(h.Spans) == 0 {
		h.Word, h.State = taken, figure.Default
	}
}

func (f *filler) module(m *rig.Module) {
	p := "modules/" + m.Name + "/"
	const sheet = "it stands on the label at the back of the module and on its data sheet"
	if !f.fromPower(m, p) {
		f.need(m.Voc, p+"voc", "the open-circuit voltage", sheet)
		f.deduce(m, p)
	}
	f.known(m.Isc, p+"isc", "the short-circuit current", sheet)
	f.known(m.Vmp, p+"vmp", "the voltage at maximum power", sheet)
	f.known(m.Imp, p+"imp", "the current at maximum power", sheet)
	f.fixed(&m.Power, p+"power", quantity.Power, m.Vmp.Quantity.Base*m.Imp.Quantity.Base, "voltage times current at maximum power")
	f.value(&m.VocPerC, p+"voc per C", catalogue.VocPerC)
	f.value(&m.IscPerC, p+"isc per C", catalogue.IscPerC)
	f.value(&m.PowerPerC, p+"power per C", catalogue.PowerPerC)
	f.value(&m.NOCT, p+"noct", catalogue.NOCT)
}

// deduce fills what the rest of a data sheet tells of the figures it leaves out, and lets a guessed voltage or current at maximum power follow the
// stated power: whoever corrects 200 W to 190 W did not mean the guesses beside it to contradict them. The open-circuit voltage is not deduced, as
// too much hangs on it.
func (f *filler) deduce(m *rig.Module, p string) {
	power := 0.0
	if m.Power.State >= figure.Plain {
		power = m.Power.Quantity.Base
	}
	if !m.Vmp.Given() && m.Imp.Given() && power > 0 && m.Imp.Quantity.Base > 0 {
		f.fixed(&m.Vmp, p+"vmp", quantity.Voltage, power/m.Imp.Quantity.Base, "power over current at maximum power")
	} else if m.Voc.Given() {
		t := catalogue.VmpOfVoc
		t.Kind = quantity.Voltage
		f.scaled(&m.Vmp, p+"vmp", t, m.Voc.Quantity.Base)
	}
	if volts := m.Vmp.Quantity.Base; volts > 0 && m.Power.Given() {
		of := m.Power.Quantity.Base / volts
		f.value(&m.Imp, p+"imp", catalogue.Typical{Kind: quantity.Current, Value: of, Low: of, High: of, Why: "power over voltage at maximum power"})
	}
	if m.Imp.Known() || m.Imp.State == figure.Unknown {
		t := catalogue.IscOfImp
		t.Kind = quantity.Current
		f.scaled(&m.Isc, p+"isc", t, m.Imp.Quantity.Base)
	}
	product := m.Vmp.Quantity.Base * m.Imp.Quantity.Base
	if power <= 0 || product <= 0 || math.Abs(product/power-1) < 1e-3 {
		return
	}
	by := power / product
	switch {
	case m.Imp.State < figure.Plain:
		follow(&m.Imp, by)
		if m.Isc.State < figure.Plain {
			follow(&m.Isc, by)
		}
	case m.Vmp.State < figure.Plain:
		follow(&m.Vmp, by)
	}
}

// follow scales a guess with its ends.
func follow(v *rig.Value, by float64) {
	v.Quantity.Base, v.Low, v.High = v.Quantity.Base*by, v.Low*by, v.High*by
}

// BankCells returns how many cells of its chemistry stand in series across the bank, zero without a bank.
func BankCells(b *rig.Bank) float64 {
	if b == nil {
		return 0
	}
	cells := battery.CellsFor(chemistries[b.Chemistry], b.Block.Voltage.Quantity.Base)
	return float64(cells) * math.Max(1, math.Round(b.InSeries.Quantity.Base))
}

func (f *filler) bank(b *rig.Bank) {
	if b == nil {
		f.gaps = append(f.gaps, Gap{Path: "bank", What: "the house battery", Hint: "say its chemistry and the capacity of one block"})
		return
	}
	k := &b.Block
	lfp := b.Chemistry == "LFP"
	pick := func(ifLFP, otherwise catalogue.Typical) catalogue.Typical {
		if lfp {
			return ifLFP
		}
		return otherwise
	}
	f.fixed(&b.Blocks, "bank/blocks", quantity.Count, 1, "one block")
	f.fixed(&b.InSeries, "bank/in series", quantity.Count, 1, "not in series")
	f.value(&k.Voltage, "bank/block/voltage", pick(catalogue.LFPVoltage, catalogue.LeadVoltage))
	f.need(k.Capacity, "bank/block/capacity", "the capacity of one block", "it is printed on its case")
	if k.Capacity.Quantity.Kind == quantity.Energy && k.Voltage.Quantity.Base > 0 {
		by := 1 / k.Voltage.Quantity.Base
		k.Capacity.Quantity = quantity.Quantity{Base: k.Capacity.Quantity.Base * by, Kind: quantity.Charge}
		k.Capacity.Low, k.Capacity.High = k.Capacity.Low*by, k.Capacity.High*by
	}
	ah := math.Max(k.Capacity.Quantity.Base, 1)
	f.fixed(&k.RatedHours, "bank/block/rated over", quantity.Duration, ratedHours(lfp), "the usual rating of its chemistry")
	f.scaled(&k.Resistance, "bank/block/resistance", pick(catalogue.LFPOhmAh, catalogue.LeadOhmAh), k.Voltage.Quantity.Base/12/ah)
	f.rate(&k.ChargeLimit, "bank/block/charge limit", pick(catalogue.LFPChargeRate, catalogue.LeadChargeRate), ah)
	f.rate(&k.DischargeLimit, "bank/block/discharge limit", pick(catalogue.LFPDischargeRate, catalogue.LeadDischargeRate), ah)
	f.fixed(&k.PeakLimit, "bank/block/peak limit", quantity.Current, 2*k.DischargeLimit.Quantity.Base, "twice the lasting limit")
	f.value(&k.ColdCharge, "bank/block/charges above", pick(catalogue.LFPColdCharge, catalogue.LeadColdCharge))
	f.value(&k.HotCharge, "bank/block/charges below", catalogue.HotCharge)
	switch b.Chemistry {
	case "flooded":
		f.value(&k.Exponent, "bank/block/rate exponent", catalogue.FloodedExponent)
	case "AGM":
		f.value(&k.Exponent, "bank/block/rate exponent", catalogue.AGMExponent)
	case "gel":
		f.value(&k.Exponent, "bank/block/rate exponent", catalogue.GelExponent)
	default:
		f.fixed(&k.Exponent, "bank/block/rate exponent", quantity.Count, 1, "LFP gives its capacity at any rate used here")
	}
	f.value(&b.Health, "bank/health", catalogue.Health)
	f.value(&b.StartsAt, "bank/starts at", catalogue.StartsAt)
	switch b.Bay {
	case "outside":
		f.value(&b.BayAbove, "bank/bay above outside", catalogue.BayOutside)
	case "insulated":
		f.value(&b.BayAbove, "bank/bay above outside", catalogue.BayInsulated)
	default:
		f.value(&b.BayAbove, "bank/bay above outside", catalogue.BayInside)
	}
	f.fixed(&b.Heater, "bank/heater", quantity.Power, 0, "no heater is said to be there")
	f.value(&b.HeatsBelow, "bank/heats below", catalogue.BankHeatsBelow)
	cells := BankCells(b)
	f.scaled(&b.InverterOff, "bank/inverter off at", pick(catalogue.LFPInverterOff, catalogue.LeadInverterOff), cells)
	f.fixed(&b.LoadsOff, "bank/loads off at", quantity.Voltage, 0, "no load cut-off is said to be there: the battery's own electronics are what ends it")
	f.scaled(&b.OpensAt, "bank/opens at", pick(catalogue.LFPOpensAt, catalogue.LeadOpensAt), cells)
}

// rate fills a current from a typical rate in capacity per hour.
func (f *filler) rate(v *rig.Value, path string, t catalogue.Typical, ah float64) {
	t.Kind = quantity.Current
	f.scaled(v, path, t, ah)
}

func ratedHours(lfp bool) float64 {
	if lfp {
		return 5
	}
	return 20
}

func (f *filler) controller(c *rig.Controller, b *rig.Bank, cells float64) {
	p := "controllers/" + c.Name + "/"
	if c.Kind == "direct" {
		f.value(&c.Efficiency, p+"efficiency", catalogue.DirectEfficiency)
	} else {
		f.value(&c.Efficiency, p+"efficiency", catalogue.ControllerEfficiency)
	}
	f.value(&c.OwnUse, p+"own use", catalogue.ControllerOwnUse)
	f.value(&c.Starts, p+"starts at", catalogue.ControllerStarts)
	f.value(&c.Headroom, p+"headroom", catalogue.ControllerHeadroom)
	f.need(c.Output, p+"output", "the limit of charge current", "it is usually part of what is printed on the controller")
	if !c.Survives.Given() {
		f.gaps = append(f.gaps, Gap{Path: p + "survives", What: "the array voltage that destroys it above", Hint: "it is usually part of what is printed on the controller"})
	}
	f.fixed(&c.Tracks, p+"tracks up to", quantity.Voltage, c.Survives.Quantity.Base, "taken as the voltage it survives")
	f.setPoints(p, b, cells, &c.Absorption, &c.Float, &c.Restart)
	if b == nil || b.Chemistry == "LFP" {
		f.value(&c.AbsorbFor, p+"absorbs for", catalogue.LFPAbsorbFor)
		f.fixed(&c.PerC, p+"compensation", quantity.VoltagePerDegree, 0, "LFP takes no temperature compensation")
		return
	}
	f.value(&c.AbsorbFor, p+"absorbs for", catalogue.LeadAbsorbFor)
	f.scaled(&c.PerC, p+"compensation", catalogue.LeadCompensation, cells)
}

// setPoints fills the voltages of a charger from the bank's chemistry and cells.
func (f *filler) setPoints(p string, b *rig.Bank, cells float64, absorption, float, restart *rig.Value) {
	a, fl, re := catalogue.LFPAbsorption, catalogue.LFPFloat, catalogue.LFPRestart
	if b != nil && b.Chemistry != "LFP" {
		a, fl, re = catalogue.LeadAbsorption, catalogue.LeadFloat, catalogue.LeadRestart
	}
	f.scaled(absorption, p+"absorption", a, cells)
	f.scaled(float, p+"float", fl, cells)
	f.scaled(restart, p+"restarts at", re, cells)
}

func (f *filler) array(a *rig.Array, doc *rig.Rig) {
	p := "arrays/" + a.Name + "/"
	f.fixed(&a.InSeries, p+"in series", quantity.Count, 1, "one module in a string")
	f.fixed(&a.Strings, p+"strings", quantity.Count, 1, "one string")
	lies, shade, gauge, length := "flat on the roof", catalogue.RoofShade, catalogue.RunGauge, catalogue.RunLength
	if a.Mounting == "portable" { // the same figures, of an array that is on no roof
		lies, shade.Why, gauge.Why, length.Why = "flat on the ground", "it is set out where nothing is said to shade it", "10 AWG is the usual cable of an array", "from the array to the controller"
	}
	f.fixed(&a.Tilt, p+"tilt", quantity.Angle, 0, lies)
	f.value(&a.Soiling, p+"soiling", catalogue.Soiling)
	f.value(&a.Mismatch, p+"mismatch", catalogue.Mismatch)
	f.value(&a.Shade, p+"shade", shade)
	if a.Run == nil {
		a.Run = &rig.Run{}
	}
	fromWiring(doc, a)
	f.value(&a.Run.Gauge, p+"run/gauge", gauge)
	f.value(&a.Run.Length, p+"run/length", length)
}

func (f *filler) inverter(v *rig.Inverter) {
	p := "inverters/" + v.Name + "/"
	f.need(v.Power, p+"power", "the lasting output", "it is printed on the inverter")
	watts := v.Power.Quantity.Base
	idle := catalogue.InverterIdleShare
	idle.Kind = quantity.Power
	f.scaled(&v.Idle, p+"idle", idle, watts)
	f.value(&v.Efficiency, p+"efficiency", catalogue.InverterEfficiency)
	surge := catalogue.InverterSurge
	surge.Kind = quantity.Power
	f.scaled(&v.Surge, p+"surge", surge, watts)
	f.fixed(&v.Search, p+"search", quantity.Power, 0, "no search mode is said to be there")
}

func (f *filler) stores(doc *rig.Rig) {
	if doc.Stores == nil {
		doc.Stores = &rig.Stores{}
	}
	s := doc.Stores
	f.fixed(&s.PropaneAt, "stores/propane starts at", quantity.Share, 1, "full cylinders")
	f.value(&s.WaterUse, "stores/water per person", catalogue.WaterUse)
	f.value(&s.GreyShare, "stores/grey share", catalogue.GreyShare)
	f.value(&s.BlackUse, "stores/black per person", catalogue.BlackUse)
}

func (f *filler) aims(doc *rig.Rig) {
	if doc.Aims == nil {
		doc.Aims = &rig.Aims{}
	}
	floor := catalogue.LFPFloor
	if doc.Bank != nil && doc.Bank.Chemistry != "LFP" {
		floor = catalogue.LeadFloor
	}
	f.value(&doc.Aims.Floor, "aims/floor", floor)
	if doc.Aims.Dark.State == figure.Absent {
		doc.Aims.Dark.Of, doc.Aims.Dark.State = 0.01, figure.Default
	}
}

// copyRig copies the document deep enough that filling the copy leaves the original alone.
func copyRig(doc rig.Rig) rig.Rig {
	doc.Modules = slices.Clone(doc.Modules)
	doc.Controllers = slices.Clone(doc.Controllers)
	doc.Arrays = slices.Clone(doc.Arrays)
	for i := range doc.Arrays {
		doc.Arrays[i].Run = clone(doc.Arrays[i].Run)
	}
	doc.Bank = clone(doc.Bank)
	doc.Inverters = slices.Clone(doc.Inverters)
	if doc.Vehicle = clone(doc.Vehicle); doc.Vehicle != nil {
		doc.Vehicle.Alternators = slices.Clone(doc.Vehicle.Alternators)
	}
	doc.ChargeLine = slices.Clone(doc.ChargeLine)
	for i := range doc.ChargeLine {
		l := &doc.ChargeLine[i]
		l.Run, l.DCDC, l.Relay = clone(l.Run), clone(l.DCDC), clone(l.Relay)
	}
	if doc.Shore = clone(doc.Shore); doc.Shore != nil {
		doc.Shore.Chargers = slices.Clone(doc.Shore.Chargers)
		doc.Shore.Cord = clone(doc.Shore.Cord)
	}
	doc.Generators = slices.Clone(doc.Generators)
	doc.Appliances = slices.Clone(doc.Appliances)
	doc.Stores = clone(doc.Stores)
	doc.Home = clone(doc.Home)
	doc.Trip = slices.Clone(doc.Trip)
	doc.Aims = clone(doc.Aims)
	doc.Wiring = doc.Wiring.Clone()
	return doc
}

func clone[T any](p *T) *T {
	if p == nil {
		return nil
	}
	c := *p
	return &c
}
