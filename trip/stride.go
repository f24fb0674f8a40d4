package trip

import (
	"math"
	"slices"

	"campwright/battery"
	"campwright/convert"
)

// A swift run strides where the engine is off and AC comes in all the time or never: half an hour at once in the dark and while plugged in, a
// quarter of an hour in the light. The sun, the air and what follows air or clock are taken at their means. A stride in which something would happen is not taken, its steps are walked
// instead, so that no event moves: the floor, a cut-off, the end of the propane, a bank that cannot give what is asked; nor one in which loads
// come and go that are large for the bank.
//
// What it costs against walking every step is held by a test: 0.002 of the charge in all but a few daily lows, 0.0003 in their mean, and no
// event by more than two steps.

// strideMin is the length of a stride in the dark or plugged in [min]; in the light it is half that.
const strideMin = 30

// strideOf returns the steps in a stride, 1 where steps do not fit into it.
func strideOf(stepMin int) int {
	if strideMin%stepMin != 0 {
		return 1
	}
	return strideMin / stepMin
}

// mark notes at which steps a stride may begin: it lies inside a half-hour of the clock, the engine is off, and AC comes in during all of it or
// not at all.
func (s *schedule) mark(c *Course) {
	s.stride, s.fed = strideOf(c.StepMin), slices.ContainsFunc(s.feed, func(f feed) bool { return f != nothing })
	s.strides = make([]bool, c.N)
	if s.stride == 1 {
		return
	}
	for d := range c.Days {
		day := &c.Days[d]
		last := day.First + day.Steps
		for i := day.First; i+s.stride <= last; i++ {
			if int(c.Minute[i])%strideMin != 0 || int(c.Minute[i+s.stride-1]) != int(c.Minute[i])+strideMin-c.StepMin {
				continue
			}
			free := true
			for k := i; k < i+s.stride; k++ {
				free = free && s.feed[k] == s.feed[i] && s.engine[k] == convert.EngineOff
			}
			s.strides[i] = free
		}
	}
}

// pace is a length of stride with what is asked over it.
type pace struct {
	steps  int
	modes  [2]swiftMode // without and with AC coming in: means over each stride of the civil day
	calm   [2][]bool    // by stride of the civil day: nothing in it that a mean would hide
	warmth warmth
}

// calmC is how far what follows the clock may change inside a stride, as a share of the bank's energy in an hour: the steps of such a change
// are averaged, which moves the loss in the bank and the voltage by little.
const calmC = 0.02

// pace makes ready strides of so many steps.
func (s *swift) pace(steps int) pace {
	p := pace{steps: steps, warmth: newWarmth(&s.sys.Bank, float64(steps)*s.course.StepH, s.lives)}
	bank := &s.sys.Bank
	volts := bank.Model.NominalV()
	most := calmC * bank.CapacityAh * volts
	perDay := 1440 / s.course.StepMin
	for k := range s.asked() {
		m := &s.modes[k]
		p.modes[k], p.calm[k] = m.means(steps), make([]bool, perDay/steps)
		for h := range p.calm[k] {
			from := h * steps
			low, high := math.Inf(1), math.Inf(-1)
			for at := from; at < from+steps; at++ {
				w := m.clockW(at, volts)
				low, high = min(low, w), max(high, w)
			}
			p.calm[k][h] = high-low <= most && s.sameSwitches(from, from+steps)
		}
	}
	return p
}

// clockW returns all that is asked at a step of the civil day by what follows the clock, with what follows the air too running all the time [W].
func (m *swiftMode) clockW(at int, volts float64) float64 {
	w := m.dc[at] + m.amps[at]*volts
	for v := range m.ac {
		w += m.ac[v][at]
	}
	for k := range m.acAir {
		w += m.acAir[k].day[at]
	}
	for k := range m.parts {
		f := &m.parts[k]
		if f.amps {
			w += f.day[at] * volts
		} else {
			w += f.day[at]
		}
	}
	return w
}

// sameSwitches tells whether the switches of the inverters stay as they are over some steps of the civil day.
func (s *swift) sameSwitches(from, to int) bool {
	for v := range s.sys.Inverters {
		on := s.sys.Inverters[v].On
		for at := from + 1; at < to; at++ {
			if on(at*s.course.StepMin) != on(from*s.course.StepMin) {
				return false
			}
		}
	}
	return true
}

// means returns a mode in which each step stands for the mean of n.
func (m *swiftMode) means(n int) swiftMode {
	out := swiftMode{dc: means(m.dc, n), amps: means(m.amps, n), inv: means(m.inv, n), burn: means(m.burn, n), dcAir: m.dcAir, ampsAir: m.ampsAir, burnAir: m.burnAir}
	for v := range m.ac {
		out.ac, out.still = append(out.ac, means(m.ac[v], n)), append(out.still, means(m.still[v], n))
	}
	out.acAir, out.parts, out.burnParts = meansOf(m.acAir, n), meansOf(m.parts, n), meansOf(m.burnParts, n)
	return out
}

func meansOf(list []follower, n int) []follower {
	if len(list) == 0 {
		return nil
	}
	out := slices.Clone(list)
	for k := range out {
		out[k].day = means(out[k].day, n)
	}
	return out
}

// means returns the mean of each n values of a day.
func means(day []float64, n int) []float64 {
	out := make([]float64, len(day)/n)
	for h := range out {
		sum := 0.0
		for _, v := range day[h*n : (h+1)*n] {
			sum += v
		}
		out[h] = sum / float64(n)
	}
	return out
}

// player is a swift run under way.
type player struct {
	*swift
	out                   *outcome
	potW, alsoW, airC     []float32
	state                 battery.State
	plug                  plug
	volts, bankC          float64
	gasLeft, kgPerW       float64
	inverterCut, loadsCut bool
	low, burned           float64 // of the day so far
	dcDark, acDark        bool
}

// stride goes over a whole stride from step i, in one or in two, and returns how far it came.
func (p *player) stride(i int) int {
	n := p.comes.stride
	sun := float32(0)
	for _, w := range p.potW[i : i+n] {
		sun += w
	}
	if sun <= 0 || p.comes.feed[i] != nothing {
		return p.leap(i, float64(sun)/float64(n), &p.longer)
	}
	half := p.shorter.steps
	if half == 0 {
		return 0
	}
	first := float32(0)
	for _, w := range p.potW[i : i+half] {
		first += w
	}
	went := p.leap(i, float64(first)/float64(half), &p.shorter)
	if went > 0 {
		went += p.leap(i+half, float64(sun-first)/float64(half), &p.shorter)
	}
	return went
}

// leap goes at once over one stride from step i with so much from the sun, and returns its steps, or 0 when it must not.
func (p *player) leap(i int, sunW float64, by *pace) int {
	n, at := by.steps, int(p.course.Minute[i])/(by.steps*p.course.StepMin)
	acIn, mode := p.comes.feed[i] != nothing, 0
	if acIn {
		mode = 1
	}
	if !by.calm[mode][at] {
		return 0
	}
	m, bank := &by.modes[mode], &p.sys.Bank
	air := float64(p.airC[i+n/2])
	if n%2 == 0 {
		air = (air + float64(p.airC[i+n/2-1])) / 2
	}
	bankC, heaterW := by.warmth.step(p.bankC, air)
	dc := p.direct(m, at, air, p.volts)
	var inv, charged, shed float64
	if acIn {
		inv, charged, shed = p.hooked(m, i, at, air, p.volts, !p.inverterCut)
	} else {
		inv = p.inverters(m, at, int(p.course.Minute[i]), air)
	}
	come, load := sunW, p.own+heaterW
	if !p.loadsCut {
		load += dc
	}
	if !p.inverterCut || acIn {
		load += inv
	}
	hours := float64(n) * p.course.StepH
	if charged > 0 {
		come += p.plug.gives(charged, load-come, p.state, (p.bankC+bankC)/2, hours)
	}
	next, flow := bank.Model.Step(p.state, come-load, (p.bankC+bankC)/2, hours)
	plugged := p.plug.next(flow.TerminalV, flow.CurrentA, bankC, hours, acIn)
	burns := m.burns(at, air)
	switch {
	case flow.Limit == battery.Temperature, flow.Limit != battery.None && (come <= load || p.loadsCut || p.inverterCut),
		next.SoC < p.sys.Floor && p.out.below < 0,
		latched(p.inverterCut, flow.TerminalV, bank.InverterOffV) != p.inverterCut,
		latched(p.loadsCut, flow.TerminalV, bank.LoadsOffV) != p.loadsCut,
		burns > 0 && p.out.gasOut < 0 && p.gasLeft <= burns*float64(n)*p.kgPerW,
		acIn && (plugged.Stage != p.plug.state.Stage || p.plug.mayRestart(flow.TerminalV, bankC)):
		return 0
	}
	first := p.state.SoC + (next.SoC-p.state.SoC)/float64(n) // what the first step alone would have come to
	p.state, p.volts, p.bankC, p.plug.state = next, flow.TerminalV, bankC, plugged
	if acIn {
		p.out.shedWh += shed * hours
	} else {
		p.out.loadWh += (dc + inv) * hours
		p.out.offGridH += hours
	}
	p.dcDark, p.acDark = p.dcDark || p.loadsCut, p.acDark || p.inverterCut && !acIn
	if nightly(p.course.Minute[i]) {
		p.low = min(p.low, first, next.SoC)
	}
	p.keepLate(i, min(first, next.SoC))
	p.burned += burns * float64(n)
	p.gasLeft -= burns * float64(n) * p.kgPerW
	return n
}

// walk goes one step.
func (p *player) walk(i int) {
	c, bank := p.course, &p.sys.Bank
	at := int(c.Minute[i]) / c.StepMin
	air := float64(p.airC[i])
	warmer, heaterW := p.warmth.step(p.bankC, air)
	p.bankC = warmer
	acIn := p.comes.feed[i] != nothing
	m := &p.modes[0]
	if acIn {
		m = &p.modes[1]
	}
	dc := p.direct(m, at, air, p.volts)
	inv, come, charged := 0.0, float64(p.potW[i]), 0.0
	if p.comes.engine[i] != convert.EngineOff {
		vehicle := p.engineW(i, p.volts)
		if p.alsoW != nil && p.alsoW[i] > 0 {
			come, vehicle = p.combined(come, float64(p.alsoW[i]), vehicle, p.volts)
		}
		come += vehicle
	}
	if acIn {
		var shed float64
		inv, charged, shed = p.hooked(m, i, at, air, p.volts, !p.inverterCut)
		p.out.shedWh += shed * c.StepH
	} else {
		inv = p.inverters(m, at, int(c.Minute[i]), air)
		p.out.loadWh += (dc + inv) * c.StepH
		p.out.offGridH += c.StepH
	}
	load := p.own + heaterW
	if !p.loadsCut {
		load += dc
	}
	if !p.inverterCut || acIn {
		load += inv
	}
	if charged > 0 {
		come += p.plug.gives(charged, load-come, p.state, p.bankC, c.StepH)
	}
	net := come - load
	next, flow := bank.Model.Step(p.state, net, p.bankC, c.StepH)
	p.state, p.volts = next, flow.TerminalV
	p.plug.state = p.plug.next(p.volts, flow.CurrentA, p.bankC, c.StepH, acIn)
	empty := net < 0 && flow.PowerW > net
	if empty {
		p.bankC = p.warmth.unheated(p.bankC, heaterW)
	}
	p.dcDark, p.acDark = p.dcDark || empty || p.loadsCut, p.acDark || empty || p.inverterCut && !acIn
	p.inverterCut = latched(p.inverterCut, p.volts, bank.InverterOffV)
	p.loadsCut = latched(p.loadsCut, p.volts, bank.LoadsOffV)
	if p.state.SoC < p.low && nightly(c.Minute[i]) {
		p.low = p.state.SoC
	}
	p.keepLate(i, p.state.SoC)
	if p.state.SoC < p.sys.Floor && p.out.below < 0 {
		p.out.below = i
	}
	burns := m.burns(at, air)
	p.burned += burns
	if p.gasLeft -= burns * p.kgPerW; p.gasLeft <= 0 && burns > 0 && p.out.gasOut < 0 {
		p.out.gasOut = i
	}
}

// keepLate keeps the lowest charge of the first night from a minute of its evening on.
func (p *player) keepLate(i int, soc float64) {
	if p.since == 0 || i >= p.course.Days[0].Steps {
		return
	}
	if minute := int(p.course.Minute[i]); minute >= p.since || minute < 12*60 {
		p.out.late = min(p.out.late, soc)
	}
}

// arrive fills what a stop fills on the day of arrival.
func (p *player) arrive(site *Site) {
	if site.fills("propane") {
		p.gasLeft = p.sys.Propane.KgFull
	}
	if site.fills("charge") {
		p.state.SoC = 1
	}
}

// ends writes a day's end.
func (p *player) ends(d int) {
	p.out.lows[d], p.out.gas[d] = float32(p.low), float32(p.burned*p.kgPerW)
	p.out.minSoC = math.Min(p.out.minSoC, p.low)
	if p.dcDark {
		p.out.dcDark++
	}
	if p.acDark {
		p.out.acDark++
	}
	p.low, p.burned, p.dcDark, p.acDark = 1, 0, false, false
}

// direct returns what DC loads ask in a step [W].
func (s *swift) direct(m *swiftMode, at int, air, volts float64) float64 {
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
	return dc
}

// burns returns the heat of the propane burned in a step [W].
func (m *swiftMode) burns(at int, air float64) float64 {
	w := m.burn[at]
	if m.burnAir != nil {
		w += m.burnAir.At(air)
	}
	for k := range m.burnParts {
		w += m.burnParts[k].day[at] * m.burnParts[k].air.At(air)
	}
	return w
}
