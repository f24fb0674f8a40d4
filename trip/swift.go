package trip

import (
	"math"

	"campwright/battery"
	"campwright/convert"
	"campwright/system"
)

// swift plays a rig along a course as bus does, without books: what an ensemble needs, hundreds of times. It differs from a booked run in
// four ways, and a test holds what they cost: the controllers' output is worked out beforehand at one bus voltage, charging from the sun goes to the
// highest set-point and never rests at the float voltage, arrays' limits of current are taken at that one voltage too, and it strides: see
// stride.go.
type swift struct {
	sys     *system.System
	course  *Course
	comes   *schedule
	modes   [2]swiftMode // without and with AC coming in
	own     float64      // controllers' own use [W]
	lives   bool
	warmth  warmth
	ceiling float64

	longer  pace // strides in the dark
	shorter pace // and in the light
	byStep  bool // walk, never stride: the slow twin
	since   int  // minute of the first evening from which the lowest charge of its night is told apart; 0 for none

	cruiseW, idleW float64 // what the vehicle puts into the bus through its unit
	tied           bool    // a relay ties it to the bank: what it puts in follows the bank's voltage
}

// swiftMode is what is asked while AC comes in, or while none does.
type swiftMode struct {
	dc, amps, inv []float64     // by step of the civil day: DC loads [W], [A], and what inverters draw for loads that follow the clock alone [W]
	ac            [][]float64   // AC loads that do not follow the air, by inverter and last those that none feeds [W]
	still         [][]float64   // share of each step in which none of them runs
	dcAir         *system.ByAir // loads on all day that follow the air, together [W]
	ampsAir       *system.ByAir // likewise [A]
	acAir         []follower    // AC loads that follow the air
	parts         []follower    // DC loads that follow the air by the clock
	burn          []float64     // by step of the civil day [W of heat]
	burnAir       *system.ByAir
	burnParts     []follower
}

// reset makes an outcome ready for a run.
func (o *outcome) reset() {
	*o = outcome{lows: o.lows, gas: o.gas, below: -1, gasOut: -1, minSoC: 1, late: 1}
}

// combined holds a unit that charges from sun and vehicle to its sharing rule: come is what all sun gives, also the part of it from the unit.
func (s *swift) combined(come, also, vehicle, volts float64) (solar, fromVehicle float64) {
	give, _ := convert.Both{Sharing: s.sys.Supply.Sharing, SolarW: also, VehicleW: vehicle, LimitW: s.sys.Supply.Unit.MostW(volts)}.Share()
	return come - also + give.SolarW, give.VehicleW
}

// follower is a load or burner that follows both clock and air.
type follower struct {
	day      []float64
	air      *system.ByAir
	amps     bool
	inverter int
	load     *system.Load
}

// outcome is what a swift run tells.
type outcome struct {
	lows     []float32 // lowest state of charge of each day
	gas      []float32 // propane burned on each day [kg], whether it was there or not
	below    int       // first step below the floor, or -1
	gasOut   int       // first step without propane, or -1
	gasLeft  float64   // at the end [kg]
	loadWh   float64   // asked of the bus by loads and inverters while no AC comes in, served or not
	offGridH float64   // for so long
	shedWh   float64   // AC that what comes in could not carry
	dcDark   int       // days on which the DC side went dark, if only for a step
	acDark   int       // and the AC side
	endSoC   float64
	minSoC   float64
	late     float64 // lowest charge of the first day from a minute of its evening on, 1 where none is asked for
}

func newSwift(sys *system.System, c *Course, comes *schedule, lives bool) *swift {
	s := &swift{sys: sys, course: c, comes: comes, lives: lives, warmth: newWarmth(&sys.Bank, c.StepH, lives)}
	perDay := 1440 / c.StepMin
	for k := range s.asked() {
		m := &s.modes[k]
		m.dc, m.amps, m.inv, m.burn = make([]float64, perDay), make([]float64, perDay), make([]float64, perDay), make([]float64, perDay)
		for range len(sys.Inverters) + 1 {
			m.ac = append(m.ac, make([]float64, perDay))
			m.still = append(m.still, ones(perDay))
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
					m.inv[at] += s.draw(v, at*c.StepMin, m.ac[v][at], 1-m.still[v][at])
				}
			}
		}
	}
	if n := comes.stride; n > 1 {
		s.longer = s.pace(n)
		if n%2 == 0 && n > 2 {
			s.shorter = s.pace(n / 2)
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

// asked returns the modes that a run meets: the one with AC coming in only where some does.
func (s *swift) asked() []swiftMode {
	if s.comes.fed {
		return s.modes[:]
	}
	return s.modes[:1]
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
		m.acAir = append(m.acAir, follower{day: l.Day, air: l.ByAir, inverter: circuit, load: l})
	case l.Bus == system.AC:
		add(m.ac[circuit], l.Day)
		hush(m.still[circuit], l)
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

// draw returns what an inverter takes from the bus for an AC load at a minute of the civil day [W].
func (s *swift) draw(v, minute int, acW, busy float64) float64 {
	inv := &s.sys.Inverters[v]
	if !inv.On(minute) || inv.Used && acW <= 0 || !s.lives && !inv.Parked {
		return 0
	}
	return drawOf(inv, acW, busy).busW
}

// acAt returns the AC load on an inverter, or on none for the last, at a step of the civil day [W], and the share of the step in which
// something runs.
func (m *swiftMode) acAt(v, at int, air float64) (acW, busy float64) {
	acW, still := m.ac[v][at], m.still[v][at]
	for k := range m.acAir {
		if f := &m.acAir[k]; f.inverter == v {
			w := f.day[at] * f.air.At(air)
			acW += w
			still *= 1 - f.load.Busy(w)
		}
	}
	return acW, 1 - still
}

// inverters returns what all inverters take from the bus in a step when no AC comes in [W].
func (s *swift) inverters(m *swiftMode, at, minute int, air float64) float64 {
	if len(m.acAir) == 0 {
		return m.inv[at]
	}
	total := 0.0
	for v := range s.sys.Inverters {
		acW, busy := m.acAt(v, at, air)
		total += s.draw(v, minute, acW, busy)
	}
	return total
}

// hooked returns what the bus gives for AC loads and gets from chargers in a step while AC comes in, and the AC that has to be left off [W].
func (s *swift) hooked(m *swiftMode, i, at int, air, volts float64, helps bool) (drawn, charged, shed float64) {
	ac := 0.0
	for v := range m.ac {
		w, _ := m.acAt(v, at, air)
		ac += w
	}
	site := s.course.Days[s.course.Day[i]].Site
	h := s.comes.hooks[site]
	if s.comes.feed[i] == generator {
		h = s.comes.gen[site]
	}
	share := shareAC(s.sys, h, ac, volts, helps)
	if share.makeUpW > 0 {
		drawn = s.sys.Inverters[0].Unit.DCW(share.makeUpW)
	}
	return drawn, share.chargeW, ac * (1 - share.served)
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

// run plays one weather: potW is what the controllers could give the bus in each step, alsoW the part of it from the controller that shares a
// case with the unit on the charge line (nil without one), airC the air. The outcome's slices are reused.
func (s *swift) run(potW, alsoW, airC []float32, out *outcome) {
	c, bank := s.course, &s.sys.Bank
	out.reset()
	p := player{
		swift: s, out: out, plug: newPlug(s.sys), potW: potW, alsoW: alsoW, airC: airC,
		state: battery.State{SoC: bank.StartSoC, CeilingV: s.ceiling}, volts: bank.Model.Voc(bank.StartSoC), bankC: s.warmth.begins(float64(airC[0])),
		gasLeft: s.sys.Propane.StartKg, kgPerW: s.sys.Propane.KgPerWh * c.StepH, low: 1,
	}
	for d := range c.Days {
		day := &c.Days[d]
		if c.arrives(d) {
			p.arrive(&c.Sites[day.Site])
		} else if c.hauled(d, "propane") {
			p.gasLeft = p.sys.Propane.KgFull
		}
		for i := day.First; i < day.First+day.Steps; {
			walked := i + 1
			if p.comes.strides[i] && !p.byStep {
				walked = i + p.comes.stride
				i += p.stride(i)
			}
			for ; i < walked; i++ {
				p.walk(i)
			}
		}
		p.ends(d)
	}
	out.endSoC, out.gasLeft = p.state.SoC, math.Max(p.gasLeft, 0)
}
