package system

import (
	"fmt"
	"math"

	"campwright/catalogue"
	"campwright/convert"
	"campwright/quantity"
	"campwright/rig"
)

// Supply is what feeds the rig besides its arrays. Parts that are not there are nil or empty.
type Supply struct {
	Vehicle *convert.Vehicle
	LineOhm float64 // the charge line, there and back
	Unit    *convert.DCDC
	Relay   *convert.Relay
	UnitV   float64         // charging voltage of the unit
	Also    int             // index of the controller in the unit's case, or -1
	Sharing convert.Sharing // how such a unit divides its output

	Inlet     convert.Service
	HasInlet  bool
	LimitA    float64 // shore limit [A]; zero for the service's own
	MakeUp    bool    // the battery makes up what loads ask above the limit
	Chargers  []Charger
	Plugged   convert.Setpoints // of the charger with the highest charging voltage, for all of them; of no use without chargers
	Generator *convert.Generator
	FuelL     float64               // aboard for it; zero when not said
	Quiet     func(minute int) bool // when it must not run
}

// Charger is one shore charger with its settings.
type Charger struct {
	Name string
	Unit convert.Charger
	V    float64 // charging voltage
}

// SharePath is the path under which the sharing rule of a combined unit is drawn when its owner does not know it.
const SharePath = "charge line/dc-dc/shares by"

// MostChargeW returns what all chargers together put into a bank at busV [W].
func (s *Supply) MostChargeW(busV float64) float64 {
	w := 0.0
	for i := range s.Chargers {
		w += s.Chargers[i].Unit.MostW(busV)
	}
	return w
}

// ChargeVA returns what all chargers together take from AC at full output [VA].
func (s *Supply) ChargeVA(busV float64) float64 {
	va := 0.0
	for i := range s.Chargers {
		c := &s.Chargers[i].Unit
		va += c.InputVA(c.MostW(busV))
	}
	return va
}

// Charge returns what the chargers put into a bank at busV [W] when AC gives them mostVA together, and what they take [W]. They share it in
// proportion to what they would like.
func (s *Supply) Charge(busV, mostVA float64) (busW, acW float64) {
	want := s.ChargeVA(busV)
	if want <= 0 || mostVA <= 0 {
		return 0, 0
	}
	part := math.Min(1, mostVA/want)
	for i := range s.Chargers {
		c := &s.Chargers[i].Unit
		out := c.Give(convert.ChargerAsk{BusV: busV, WantW: c.MostW(busV), MostVA: part * c.InputVA(c.MostW(busV))})
		busW += out.BusW
		acW += out.ACW
	}
	return busW, acW
}

// EngineW returns what the vehicle puts into a bank at busV [W] with its engine as stated, and what the starter battery loses by it [A].
func (s *Supply) EngineW(e convert.Engine, busV float64) (busW, shortA float64) {
	switch {
	case s.Vehicle == nil || e == convert.EngineOff:
		return 0, 0
	case s.Unit != nil:
		c := s.Vehicle.Charge(s.Unit, convert.EngineCharge{Engine: e, LoopOhm: s.LineOhm, BusV: busV, AskW: convert.Unlimited})
		return c.OutputW, c.ShortA
	case s.Relay != nil:
		for _, p := range s.Vehicle.Phases() {
			f := s.Relay.Flow(convert.Tie{VehicleV: p.Volts, BankV: busV, SpareA: s.Vehicle.SpareA(e)})
			busW += p.Share * math.Max(0, f.BankW)
		}
	}
	return busW, 0
}

// supply makes the sources of a document.
func (a *assembler) supply() {
	s := Supply{Also: -1}
	if v := a.doc.Vehicle; v != nil {
		s.Vehicle = a.vehicle(v)
	}
	for i := range a.kit.line {
		a.link(&s, &a.kit.line[i])
	}
	if i := UnitAt(a.doc); i >= 0 {
		a.dcdc(&s, a.doc.ChargeLine[i].DCDC)
	}
	if shore := a.doc.Shore; shore != nil {
		s.Inlet, s.HasInlet = convert.ServiceNamed(shore.Inlet)
		s.LimitA, s.MakeUp = given(shore.Limit), shore.MakeUp == "yes"
		for i := range shore.Chargers {
			c := &shore.Chargers[i]
			unit, err := convert.NewCharger(convert.ChargerParams{
				Name: c.Name, OutputA: a.of(c.Output), BankV: a.nominalV(), Peak: a.of(c.Efficiency), Curve: convert.TypicalCurve(), PowerFactor: a.of(c.PowerFactor),
			})
			a.fail(err)
			s.Chargers = append(s.Chargers, Charger{Name: c.Name, Unit: unit, V: a.of(c.Absorption)})
			if highest := s.Plugged.Params().AbsorptionV; a.of(c.Absorption) > highest {
				s.Plugged = a.plugged(c)
			}
		}
	}
	if len(a.doc.Generators) > 0 {
		g := &a.doc.Generators[0]
		rule, _ := convert.ParseDerating(g.Derating)
		unit, err := convert.NewGenerator(convert.GeneratorParams{Name: g.Name, RatedW: a.of(g.Power), Derating: rule, HalfLph: a.of(g.Burns)})
		a.fail(err)
		s.Generator, s.Quiet = &unit, clockOf(g.Quiet)
		if g.Fuel.Quantity.Kind == quantity.Volume {
			s.FuelL = a.of(g.Fuel)
		}
	}
	a.sys.Supply = s
}

// plugged returns the set-points of a charger on AC. How long it absorbs no label says: the usual time of the chemistry.
func (a *assembler) plugged(c *rig.Charger) convert.Setpoints {
	hours := catalogue.LFPAbsorbFor.Value
	if b := a.doc.Bank; b != nil && b.Chemistry != "LFP" {
		hours = catalogue.LeadAbsorbFor.Value
	}
	absorption := a.of(c.Absorption)
	float := math.Min(a.of(c.Float), absorption)
	set, err := convert.NewSetpoints(convert.SetpointsParams{
		Name: c.Name, AbsorptionV: absorption, AbsorbForH: hours, FloatV: float, RestartV: math.Min(a.of(c.Restart), float-0.01), PerCV: given(c.PerC),
		BandV: 0.02 * a.nominalV() / 12,
	})
	a.fail(err)
	return set
}

func (a *assembler) vehicle(v *rig.Vehicle) *convert.Vehicle {
	p := convert.VehicleParams{CruiseLoadA: a.vehicleAmps(v.OwnLoad, v), IdleLoadA: a.vehicleAmps(v.IdleLoad, v), Volts: a.of(v.Volts)}
	for _, alt := range v.Alternators {
		cruise := a.of(alt.HotCruise)
		p.Alternators = append(p.Alternators, convert.Alternator{RatedA: a.of(alt.Rated), HotIdleA: math.Min(a.of(alt.HotIdle), cruise), HotCruiseA: cruise})
	}
	if v.Regulation == "variable" {
		p.RestsV, p.RestShare = math.Min(a.of(v.Rests), p.Volts), a.of(v.RestShare)
	}
	unit, err := convert.NewVehicle(p)
	a.fail(err)
	return &unit
}

// vehicleAmps returns a load of the vehicle in amps at its own voltage.
func (a *assembler) vehicleAmps(load rig.Value, v *rig.Vehicle) float64 {
	if load.Quantity.Kind == quantity.Power {
		return a.of(load) / a.of(v.Volts)
	}
	return a.of(load)
}

// link adds one piece of the charge line.
func (a *assembler) link(s *Supply, l *rig.Link) {
	switch {
	case l.Ohms.Given():
		s.LineOhm += a.of(l.Ohms)
	case l.Run != nil:
		s.LineOhm += gaugeOf(l.Run.Gauge).LoopOhms(a.of(l.Run.Length), lineC)
	case l.Fuse.State != 0:
		s.LineOhm += catalogue.FuseOhm
	case l.Plug.State != 0:
		s.LineOhm += catalogue.PlugOhm
	case l.Relay != nil:
		relay, err := convert.NewRelay(convert.RelayParams{LoopOhm: s.LineOhm + relayOhm, RatedA: given(l.Relay.Rated)})
		a.fail(err)
		s.Relay = &relay
	}
}

// Temperature of a charge line at work, for energy [°C], and what relay contacts and the bank behind them add to its resistance [Ω]. Common
// practice, no source.
const (
	lineC    = 40
	relayOhm = 0.005
)

func (a *assembler) dcdc(s *Supply, d *rig.DCDC) {
	p := convert.DCDCParams{
		OutputA: a.of(d.Output), OutputW: a.of(d.Power), BankV: a.nominalV(), Peak: a.of(d.Efficiency), Curve: convert.TypicalCurve(),
		InputLimitA: a.of(d.InputLimit), FoldsV: a.of(d.Folds), CutsOutV: a.of(d.CutsOut), RestartV: a.of(d.Restarts),
	}
	if p.CutsOutV > 0 {
		p.RampS, p.CutDelayS, p.OffS = catalogue.CutRampS, catalogue.CutDelayS, catalogue.CutOffS
		p.RestartV = math.Max(p.RestartV, p.CutsOutV)
	}
	if wake, known := convert.ParseWake(d.Wake); known {
		p.Wakes = wake
	}
	unit, err := convert.NewDCDC(p)
	if err != nil {
		a.fail(fmt.Errorf("charge line: %w", err))
		return
	}
	s.Unit, s.UnitV = &unit, a.of(d.Absorption)
	for k := range a.doc.Controllers {
		if a.doc.Controllers[k].Name == d.Controller && d.Controller != "" {
			s.Also = k
		}
	}
	if s.Also >= 0 {
		s.Sharing, _ = convert.ParseSharing(d.Shares)
		if s.Sharing == convert.SharingUnknown {
			s.Sharing = a.drawnSharing()
		}
	}
}

// drawnSharing is what stands for a sharing rule that is not known: each of the known ones in a third of the members, solar first otherwise.
func (a *assembler) drawnSharing() convert.Sharing {
	known := convert.KnownSharings()
	if share, drawn := a.d.shares[SharePath]; drawn {
		return known[min(int(share*float64(len(known))), len(known)-1)]
	}
	return convert.SharingSolar
}
