package trip

import (
	"math"

	"campwright/battery"
	"campwright/convert"
	"campwright/system"
)

// offer is what one array can give over a course, one value for each step.
type offer struct {
	powerW []float64 // best power at the controller's terminals, cable loss taken off
	volts  []float64 // voltage there at that power
	cableW []float64 // lost in the cable at that power
	openBy float64   // open-circuit voltage over the best voltage
}

// bus is one run of a rig along a course: the state it carries from step to step.
//
// Each step has one unknown, the bus voltage, and everything else follows from it. The power of sources and loads depends on that
// voltage only through current limits and loads rated in amps, so the voltage of the step before is taken for those and the bank's step
// is exact for the power that results. What the sources deliver, what the loads take and what the bank takes or gives are worked out each
// by itself; no term is what the others leave over.
type bus struct {
	sys    *system.System
	stepH  float64
	state  battery.State
	bankC  float64
	warmth warmth
	plug   plug
	warmW  float64 // what the bank's heater asks in this step
	volts  float64 // of the last step
	stages []convert.ChargeState
	ran    []bool

	inverterCut bool // stopped by low voltage
	loadsCut    bool // load cut-off open
	open        bool // battery electronics open

	outs    []convert.Output // of this step, one for each controller
	idx     []int            // controllers by rising set-point
	duty    []float64        // set-point of each controller in this step
	idleW   []float64        // own use of each inverter in this step while nothing ran on it
	acShare []float64        // share of the AC loads served in this step, one for each inverter
}

func newBus(sys *system.System, stepH, airC float64, lives bool) *bus {
	n := len(sys.Controllers)
	b := &bus{
		sys: sys, stepH: stepH, state: battery.State{SoC: sys.Bank.StartSoC}, volts: sys.Bank.Model.Voc(sys.Bank.StartSoC),
		stages: make([]convert.ChargeState, n), ran: make([]bool, n), outs: make([]convert.Output, n), idx: make([]int, n), duty: make([]float64, n),
		acShare: make([]float64, len(sys.Inverters)), idleW: make([]float64, len(sys.Inverters)),
	}
	b.warmth, b.plug = newWarmth(&sys.Bank, stepH, lives), newPlug(sys)
	b.bankC = b.warmth.begins(airC)
	for i := range b.idx {
		b.idx[i] = i
	}
	return b
}

// demand is what is asked of the bus over one step.
type demand struct {
	dcW    float64 // DC loads at the present bus voltage
	acW    []float64
	busy   []float64 // share of the step in which something runs on each inverter
	bareW  float64   // AC loads that no inverter feeds
	on     []bool    // inverters switched on
	feed   feed      // AC that comes in
	hook   hook
	engine convert.Engine
}

// sharing is what one step did, in watts as means over the step.
type sharing struct {
	solarW    float64 // from all controllers to the bus
	wantedW   float64 // all that is asked of the bus, what a cut-off keeps from it included
	servedW   float64 // of that, served
	dcShare   float64 // share of the DC loads served
	inverterW float64 // drawn by inverters
	lossW     float64 // of that, lost in them
	ownW      float64 // controllers' own use
	heaterW   float64
	vehicleW  float64 // from the vehicle to the bus
	shortA    float64 // what the vehicle's starter battery loses by it
	chargeW   float64 // from chargers on AC to the bus
	chargeInW float64 // taken from AC for it
	feedW     float64 // AC loads fed from outside
	acShare   float64 // with AC coming in: share of the AC loads served
	acW       float64 // with AC coming in: what they ask
	makeUpW   float64 // of it, from the battery through the inverter
	overload  bool    // more was asked of an inverter, or of what comes in, than it can give
	coldBlock bool    // cold kept the bank from taking what was there
	flow      battery.Flow
}

// step advances the bus by one step. inputs holds one entry for each controller: what its arrays offer.
func (b *bus) step(inputs []convert.Input, d *demand, airC float64) sharing {
	var s sharing
	bank := &b.sys.Bank
	b.bankC, b.warmW = b.warmth.step(b.bankC, airC)
	solar := b.ask(inputs)
	load := b.load(d, &s)
	b.engine(d, &s)
	b.combined(&s, &solar)
	if s.chargeW > 0 && !b.open {
		asked := s.chargeW
		s.chargeW = b.plug.gives(asked, load-solar-s.vehicleW, b.state, b.bankC, b.stepH)
		s.slow(asked)
	}
	offered := solar + s.vehicleW + s.chargeW
	net, share := offered-load, 1.0
	if b.open && net > 0 {
		b.open = false // a source that outruns the loads closes the battery's electronics again
	}
	b.state.CeilingV = b.ceiling(&s)
	s.solarW = solar
	switch {
	case b.open:
		if load > 0 {
			share = offered / load
		}
		b.state, s.flow = bank.Model.Step(b.state, 0, b.bankC, b.stepH)
	case net <= 0:
		b.state, s.flow = bank.Model.Step(b.state, net, b.bankC, b.stepH)
		if s.flow.Limit != battery.None {
			share = (offered - s.flow.PowerW) / load
		}
	case b.unlike():
		most, _ := bank.Model.Limits(b.state, b.bankC, b.stepH)
		asked := s.chargeW
		left := merit(math.Max(0, offered-load-most), &s.chargeW, &s.vehicleW)
		s.slow(asked)
		other := s.chargeW + s.vehicleW
		if s.solarW = b.giveInTurn(load-other, most); left < 0 {
			s.solarW = solar
		}
		b.state, s.flow = bank.Model.Step(b.state, s.solarW+other-load, b.bankC, b.stepH)
	default:
		b.state, s.flow = bank.Model.Step(b.state, net, b.bankC, b.stepH)
		s.coldBlock = s.flow.Limit == battery.Temperature && b.bankC < bank.ColdChargeC
		if s.flow.Limit != battery.None {
			asked := s.chargeW
			if left := merit(net-s.flow.PowerW, &s.chargeW, &s.vehicleW); left > 0 && solar > 0 {
				s.solarW = b.give(solar, solar-left)
			}
			s.slow(asked)
		}
	}
	s.servedW = load
	if share < 1 {
		s.cut(share, b.acShare, d.feed != nothing)
		for i := range b.idleW {
			b.idleW[i] *= share
		}
	}
	b.after(&s, share < 1)
	b.plug.state = b.plug.next(b.volts, s.flow.CurrentA, b.bankC, b.stepH, d.feed != nothing)
	return s
}

// cut serves only a share of every load on the bus. AC that comes in from outside is not the bus's to cut, but what the battery adds to it
// is.
func (s *sharing) cut(share float64, acShare []float64, acIn bool) {
	s.servedW *= share
	s.dcShare *= share
	s.inverterW *= share
	s.lossW *= share
	s.ownW *= share
	s.heaterW *= share
	if acIn {
		if s.acW > 0 {
			s.acShare -= s.makeUpW * (1 - share) / s.acW
		}
		s.makeUpW *= share
		return
	}
	for i := range acShare {
		acShare[i] *= share
	}
}

// slow brings what chargers take from AC down with what they give.
func (s *sharing) slow(asked float64) {
	if asked > 0 {
		s.chargeInW *= s.chargeW / asked
	}
}

// engine fills what the vehicle could put into the bus.
func (b *bus) engine(d *demand, s *sharing) {
	if d.engine != convert.EngineOff {
		s.vehicleW, s.shortA = b.sys.Supply.EngineW(d.engine, b.volts)
	}
}

// combined holds a unit that charges from sun and vehicle to its sharing rule. What the sun's side loses by it is booked as the bank taking
// less.
func (b *bus) combined(s *sharing, solar *float64) {
	k := b.sys.Supply.Also
	if k < 0 || s.vehicleW <= 0 || b.outs[k].BusW <= 0 {
		return
	}
	give, _ := convert.Both{Sharing: b.sys.Supply.Sharing, SolarW: b.outs[k].BusW, VehicleW: s.vehicleW, LimitW: b.sys.Supply.Unit.MostW(b.volts)}.Share()
	*solar -= b.outs[k].BusW
	b.outs[k] = b.sys.Controllers[k].Unit.Throttle(b.outs[k], give.SolarW)
	*solar += b.outs[k].BusW
	s.vehicleW = give.VehicleW
}

// ask fills in what each controller could deliver and returns the sum [W].
func (b *bus) ask(inputs []convert.Input) float64 {
	total := 0.0
	for i := range inputs {
		if inputs[i].MPPW <= 0 {
			b.outs[i] = convert.Output{Cause: convert.Dark}
			continue
		}
		in := inputs[i]
		in.BusV, in.Ran = b.volts, b.ran[i]
		b.outs[i] = b.sys.Controllers[i].Unit.Deliver(in)
		total += b.outs[i].BusW
	}
	return total
}

// load works out what is asked of the bus [W] and which parts of it are cut off.
func (b *bus) load(d *demand, s *sharing) float64 {
	s.dcShare = 1
	dc := d.dcW
	s.wantedW = dc
	clear(b.idleW)
	if b.loadsCut {
		s.dcShare, dc = 0, 0
	}
	if d.feed == nothing {
		b.invert(d, s)
	} else {
		b.hookUp(d, s)
	}
	for i := range b.sys.Controllers {
		s.ownW += b.sys.Controllers[i].Unit.OwnUseW()
	}
	s.heaterW = b.warmW
	s.wantedW += s.ownW + s.heaterW
	return dc + s.inverterW + s.ownW + s.heaterW
}

// invert feeds the AC loads from the bank.
func (b *bus) invert(d *demand, s *sharing) {
	for i := range b.sys.Inverters {
		b.acShare[i] = 0
		if !d.on[i] {
			continue
		}
		inv := &b.sys.Inverters[i]
		v := drawOf(inv, d.acW[i], d.busy[i])
		if b.inverterCut {
			s.wantedW += v.busW
			continue
		}
		s.inverterW += v.busW
		s.lossW += v.lossW
		b.idleW[i] = v.idleW
		s.overload = s.overload || v.over
		s.wantedW += v.busW + d.acW[i] - v.servedW
		if b.acShare[i] = 1; d.acW[i] > 0 {
			b.acShare[i] = v.servedW / d.acW[i]
		}
	}
}

// hookUp feeds the AC loads and the chargers from outside; the battery helps out above the limit where the rig is made so and its inverter
// has not been cut off.
func (b *bus) hookUp(d *demand, s *sharing) {
	s.acW = d.bareW
	for _, w := range d.acW {
		s.acW += w
	}
	h := shareAC(b.sys, d.hook, s.acW, b.volts, !b.inverterCut && !b.open)
	s.chargeW, s.chargeInW, s.feedW, s.acShare, s.makeUpW = h.chargeW, h.chargeA, h.shoreW, h.served, h.makeUpW
	if h.makeUpW > 0 {
		unit := &b.sys.Inverters[0].Unit
		s.inverterW = unit.DCW(h.makeUpW)
		s.lossW = s.inverterW - h.makeUpW
	}
	s.overload = h.served < 1
	s.wantedW += s.inverterW + s.acW*(1-h.served)
	for i := range b.acShare {
		b.acShare[i] = h.served
	}
}

// ceiling returns the voltage that charging does not pass in this step: the highest set-point of any source that runs.
func (b *bus) ceiling(s *sharing) float64 {
	high := 0.0
	if s.vehicleW > 0 {
		high = b.sys.Supply.UnitV
	}
	if s.chargeW > 0 {
		high = math.Max(high, b.plug.set.TargetV(b.plug.state.Stage, b.bankC))
	}
	for i := range b.sys.Controllers {
		b.duty[i] = 0
		if b.outs[i].Running {
			b.duty[i] = b.sys.Controllers[i].Set.TargetV(b.stages[i].Stage, b.bankC)
			high = math.Max(high, b.duty[i])
		}
	}
	return high
}

// give throttles the controllers in proportion to what loads and bank take together and returns what they deliver [W].
func (b *bus) give(offered, taken float64) float64 {
	keep := taken / offered
	total := 0.0
	for i := range b.outs {
		if b.outs[i].BusW > 0 {
			b.outs[i] = b.sys.Controllers[i].Unit.Throttle(b.outs[i], b.outs[i].BusW*keep)
			total += b.outs[i].BusW
		}
	}
	return total
}

// unlike tells whether two running controllers hold set-points that differ by more than a twentieth of a volt.
func (b *bus) unlike() bool {
	low, high := math.Inf(1), 0.0
	for i := range b.outs {
		if b.outs[i].Running && b.duty[i] > 0 {
			low, high = math.Min(low, b.duty[i]), math.Max(high, b.duty[i])
		}
	}
	return high-low > 0.05
}

// giveInTurn is give for controllers with unlike set-points: the lower ones yield first, as they do on a real bus.
func (b *bus) giveInTurn(served, maxCharge float64) float64 {
	for i := 1; i < len(b.idx); i++ { // by rising set-point; few and nearly sorted
		for j := i; j > 0 && b.duty[b.idx[j]] < b.duty[b.idx[j-1]]; j-- {
			b.idx[j], b.idx[j-1] = b.idx[j-1], b.idx[j]
		}
	}
	total := 0.0
	for i := range b.outs {
		total += b.outs[i].BusW
	}
	state := b.state
	for _, i := range b.idx {
		most := maxCharge
		if state.CeilingV = b.duty[i]; b.duty[i] < b.state.CeilingV {
			most, _ = b.sys.Bank.Model.Limits(state, b.bankC, b.stepH)
			most = math.Min(most, maxCharge)
		}
		over := total - served - most
		if over <= 0 {
			continue
		}
		before := b.outs[i].BusW
		b.outs[i] = b.sys.Controllers[i].Unit.Throttle(b.outs[i], math.Max(0, before-over))
		total += b.outs[i].BusW - before
	}
	return total
}

// after moves what the step leaves behind: voltages, stages of charge, cut-offs.
func (b *bus) after(s *sharing, short bool) {
	bank := &b.sys.Bank
	b.volts = s.flow.TerminalV
	b.bankC = b.warmth.unheated(b.bankC, b.warmW-s.heaterW)
	for i := range b.stages {
		b.ran[i] = b.outs[i].Running
		if !b.ran[i] && b.stages[i].Stage == convert.Bulk {
			continue
		}
		b.stages[i] = b.sys.Controllers[i].Set.Next(b.stages[i], convert.StageInput{
			BankV: b.volts, ChargeA: s.flow.CurrentA, BankC: b.bankC, StepH: b.stepH, Powered: b.outs[i].Running,
		})
	}
	b.inverterCut = latched(b.inverterCut, b.volts, bank.InverterOffV)
	b.loadsCut = latched(b.loadsCut, b.volts, bank.LoadsOffV)
	if b.volts < bank.OpensV || short && s.flow.Limit == battery.SoCEnd {
		b.open = true
	}
}

// restartsAbove is how far a bank's voltage must recover before a low-voltage cut-off closes again, as a share of the cut-off voltage.
// Common practice, no source: 12.0 V off, 12.8 V on.
const restartsAbove = 1.067

// latched tells whether a cut-off at offV is open after a step that ended at volts.
func latched(was bool, volts, offV float64) bool {
	if offV <= 0 {
		return false
	}
	if was {
		return volts < offV*restartsAbove
	}
	return volts < offV
}
