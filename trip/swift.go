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
	sys    *system.System
	course *Course

	dc, amps, inv []float64     // by step of the civil day: DC loads [W], [A], and what inverters draw for loads that follow the clock alone [W]
	ac            [][]float64   // by inverter, when some AC load follows the air: the loads that do not [W]
	dcAir         *system.ByAir // loads on all day that follow the air, together [W]
	ampsAir       *system.ByAir // likewise [A]
	acAir         []follower    // AC loads that follow the air
	parts         []follower    // DC loads that follow the air by the clock
	own           float64       // controllers' own use [W]
	burn          []float64     // by step of the civil day [W of heat]
	burnAir       *system.ByAir
	burnParts     []follower
	ceiling       float64
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
	endSoC  float64
	minSoC  float64
}

func newSwift(sys *system.System, c *Course, lives bool) *swift {
	perDay := 1440 / c.StepMin
	s := &swift{sys: sys, course: c, dc: make([]float64, perDay), amps: make([]float64, perDay), inv: make([]float64, perDay), burn: make([]float64, perDay)}
	for range sys.Inverters {
		s.ac = append(s.ac, make([]float64, perDay))
	}
	for i := range sys.Loads {
		if l := &sys.Loads[i]; lives || l.Parked {
			s.take(l)
		}
	}
	if lives {
		for i := range sys.Burns {
			b := &sys.Burns[i]
			switch {
			case b.ByAir == nil:
				add(s.burn, b.Day)
			case steady(b.Day):
				s.burnAir = together(s.burnAir, b.ByAir, b.Day[0])
			default:
				s.burnParts = append(s.burnParts, follower{day: b.Day, air: b.ByAir})
			}
		}
	}
	if len(s.acAir) == 0 {
		for v := range sys.Inverters {
			for at := range s.inv {
				s.inv[at] += s.draw(v, at, s.ac[v][at])
			}
		}
	}
	for i := range sys.Controllers {
		s.own += sys.Controllers[i].Unit.OwnUseW()
		s.ceiling = math.Max(s.ceiling, sys.Controllers[i].Set.TargetV(0, 25))
	}
	return s
}

// take puts a load into the sum it belongs to.
func (s *swift) take(l *system.Load) {
	switch {
	case l.Bus == system.AC && l.Inverter < 0:
	case l.Bus == system.AC && l.ByAir != nil:
		s.acAir = append(s.acAir, follower{day: l.Day, air: l.ByAir, inverter: l.Inverter})
	case l.Bus == system.AC:
		add(s.ac[l.Inverter], l.Day)
	case l.ByAir != nil && steady(l.Day) && l.Amps:
		s.ampsAir = together(s.ampsAir, l.ByAir, l.Day[0])
	case l.ByAir != nil && steady(l.Day):
		s.dcAir = together(s.dcAir, l.ByAir, l.Day[0])
	case l.ByAir != nil:
		s.parts = append(s.parts, follower{day: l.Day, air: l.ByAir, amps: l.Amps})
	case l.Amps:
		add(s.amps, l.Day)
	default:
		add(s.dc, l.Day)
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

// inverters returns what all inverters take in a step when some AC load follows the air [W].
func (s *swift) inverters(at int, air float64) float64 {
	total := 0.0
	for v := range s.ac {
		w := s.ac[v][at]
		for k := range s.acAir {
			if f := &s.acAir[k]; f.inverter == v {
				w += f.day[at] * f.air.At(air)
			}
		}
		total += s.draw(v, at, w)
	}
	return total
}

// run plays one weather: potW is what the controllers could give the bus in each step, airC the air. The outcome's slices are reused.
func (s *swift) run(potW, airC []float32, out *outcome) {
	c, bank := s.course, &s.sys.Bank
	state := battery.State{SoC: bank.StartSoC, CeilingV: s.ceiling}
	volts := bank.Model.Voc(bank.StartSoC)
	bankC := bank.Temperature(float64(airC[0]))
	keeps := 1.0
	if bank.LagH > 0 {
		keeps = 1 - math.Exp(-c.StepH/bank.LagH)
	}
	out.below, out.gasOut, out.unmetWh, out.minSoC = -1, -1, 0, 1
	gasLeft := s.sys.Propane.StartKg
	kgPerW := s.sys.Propane.KgPerWh * c.StepH
	var inverterCut, loadsCut bool
	airDriven := len(s.acAir) > 0
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
			bankC += (bank.Temperature(air) - bankC) * keeps
			dc := s.dc[at] + s.amps[at]*volts
			if s.dcAir != nil {
				dc += s.dcAir.At(air)
			}
			if s.ampsAir != nil {
				dc += s.ampsAir.At(air) * volts
			}
			for k := range s.parts {
				f := &s.parts[k]
				w := f.day[at] * f.air.At(air)
				if f.amps {
					w *= volts
				}
				dc += w
			}
			inv := s.inv[at]
			if airDriven {
				inv = s.inverters(at, air)
			}
			load := s.own
			if bank.HeaterW > 0 && bankC < bank.HeatsBelowC {
				load += bank.HeaterW
			}
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
			net := float64(potW[i]) - load
			next, flow := bank.Model.Step(state, net, bankC, c.StepH)
			state, volts = next, flow.TerminalV
			if net < 0 && flow.PowerW > net {
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
			w := s.burn[at]
			if s.burnAir != nil {
				w += s.burnAir.At(air)
			}
			for k := range s.burnParts {
				w += s.burnParts[k].day[at] * s.burnParts[k].air.At(air)
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
