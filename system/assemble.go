package system

import (
	"errors"
	"fmt"
	"math"

	"campwright/battery"
	"campwright/catalogue"
	"campwright/convert"
	"campwright/figure"
	"campwright/pv"
	"campwright/quantity"
	"campwright/rig"
)

// Kit is a completed document with its modules fitted: what all draws of its guesses share. It is safe to use from any goroutine.
type Kit struct {
	doc    *rig.Rig
	sheets map[string]sheet
	homes  []homeRun  // of each array
	line   []rig.Link // the charge line
}

// NewKit fits the modules of a completed document, which must not change while the kit is in use. Every fault is reported, joined into one
// error.
func NewKit(doc *rig.Rig) (*Kit, error) {
	k := &Kit{doc: doc, sheets: map[string]sheet{}, line: ChargeLinks(doc)}
	var faults []error
	for i := range doc.Modules {
		m := &doc.Modules[i]
		s, err := fit(m)
		if err != nil {
			faults = append(faults, fmt.Errorf("module %q: %w", m.Name, err))
			continue
		}
		k.sheets[m.Name] = s
	}
	for i := range doc.Arrays {
		k.homes = append(k.homes, homeRunOf(doc, &doc.Arrays[i]))
	}
	return k, errors.Join(faults...)
}

// Assemble makes the system of one draw of the guesses. Steps of the civil day are stepMin minutes long, 1 to 60 and a divisor of a day.
// Every fault is reported, joined into one error.
func (k *Kit) Assemble(d Draw, stepMin int) (*System, error) {
	if stepMin < 1 || stepMin > 60 || 1440%stepMin != 0 {
		return nil, fmt.Errorf("step of %d minutes does not divide a day; take one of 1 to 60 that does", stepMin)
	}
	a := assembler{doc: k.doc, kit: k, d: d, stepMin: stepMin, sys: &System{Name: k.doc.Name}}
	a.bank()
	a.controllers()
	a.arrays()
	a.inverters()
	a.supply()
	a.appliances()
	a.stores()
	a.sys.People = d.Of(k.doc.People)
	a.sys.Floor = d.Of(k.doc.Aims.Floor)
	a.sys.DarkAim = k.doc.Aims.Dark.Of
	if err := errors.Join(a.faults...); err != nil {
		return nil, err
	}
	return a.sys, nil
}

// Assemble makes the system of a completed document for one draw of its guesses: NewKit and its Assemble in one.
func Assemble(doc *rig.Rig, d Draw, stepMin int) (*System, error) {
	k, err := NewKit(doc)
	if err != nil {
		return nil, err
	}
	return k.Assemble(d, stepMin)
}

// assembler builds one system and collects what is wrong with its parts.
type assembler struct {
	doc     *rig.Rig
	kit     *Kit
	d       Draw
	stepMin int
	sys     *System
	faults  []error
}

func (a *assembler) fail(err error) {
	if err != nil {
		a.faults = append(a.faults, err)
	}
}

// of is the number that stands for a value in this draw.
func (a *assembler) of(v rig.Value) float64 { return a.d.Of(v) }

// watts returns a power, or a current at the bank's nominal voltage, in watts.
func (a *assembler) watts(v rig.Value) float64 {
	if v.Quantity.Kind == quantity.Current {
		return a.of(v) * a.nominalV()
	}
	return a.of(v)
}

func (a *assembler) nominalV() float64 {
	b := a.doc.Bank
	if b == nil {
		return 12.8
	}
	return b.Block.Voltage.Quantity.Base * math.Max(1, b.InSeries.Quantity.Base)
}

var chemistries = map[string]battery.Chemistry{"LFP": battery.LFP, "flooded": battery.Flooded, "AGM": battery.AGM, "gel": battery.Gel}

// kgPerKWhOfBank is the weight of a bank whose blocks' weight is not given, for the time it takes to follow the air.
var kgPerKWhOfBank = map[battery.Chemistry]float64{battery.LFP: 8.5, battery.Flooded: 28, battery.AGM: 28, battery.Gel: 28}

func (a *assembler) bank() {
	b := a.doc.Bank
	if b == nil {
		a.fail(errors.New("bank: there is none"))
		return
	}
	k := b.Block
	kind := chemistries[b.Chemistry]
	ah := a.of(k.Capacity)
	if !(ah > 0) {
		a.fail(errors.New("bank: the capacity of a block is not known"))
		return
	}
	p := battery.Typical(kind, a.of(k.Voltage), ah)
	typicalOhm, typicalCell := p.ResistanceOhm, p.CellOhm
	p.Series, p.Parallel = int(math.Round(a.of(b.InSeries))), int(math.Round(a.of(b.Blocks)))
	p.RatedHours, p.Health = a.of(k.RatedHours), a.of(b.Health)
	p.ResistanceOhm = a.of(k.Resistance)
	p.CellOhm = math.Min(p.ResistanceOhm, p.ResistanceOhm*typicalCell/typicalOhm) // a rounding must not lift the cells above the block
	p.ChargeLimitA, p.DischargeLimitA = a.of(k.ChargeLimit), a.of(k.DischargeLimit)
	p.ChargeAboveC, p.ChargeBelowC = a.of(k.ColdCharge), a.of(k.HotCharge)
	p.RateExponent = a.of(k.Exponent)
	model, err := battery.New(p)
	if err != nil {
		a.fail(fmt.Errorf("bank: %w", err))
		return
	}
	out := Bank{
		Model: model, CapacityAh: model.CapacityAh(), StartSoC: a.of(b.StartsAt),
		InverterOffV: a.of(b.InverterOff), LoadsOffV: a.of(b.LoadsOff), OpensV: a.of(b.OpensAt),
		Acid: kind != battery.LFP, Inside: b.Bay == "inside", RoomC: a.furnaceC(), AboveC: a.of(b.BayAbove), HeaterW: a.of(b.Heater), HeatsBelowC: a.of(b.HeatsBelow), ColdChargeC: p.ChargeAboveC,
	}
	kg := a.of(k.Weight) * a.of(b.Blocks) * a.of(b.InSeries)
	if !(kg > 0) {
		kg = kgPerKWhOfBank[kind] * model.CapacityAh() * model.NominalV() / 1000
	}
	out.LagH, out.LossWK = catalogue.BankLagHours(kg, b.Bay), catalogue.BankLossWK(kg, b.Bay)
	a.sys.Bank = out
}

var controllerKinds = map[string]convert.Kind{"step-down": convert.StepDown, "step-up": convert.StepUp, "both": convert.StepBoth, "direct": convert.Direct}

func (a *assembler) controllers() {
	for i := range a.doc.Controllers {
		c := &a.doc.Controllers[i]
		p := convert.ControllerParams{
			Name: c.Name, Kind: controllerKinds[c.Kind], SurvivesV: c.Survives.Quantity.Base, TracksV: c.Tracks.Quantity.Base,
			StartV: a.of(c.Starts), HeadroomV: a.of(c.Headroom), OutputA: a.of(c.Output), PowerW: a.of(c.Power), InputIscA: c.InputIsc.Quantity.Base,
			BankV: a.nominalV(), Peak: a.of(c.Efficiency), Curve: convert.TypicalCurve(), OwnUseW: a.watts(c.OwnUse),
		}
		p.StartV = math.Max(p.StartV, p.HeadroomV)
		unit, err := convert.NewController(p)
		a.fail(err)
		set, err := convert.NewSetpoints(convert.SetpointsParams{
			Name: c.Name, AbsorptionV: a.of(c.Absorption), AbsorbForH: a.of(c.AbsorbFor), FloatV: a.of(c.Float),
			RestartV: math.Min(a.of(c.Restart), a.of(c.Float)-0.01), PerCV: a.of(c.PerC), BandV: 0.02 * a.nominalV() / 12,
		})
		a.fail(err)
		a.sys.Controllers = append(a.sys.Controllers, Controller{Name: c.Name, Unit: unit, Set: set})
	}
}

var mountings = map[string]pv.Mounting{"raised": pv.Raised, "close": pv.Close, "bonded": pv.Bonded, "portable": pv.Raised}

func (a *assembler) arrays() {
	for i := range a.doc.Arrays {
		r := &a.doc.Arrays[i]
		module, known := a.kit.sheets[r.Module]
		if !known {
			a.fail(fmt.Errorf("array %q: there is no module %q", r.Name, r.Module))
			continue
		}
		cell, _, err := mountings[r.Mounting].Model()
		a.fail(err)
		out := Array{
			Name: r.Name, Controller: -1, Unit: module.unit, Table: module.table, Series: math.Round(a.of(r.InSeries)), Strings: math.Round(a.of(r.Strings)),
			Sky: r.Site, Tilt: a.of(r.Tilt), Faces: math.NaN(), OnRig: math.NaN(), Cell: cell, Clean: 1 - a.of(r.Soiling), Keeps: (1 - a.of(r.Mismatch)) * a.scale(module),
			Beam: 1 - a.of(r.Shade), OpenRatio: module.openRatio,
		}
		if r.Faces.Known() {
			out.Faces = a.of(r.Faces)
		}
		if r.FacesOnRig.Known() {
			out.OnRig = a.of(r.FacesOnRig)
		}
		out.LoopOhm = a.loopOhm(a.kit.homes[i], gaugeOf(r.Run.Gauge).LoopOhms(a.of(r.Run.Length), roofCableC))
		out.RatedW = module.ratedW * out.Series * out.Strings
		for k := range a.doc.Controllers {
			if a.doc.Controllers[k].Name == r.Controller {
				out.Controller = k
			}
		}
		if out.Controller < 0 {
			a.fail(fmt.Errorf("array %q: there is no controller %q", r.Name, r.Controller))
			continue
		}
		a.sys.Arrays = append(a.sys.Arrays, out)
	}
}

// sheet is a kind of module, fitted.
type sheet struct {
	unit      pv.Module
	table     *pv.PowerTable
	openRatio float64
	ratedW    float64
	power     rig.Value
}

// fit makes the module of a sheet.
func fit(m *rig.Module) (sheet, error) {
	fitted, err := pv.Fit(pv.Datasheet{
		VocV: m.Voc.Quantity.Base, IscA: m.Isc.Quantity.Base, VmpV: m.Vmp.Quantity.Base, ImpA: m.Imp.Quantity.Base,
		PowerW: firm(m.Power), Beta: perKelvin(m.VocPerC, m.Voc), Alpha: perKelvin(m.IscPerC, m.Isc), Cells: int(given(m.Cells)),
	})
	if err != nil {
		return sheet{}, err
	}
	return sheet{unit: fitted.Module, table: fitted.Module.Table(), openRatio: m.Voc.Quantity.Base / m.Vmp.Quantity.Base, ratedW: m.Power.Quantity.Base, power: m.Power}, nil
}

// scale returns this draw's power of a module over the nominal, for a sheet whose power the owner is not sure of.
func (a *assembler) scale(s sheet) float64 {
	if IsGuess(s.power) && s.power.State != figure.Default {
		return a.of(s.power) / s.power.Quantity.Base
	}
	return 1
}

// given returns a value that the owner gave, or zero.
func given(v rig.Value) float64 {
	if v.Given() {
		return v.Quantity.Base
	}
	return 0
}

// firm returns a value that the owner stated or measured, or zero.
func firm(v rig.Value) float64 {
	if v.State < figure.Plain {
		return 0
	}
	return v.Quantity.Base
}

// perKelvin returns a coefficient relative to its value, whichever way the sheet wrote it.
func perKelvin(c, of rig.Value) float64 {
	if c.Quantity.Kind == quantity.PerDegree {
		return c.Quantity.Base
	}
	return c.Quantity.Base / of.Quantity.Base
}

// mostIdleW is the largest idle draw the inverter's model takes [W].
const mostIdleW = 1000

func (a *assembler) inverters() {
	for i := range a.doc.Inverters {
		v := &a.doc.Inverters[i]
		rated := a.of(v.Power)
		p := convert.InverterParams{
			Name: v.Name, RatedW: rated, SurgeW: math.Max(a.of(v.Surge), rated), IdleW: math.Min(a.watts(v.Idle), mostIdleW), SearchW: a.of(v.Search), Peak: a.of(v.Efficiency),
		}
		if most := 0.8 * rated * (1/p.Peak - 1); p.IdleW > most {
			p.Peak = rated / (rated + p.IdleW/0.8) // a large idle draw and a high peak contradict each other: the draw was said first
		}
		p.SearchW = math.Min(p.SearchW, p.IdleW)
		unit, err := convert.NewInverter(p)
		a.fail(err)
		a.sys.Inverters = append(a.sys.Inverters, Inverter{Name: v.Name, Unit: unit, On: clockOf(v.On), Used: v.On.Word == "when used",
			Parked: v.On.Word == "always" && v.On.State >= figure.Plain})
	}
}

// clockOf returns whether hours hold at a minute of the civil day.
func clockOf(h rig.Hours) func(minute int) bool {
	if h.Word == "never" {
		return func(int) bool { return false }
	}
	spans := spansOf(h)
	return func(minute int) bool {
		for _, s := range spans {
			if s.From <= s.Until && minute >= s.From && minute < s.Until || s.From > s.Until && (minute >= s.From || minute < s.Until) {
				return true
			}
		}
		return false
	}
}

// spansOf returns hours as spans of minutes.
func spansOf(h rig.Hours) []rig.Span {
	if len(h.Spans) > 0 {
		return h.Spans
	}
	switch h.Word {
	case "night":
		return []rig.Span{{From: 20 * 60, Until: 7 * 60}}
	case "day":
		return []rig.Span{{From: 7 * 60, Until: 20 * 60}}
	case "never":
		return nil
	}
	return []rig.Span{{From: 0, Until: 1440}}
}
