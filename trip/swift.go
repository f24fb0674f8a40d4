package trip

import (
	"math"

	"campwright/battery"
	"campwright/convert"
	"campwright/system"
)

// swift plays a rig along a course as bus does, without books: what an ensemble needs, hundreds of times. It differs from a booked run in
// three ways, and a test holds what they cost: the controllers' output is worked out beforehand at one bus voltage, charging goes to the
// highest set-point and never rests at the float voltage, and arrays' limits of current are taken at that one voltage too.
type swift struct {
	sys     *system.System
	course  *Course
	comes   *schedule
	modes   [2]swiftMode // without and with AC coming in
	own     float64      // controllers' own use [W]
	warmth  warmth
	ceiling float64

	cruiseW, idleW float64 // what the vehicle puts into the bus through its unit
	tied           bool    // a relay ties it to the bank: what it puts in follows the bank's voltage
}

// swiftMode is what is asked while AC comes in, or while none does.
type swiftMode struct {
	dc, amps, inv []float64     // by step of the civil day: DC loads [W], [A], and what inverters draw for loads that follow the clock alone [W]
	ac            [][]float64   // AC loads that do not follow the air, by inverter and last those that none feeds [W]
	dcAir         *system.ByAir // loads on all day that follow the air, together [W]
	ampsAir       *system.ByAir // likewise [A]
	acAir         []follower    // AC loads that follow the air
	parts         []follower    // DC loads that follow the air by the clock
	burn          []float64     // by step of the civil day [W of heat]
	burnAir       *system.ByAir
	burnParts     []follower
}

// follower is a load or burner that follows both clock and air.
type follower struct {
	day      []float64
	air      *system.ByAir
	amps     bool
	inverter int
}

// outcome is what a swift run tells.
type outcome struct {
	lows    []float32 // lowest state of charge of each day
	gas     []float32 // propane burned on each day [kg], whether it was there or not
	below   int       // first step below the floor, or -1
	gasOut  int       // first step without propane, or -1
	unmetWh float64
	loadWh  float64 // asked of the bus by loads and inverters, served or not
	endSoC  float64
	minSoC  float64
}

func newSwift(sys *system.System, c *Course, comes *schedule, lives bool) *swift {
	s := &swift{sys: sys, course: c, comes: comes, warmth: newWarmth(&sys.Bank, c.StepH, lives)}
	perDay := 1440 / c.StepMin
	for k := range s.modes {
		m := &s.modes[k]
		m.dc, m.amps, m.inv, m.burn = make([]float64, perDay), make([]float64, perDay), make([]float64, perDay), make([]float64, perDay)
		for range len(sys.Inverters) + 1 {
			m.ac = append(m.ac, make([]float64, perDay))
		}
		for i := range sys.Loads {
			if l := &sys.Loads[i]; (lives || l.Parked) && l.When.Holds(k == 1) {
				m.take(l)
			}
		}
		for i := range sys.Burns {
			if b := &sys.Burns[i]; lives && b.When.Holds(k == 1) {
				m.fuel(b)
			}
		}
		if k == 0 && len(m.acAir) == 0 {
			for v := range sys.Inverters {
				for at := range m.inv {
					m.inv[at] += s.draw(v, at, m.ac[v][at])
				}
			}
		}
	}
	for i := range sys.Controllers {
		s.own += sys.Controllers[i].Unit.OwnUseW()
		s.ceiling = math.Max(s.ceiling, sys.Controllers[i].Set.TargetV(0, 25))
	}
	for i := range sys.Supply.Chargers {
		s.ceiling = math.Max(s.ceiling, sys.Supply.Chargers[i].V)
	}
	s.ceiling = math.Max(s.ceiling, sys.Supply.UnitV)
	volts := sys.Bank.Model.Voc(midSoC) * chargingAbove
	s.cruiseW, _ = sys.Supply.EngineW(convert.Cruising, volts)
	s.idleW, _ = sys.Supply.EngineW(convert.Idling, volts)
	s.tied = sys.Supply.Unit == nil && sys.Supply.Relay != nil
	return s
}

// fuel puts a burner into the sum it belongs to.
func (m *swiftMode) fuel(b *system.Burn) {
	switch {
	case b.ByAir == nil:
		add(m.burn, b.Day)
	case steady(b.Day):
		m.burnAir = together(m.burnAir, b.ByAir, b.Day[0])
	default:
		m.burnParts = append(m.burnParts, follower{day: b.Day, air: b.ByAir})
	}
}

// take puts a load into the sum it belongs to.
func (m *swiftMode) take(l *system.Load) {
	circuit := l.Inverter
	if l.Bus == system.AC && circuit < 0 {
		circuit = len(m.ac) - 1
	}
	switch {
	case l.Bus == system.AC && l.ByAir != nil:
		m.acAir = append(m.acAir, follower{day: l.Day, air: l.ByAir, inverter: circuit})
	case l.Bus == system.AC:
		add(m.ac[circuit], l.Day)
	case l.ByAir != nil && steady(l.Day) && l.Amps:
		m.ampsAir = together(m.ampsAir, l.ByAir, l.Day[0])
	case l.ByAir != nil && steady(l.Day):
		m.dcAir = together(m.dcAir, l.ByAir, l.Day[0])
	case l.ByAir != nil:
		m.parts = append(m.parts, follower{day: l.Day, air: l.ByAir, amps: l.Amps})
	case l.Amps:
		add(m.amps, l.Day)
	default:
		add(m.dc, l.Day)
	}
}

// steady tells whether a day is the same at every step.
func steady(day []float64) bool {
	for _, v := range day {
		if v != day[0] {
			return false
		}
	}
	return len(day) > 0
}

// together adds a follower of the air to a sum of them.
func together(sum, more *system.ByAir, by float64) *system.ByAir {
	out := new(system.ByAir)
	for i := range out {
		if sum != nil {
			out[i] = sum[i]
		}
		out[i] += by * more[i]
	}
	return out
}

// draw returns what an inverter takes from the bus for an AC load at a step of the civil day [W].
func (s *swift) draw(v, at int, acW float64) float64 {
	inv := &s.sys.Inverters[v]
	if !inv.On(at*s.course.StepMin) || inv.Used && acW <= 0 {
		return 0
	}
	return inv.Unit.Supply(convert.ACDemand{LoadW: acW, BusV: 1e4, On: true, Was: convert.InverterOn}).DCW
}

// acAt returns the AC load on an inverter, or on none for the last, at a step of the civil day [W].
func (m *swiftMode) acAt(v, at int, air float64) float64 {
	w := m.ac[v][at]
	for k := range m.acAir {
		if f := &m.acAir[k]; f.inverter == v {
			w += f.day[at] * f.air.At(air)
		}
	}
	return w
}

// inverters returns what all inverters take from the bus in a step when no AC comes in [W].
func (s *swift) inverters(m *swiftMode, at int, air float64) float64 {
	if len(m.acAir) == 0 {
		return m.inv[at]
	}
	total := 0.0
	for v := range s.sys.Inverters {
		total += s.draw(v, at, m.acAt(v, at, air))
	}
	return total
}

// hooked returns what the bus gives for AC loads and gets from chargers in a step while AC comes in [W].
func (s *swift) hooked(m *swiftMode, i, at int, air, volts float64) (drawn, charged float64) {
	ac := 0.0
	for v := range m.ac {
		ac += m.acAt(v, at, air)
	}
	site := s.course.Days[s.course.Day[i]].Site
	h := s.comes.hooks[site]
	if s.comes.feed[i] == generator {
		h = s.comes.gen[site]
	}
	share := shareAC(s.sys, h, ac, volts, true)
	if share.makeUpW > 0 {
		drawn = s.sys.Inverters[0].Unit.DCW(share.makeUpW)
	}
	return drawn, share.chargeW
}

// engineW returns what the vehicle puts into the bus in a step at a bus voltage [W].
func (s *swift) engineW(i int, volts float64) float64 {
	switch e := s.comes.engine[i]; {
	case s.tied:
		w, _ := s.sys.Supply.EngineW(e, volts)
		return w
	case e == convert.Cruising:
		return s.cruiseW
	case e == convert.Idling:
		return s.idleW
	}
	return 0
}

// run plays one weather: potW is what the controllers could give the bus in each step, airC the air. The outcome's slices are reused.
func (s *swift) run(potW, airC []float32, out *outcome) {
	c, bank := s.course, &s.sys.Bank
	state := battery.State{SoC: bank.StartSoC, CeilingV: s.ceiling}
	volts := bank.Model.Voc(bank.StartSoC)
	bankC := s.warmth.begins(float64(airC[0]))
	out.below, out.gasOut, out.unmetWh, out.loadWh, out.minSoC = -1, -1, 0, 0, 1
	gasLeft := s.sys.Propane.StartKg
	kgPerW := s.sys.Propane.KgPerWh * c.StepH
	var inverterCut, loadsCut bool
	for d := range c.Days {
		day := &c.Days[d]
		if c.arrives(d) {
			site := &c.Sites[day.Site]
			if site.fills("propane") {
				gasLeft = s.sys.Propane.KgFull
			}
			if site.fills("charge") {
				state.SoC = 1
			}
		}
		low, burned := 1.0, 0.0
		for i := day.First; i < day.First+day.Steps; i++ {
			at := int(c.Minute[i]) / c.StepMin
			air := float64(airC[i])
			warmer, heaterW := s.warmth.step(bankC, air)
			bankC = warmer
			acIn := s.comes.feed[i] != nothing
			m := &s.modes[0]
			if acIn {
				m = &s.modes[1]
			}
			dc := m.dc[at] + m.amps[at]*volts
			if m.dcAir != nil {
				dc += m.dcAir.At(air)
			}
			if m.ampsAir != nil {
				dc += m.ampsAir.At(air) * volts
			}
			for k := range m.parts {
				f := &m.parts[k]
				w := f.day[at] * f.air.At(air)
				if f.amps {
					w *= volts
				}
				dc += w
			}
			inv, come := 0.0, float64(potW[i])+s.engineW(i, volts)
			if acIn {
				var charged float64
				inv, charged = s.hooked(m, i, at, air, volts)
				come += charged
			} else {
				inv = s.inverters(m, at, air)
			}
			load := s.own + heaterW
			if loadsCut {
				out.unmetWh += dc * c.StepH
			} else {
				load += dc
			}
			if inverterCut {
				out.unmetWh += inv * c.StepH
			} else {
				load += inv
			}
			net := come - load
			out.loadWh += (dc + inv) * c.StepH
			next, flow := bank.Model.Step(state, net, bankC, c.StepH)
			state, volts = next, flow.TerminalV
			if net < 0 && flow.PowerW > net {
				bankC = s.warmth.unheated(bankC, heaterW)
				out.unmetWh += (flow.PowerW - net) * c.StepH
			}
			inverterCut = latched(inverterCut, volts, bank.InverterOffV)
			loadsCut = latched(loadsCut, volts, bank.LoadsOffV)
			if state.SoC < low {
				low = state.SoC
				if low < s.sys.Floor && out.below < 0 {
					out.below = i
				}
			}
			w := m.burn[at]
			if m.burnAir != nil {
				w += m.burnAir.At(air)
			}
			for k := range m.burnParts {
				w += m.burnParts[k].day[at] * m.burnParts[k].air.At(air)
			}
			burned += w
			if gasLeft -= w * kgPerW; gasLeft <= 0 && w > 0 && out.gasOut < 0 {
				out.gasOut = i
			}
		}
		out.lows[d], out.gas[d] = float32(low), float32(burned*kgPerW)
		out.minSoC = math.Min(out.minSoC, low)
	}
	out.endSoC = state.SoC
}
