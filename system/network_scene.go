package system

import (
	"fmt"
	"math"

	"campwright/circuit"
	"campwright/convert"
	"campwright/pv"
	"campwright/rig"
)

// takers adds inverters and loads.
func (sc *scene) takers(s State) {
	n := sc.n
	for i := range n.Sys.Inverters {
		v := &n.Sys.Inverters[i]
		t := rig.Terminal{Part: "inverter", Name: v.Name, Port: "dc"}.String()
		plus, minus := n.index[t+" +"], n.index[t+" -"]
		if s.ACW <= 0 || !sc.fed(plus, minus) {
			continue
		}
		share := v.Unit.Params().RatedW / n.ratedACW()
		sc.add(circuit.Element{Name: t, Kind: circuit.PowerLoad, Watts: v.Unit.DCW(s.ACW * share)}, plus, minus)
	}
	for i := range n.Loads {
		l := &n.Loads[i]
		if s.probe == i+1 {
			sc.add(circuit.Element{Name: loadName(i, l.Name), Kind: circuit.CurrentLoad, Amps: 1}, l.Plus, l.Minus)
		}
		w := [...]float64{LoadsNone: 0, LoadsFull: l.FullW, LoadsParked: l.ParkedW}[s.Loads]
		if w > 0 && !s.off[i] && sc.fed(l.Plus, l.Minus) {
			sc.add(circuit.Element{Name: loadName(i, l.Name), Kind: circuit.PowerLoad, Watts: w}, l.Plus, l.Minus)
		}
	}
}

// sun adds arrays as their curves, controllers that hold them at their best point, and what comes of it on the bank's side.
func (sc *scene) sun(s State, out *Solved) {
	if s.Sun == SunNone {
		return
	}
	n := sc.n
	air := float64(coldNoonC)
	if s.Sun == SunHot {
		air = hotNoonC
	}
	for c := range n.Sys.Controllers {
		unit := &n.Sys.Controllers[c]
		l := n.linkOf(linkController, c)
		var curves, far []pv.Curve
		for i := range n.Sys.Arrays {
			a := &n.Sys.Arrays[i]
			t := rig.Terminal{Part: "array", Name: a.Name}.String()
			plus, ok := n.index[t+" +"]
			if a.Controller != c || !ok || sc.group[plus] != sc.group[l.from] {
				continue
			}
			curve := a.Unit.At(fullSun, a.HotCell(air)).Scale(a.Series, a.Strings)
			curves, far = append(curves, curve), append(far, curve.WithRun(a.LoopOhm))
			sc.add(circuit.Element{Name: t, Kind: circuit.Photovoltaic, Diode: circuit.Diode{LightAmps: curve.IL, SaturationAmps: curve.I0, IdealityVolts: curve.A, SeriesOhms: curve.Rs, ShuntOhms: curve.Rsh}}, plus, n.index[t+" -"])
		}
		if len(curves) == 0 {
			continue
		}
		sc.controller(s, unit, l, far, out)
	}
}

// controller holds the arrays of one controller at their best and puts what they give into the bank.
func (sc *scene) controller(s State, unit *Controller, l link, far []pv.Curve, out *Solved) {
	busV, _ := sc.n.blockSource(s)
	best := bestOf(far)
	open := 0.0
	for _, c := range far {
		open = math.Max(open, c.Voc())
	}
	give := unit.Unit.Deliver(convert.Input{MPPW: best.P, MPPV: best.V, OpenV: open, BusV: busV, Ran: true})
	if !give.Running {
		out.Notes = append(out.Notes, fmt.Sprintf("controller %s does not run: %s", unit.Name, give.Cause))
		return
	}
	low, high := unit.Unit.Window(busV)
	name := "controller " + unit.Name
	sc.add(circuit.Element{Name: name + " pv", Kind: circuit.EMF, Volts: math.Min(math.Max(best.V, low), high)}, l.from, l.fromMinus)
	if supply := &sc.n.Sys.Supply; supply.Also >= 0 && sc.n.Sys.Controllers[supply.Also].Name == unit.Name {
		sc.solarA = give.BusW / busV
	}
	if sc.fed(l.to, l.toMinus) {
		sc.add(circuit.Element{Name: name + " bank", Kind: circuit.PowerSource, Watts: give.BusW, Outlet: circuit.Outlet{LimitAmps: unit.Unit.Params().OutputA, SetVolts: unit.Set.Params().AbsorptionV, SetOhms: setOhm}}, l.to, l.toMinus)
	}
}

// setOhm is how far a charger's voltage sags per ampere as it reaches its set-point [Ω]. Common practice, no source; it only rounds a corner.
const setOhm = 0.001

// bestOf returns the best common point of arrays side by side.
func bestOf(curves []pv.Curve) pv.Point {
	if len(curves) == 1 {
		return curves[0].MaxPower()
	}
	power := func(v float64) float64 {
		i := 0.0
		for _, c := range curves {
			i += c.Current(v)
		}
		return v * i
	}
	low, high := 0.0, 0.0
	for _, c := range curves {
		high = math.Max(high, c.Voc())
	}
	const golden = 0.6180339887498949
	for range 60 {
		a, b := high-golden*(high-low), low+golden*(high-low)
		if power(a) < power(b) {
			low = a
		} else {
			high = b
		}
	}
	v := (low + high) / 2
	return pv.Point{V: v, I: power(v) / v, P: power(v)}
}

func (n *Network) linkOf(kind linkKind, doc int) link {
	for _, l := range n.links {
		if l.kind == kind && l.doc == doc {
			return l
		}
	}
	return link{}
}

// chargers adds what shore chargers give within what AC gives them.
func (sc *scene) chargers(s State) {
	n := sc.n
	if s.ACInVA <= 0 {
		return
	}
	busV, _ := n.blockSource(s)
	supply := &n.Sys.Supply
	part := 1.0
	if want := supply.ChargeVA(busV); want > 0 {
		part = math.Min(1, s.ACInVA/want)
	}
	for i := range supply.Chargers {
		c := &supply.Chargers[i]
		l := n.linkOf(linkCharger, i)
		if !sc.fed(l.to, l.toMinus) {
			continue
		}
		most := c.Unit.MostW(c.V)
		give := c.Unit.Give(convert.ChargerAsk{BusV: c.V, WantW: most, MostVA: part * c.Unit.InputVA(most)})
		sc.add(circuit.Element{Name: "charger " + c.Name, Kind: circuit.PowerSource, Watts: give.BusW, Outlet: circuit.Outlet{LimitAmps: c.Unit.Params().OutputA, SetVolts: c.V, SetOhms: setOhm}}, l.to, l.toMinus)
	}
}

// Resistance of alternator and starter battery at the vehicle's posts [Ω], rest voltage of the starter battery as a share of the charging
// voltage, and the band over which a unit folds back [V]. Common practice, no source.
const (
	alternatorOhm = 0.002
	starterOhm    = 0.008
	starterShare  = 12.7 / 14
	holdBandV     = 0.3
)

// engine adds the vehicle and the unit that charges from it. short says that the alternators cannot give what is asked.
func (sc *scene) engine(s State, short *float64) {
	n := sc.n
	supply := &n.Sys.Supply
	if s.Engine == convert.EngineOff || supply.Vehicle == nil {
		return
	}
	plus, minus := n.index["vehicle +"], n.index["vehicle -"]
	volts := supply.Vehicle.Params().Volts
	inner := func(name string, v, ohms float64) {
		sc.parts = append(sc.parts, len(sc.els))
		sc.els = append(sc.els, circuit.Element{Name: name, Kind: circuit.EMF, A: name, B: sc.names[minus], Volts: v},
			circuit.Element{Name: name + " inside", Kind: circuit.Resistor, A: name, B: sc.names[plus], Ohms: ohms})
	}
	if short == nil {
		inner("alternator", volts, alternatorOhm)
	} else {
		inner("starter battery", starterShare*volts, starterOhm)
		sc.add(circuit.Element{Name: "alternator", Kind: circuit.CurrentSource, Amps: supply.Vehicle.SpareA(s.Engine)}, plus, minus)
	}
	if supply.Unit == nil {
		return
	}
	for _, l := range n.links {
		if l.kind != linkDCDC || !sc.fed(l.to, l.toMinus) || sc.group[l.from] != sc.group[plus] {
			continue
		}
		p := supply.Unit.Params()
		most := supply.Unit.MostW(supply.UnitV)
		e := circuit.Element{Name: "dc-dc", Kind: circuit.Converter, OutA: sc.names[l.to], OutB: sc.names[l.toMinus], Watts: most, Efficiency: supply.Unit.Loss().Efficiency(most)}
		e.Outlet = circuit.Outlet{LimitAmps: p.OutputA, SetVolts: supply.UnitV, SetOhms: setOhm}
		if supply.Sharing != convert.SharingSum && sc.solarA > 0 && p.OutputA > 0 {
			e.Outlet.LimitAmps = math.Max(0.1, p.OutputA-sc.solarA) // one case, one output limit
		}
		e.Intake.LimitAmps = p.InputLimitA
		if p.FoldsV > 0 {
			e.Intake.HoldVolts, e.Intake.HoldBand = p.FoldsV, holdBandV
		}
		sc.add(e, l.from, l.fromMinus)
	}
}
