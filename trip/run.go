package trip

import (
	"math"

	"campwright/convert"
	"campwright/system"
)

// Run is one run of a rig along a course in one weather, with every watt booked. Energies are watt-hours.
type Run struct {
	Course *Course
	System *system.System

	Arrays                                           []ArrayLedger
	Loads                                            []LoadLedger
	Burns                                            []float64 // propane burned by each user [kg]
	InverterWh, InverterLossWh                       float64
	OwnWh, HeaterWh                                  float64
	BankInWh, BankOutWh                              float64 // at the terminals
	ResistiveWh, PolarisationWh, CoulombicWh, LeakWh float64
	StartWh, EndWh                                   float64 // stored
	UnmetWh                                          float64 // at the bus
	FilledKg                                         float64 // propane filled on the way
	VehicleWh, EngineH, ShortAh                      float64 // from the vehicle to the bus; hours; what its starter battery lost
	ChargeWh, ChargeInWh                             float64 // from chargers on AC to the bus, and what they took
	ShoreWh, GeneratorWh                             float64 // AC taken in all
	GeneratorH, FuelL                                float64
	ShoreFeedWh, GeneratorFeedWh                     float64 // of the AC taken, what fed loads
	StarvedW                                         float64 // largest heat rate that a cold cylinder could not feed

	SoC, Volts, SolarW, LoadW []float32 // at the end of each step; means over it
	GasKg                     []float32 // left, at the end of each step
	Days                      []RunDay

	WorstStepWh float64 // largest difference of the two sides of any step's ledger
}

// ArrayLedger is where an array's sun went [Wh].
type ArrayLedger struct {
	Potential                             float64 // best power of the array, at the modules
	Cable, Loss, Bus                      float64
	ByVoltage, ByCurrent, ByPower, ByBank float64 // not taken
}

// LoadLedger is what a load asked for and got, at its own circuit [Wh].
type LoadLedger struct{ Asked, Served float64 }

// RunDay is one day of a run.
type RunDay struct {
	LowSoC         float64
	LowStep        int
	SolarWh        float64
	ServedWh       float64
	UnmetWh        float64
	ThrownWh       float64
	GasKg          float64
	AirLow         float64
	AirHigh        float64
	SunWhM2        float64
	ColdBlock      bool    // charging was refused for cold while the sun offered
	Cut            bool    // the inverter's low-voltage cut-off opened
	LoadsCut, Open bool    // the load cut-off; the battery's own electronics
	Overload       bool    // more was asked of an inverter, or of what comes in, than it can give
	StarvedH       float64 // hours for which cold kept a cylinder from feeding what was asked
	Dark           bool    // something that was asked for was not served
}

// runner holds what a run needs besides the ledger, so that a run allocates only once.
type runner struct {
	sys    *system.System
	course *Course
	offers []offer
	inputs []convert.Input
	demand demand
	modes  [2]sums // without and with AC coming in
	comes  *schedule
	lives  bool // somebody is there
}

// sums are the loads of a rig gathered by how they behave, for the steps with or without AC coming in.
type sums struct {
	dc    []float64   // DC loads that follow neither air nor voltage, by step of the civil day [W]
	amps  []float64   // DC loads rated in amps, likewise [A]
	ac    [][]float64 // AC loads by inverter, and last those that no inverter feeds [W]
	still [][]float64 // share of each step in which none of them runs
	airDC []int       // loads that follow the air, on DC
	airAC []int
}

func newRunner(sys *system.System, c *Course, lives bool) *runner {
	r := &runner{sys: sys, course: c, lives: lives}
	for range sys.Arrays {
		r.offers = append(r.offers, offer{powerW: make([]float64, c.N), volts: make([]float64, c.N), cableW: make([]float64, c.N)})
	}
	for i := range sys.Arrays {
		r.offers[i].openBy = sys.Arrays[i].OpenRatio
	}
	r.inputs = make([]convert.Input, len(sys.Controllers))
	r.demand = demand{acW: make([]float64, len(sys.Inverters)), busy: make([]float64, len(sys.Inverters)), on: make([]bool, len(sys.Inverters))}
	r.comes = newSchedule(sys, c)
	perDay := 1440 / c.StepMin
	for m := range r.modes {
		s := &r.modes[m]
		s.dc, s.amps = make([]float64, perDay), make([]float64, perDay)
		for range len(sys.Inverters) + 1 {
			s.ac = append(s.ac, make([]float64, perDay))
			s.still = append(s.still, ones(perDay))
		}
		for i := range sys.Loads {
			if l := &sys.Loads[i]; (lives || l.Parked) && l.When.Holds(m == 1) {
				s.take(i, l)
			}
		}
	}
	return r
}

// take puts a load into the sum or the list it belongs to.
func (s *sums) take(i int, l *system.Load) {
	switch {
	case l.ByAir != nil && l.Bus == system.AC:
		s.airAC = append(s.airAC, i)
	case l.ByAir != nil:
		s.airDC = append(s.airDC, i)
	case l.Bus == system.AC:
		add(s.ac[s.circuit(l)], l.Day)
		hush(s.still[s.circuit(l)], l)
	case l.Amps:
		add(s.amps, l.Day)
	default:
		add(s.dc, l.Day)
	}
}

// circuit returns the row of ac that an AC load belongs to.
func (s *sums) circuit(l *system.Load) int {
	if l.Inverter < 0 {
		return len(s.ac) - 1
	}
	return l.Inverter
}

// ones returns a column of ones.
func ones(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = 1
	}
	return out
}

// hush takes from the share of each step in which nothing runs the share in which this load does.
func hush(still []float64, l *system.Load) {
	for i, w := range l.Day {
		still[i] *= 1 - l.Busy(w)
	}
}

// nightly tells whether a step counts for a night's low: not the afternoon, in which a bank that came empty out of the morning is on its way
// up.
func nightly(minute uint16) bool { return minute < 12*60 || minute >= 17*60 }

func add(sum, more []float64) {
	for i, v := range more {
		sum[i] += v
	}
}

// ask fills the demand of step i at a bus voltage.
func (r *runner) ask(i int, airC, volts float64) *demand {
	minute := int(r.course.Minute[i])
	at := minute / r.course.StepMin
	d := &r.demand
	d.feed, d.engine = r.comes.feed[i], r.comes.engine[i]
	m := &r.modes[0]
	if d.feed != nothing {
		m = &r.modes[1]
		site := r.course.Days[r.course.Day[i]].Site
		if d.hook = r.comes.hooks[site]; d.feed == generator {
			d.hook = r.comes.gen[site]
		}
	}
	d.dcW = m.dc[at] + m.amps[at]*volts
	for _, k := range m.airDC {
		l := &r.sys.Loads[k]
		w := l.Day[at] * l.ByAir.At(airC)
		if l.Amps {
			w *= volts
		}
		d.dcW += w
	}
	for v := range d.acW {
		d.acW[v], d.busy[v] = m.ac[v][at], m.still[v][at]
	}
	d.bareW = m.ac[len(d.acW)][at]
	for _, k := range m.airAC {
		l := &r.sys.Loads[k]
		w := l.Day[at] * l.ByAir.At(airC)
		if l.Inverter < 0 {
			d.bareW += w
		} else {
			d.acW[l.Inverter] += w
			d.busy[l.Inverter] *= 1 - l.Busy(w)
		}
	}
	for v := range d.on {
		inv := &r.sys.Inverters[v]
		d.busy[v] = 1 - d.busy[v]
		d.on[v] = inv.On(minute) && (!inv.Used || d.acW[v] > 0) && (r.lives || inv.Parked)
	}
	return d
}

// offer fills what each controller's arrays give in step i. Arrays on one controller meet at one voltage; those of unlike voltage were
// refused when the rig was assembled or are judged by the rules, so here their powers add at the voltage of the strongest.
func (r *runner) offer(i int) {
	for k := range r.inputs {
		r.inputs[k] = convert.Input{}
	}
	for a := range r.sys.Arrays {
		p := r.offers[a].powerW[i]
		if p <= 0 {
			continue
		}
		in := &r.inputs[r.sys.Arrays[a].Controller]
		if v := r.offers[a].volts[i]; p > in.MPPW-p || in.MPPV == 0 {
			in.MPPV, in.OpenV = v, v*r.offers[a].openBy
		}
		in.MPPW += p
	}
}

// run plays the course once and books everything.
func (r *runner) run(w Weather) *Run {
	c := r.course
	out := &Run{
		Course: c, System: r.sys, Arrays: make([]ArrayLedger, len(r.sys.Arrays)), Loads: make([]LoadLedger, len(r.sys.Loads)),
		Burns: make([]float64, len(r.sys.Burns)), Days: make([]RunDay, len(c.Days)),
		SoC: make([]float32, c.N), Volts: make([]float32, c.N), SolarW: make([]float32, c.N), LoadW: make([]float32, c.N), GasKg: make([]float32, c.N),
	}
	for d := range out.Days {
		out.Days[d] = RunDay{LowSoC: math.Inf(1), AirLow: math.Inf(1), AirHigh: math.Inf(-1)}
	}
	b := newBus(r.sys, c.StepH, w.AirC[0], r.lives)
	out.StartWh = r.sys.Bank.Model.Energy(b.state.SoC)
	gas := r.sys.Propane.StartKg
	for i := range c.N {
		if d := int(c.Day[i]); i == c.Days[d].First && c.arrives(d) {
			gas = out.arrive(b, c.Days[d].Site, gas)
		}
		air, volts := w.AirC[i], b.volts
		r.offer(i)
		d := r.ask(i, air, volts)
		s := b.step(r.inputs, d, air)
		out.bookSun(r, b, i)
		out.bookStep(r, b, s, i, air, volts)
		gas = out.bookGas(r, i, air, gas)
		out.bookDay(r, b, s, i, w)
	}
	out.EndWh = r.sys.Bank.Model.Energy(b.state.SoC)
	return out
}

// arrive fills what is filled on arrival at a site and returns the propane then aboard [kg]. Charge taken from elsewhere is booked as what
// the bank began with.
func (out *Run) arrive(b *bus, site int, gas float64) float64 {
	s := &out.Course.Sites[site]
	if s.fills("charge") {
		before := out.System.Bank.Model.Energy(b.state.SoC)
		b.state.SoC = 1
		out.StartWh += out.System.Bank.Model.Energy(1) - before
	}
	if s.fills("propane") {
		out.FilledKg += out.System.Propane.KgFull - gas
		return out.System.Propane.KgFull
	}
	return gas
}

// bookSun books one step's sun. Arrays that share a controller share what it lost in proportion to what they offered.
func (out *Run) bookSun(r *runner, b *bus, i int) {
	h := b.stepH
	for a := range r.sys.Arrays {
		p := r.offers[a].powerW[i]
		if p <= 0 {
			continue
		}
		k := r.sys.Arrays[a].Controller
		o, l := &b.outs[k], &out.Arrays[a]
		part := h * p / r.inputs[k].MPPW
		l.Potential += (p + r.offers[a].cableW[i]) * h
		l.Cable += r.offers[a].cableW[i] * h
		l.Bus += o.BusW * part
		l.Loss += o.LossW * part
		l.ByVoltage += o.VoltageW * part
		l.ByCurrent += o.CurrentW * part
		l.ByPower += o.PowerW * part
		l.ByBank += o.CurtailedW * part
	}
}

// bookStep books loads, losses and the bank, and holds the two sides of the step's ledger against each other.
func (out *Run) bookStep(r *runner, b *bus, s sharing, i int, air, volts float64) {
	h := b.stepH
	at := int(r.course.Minute[i]) / r.course.StepMin
	dcServed := 0.0
	for k := range r.sys.Loads {
		l := &r.sys.Loads[k]
		if !r.lives && !l.Parked || !l.When.Holds(r.demand.feed != nothing) {
			continue
		}
		w := l.Day[at]
		if w == 0 {
			continue
		}
		if l.ByAir != nil {
			w *= l.ByAir.At(air)
		}
		if l.Amps {
			w *= volts
		}
		share := s.dcShare
		if l.Bus == system.AC {
			switch {
			case r.demand.feed != nothing:
				share = s.acShare
			case l.Inverter < 0 || !r.demand.on[l.Inverter]:
				continue // nothing feeds it, or its owner switched the inverter off
			default:
				share = b.acShare[l.Inverter]
			}
		} else {
			dcServed += w * share
		}
		out.Loads[k].Asked += w * h
		out.Loads[k].Served += w * share * h
	}
	f := s.flow
	out.InverterWh += s.inverterW * h
	out.InverterLossWh += s.lossW * h
	out.OwnWh += s.ownW * h
	out.HeaterWh += s.heaterW * h
	out.BankInWh += math.Max(f.PowerW, 0) * h
	out.BankOutWh += math.Max(-f.PowerW, 0) * h
	out.ResistiveWh += f.ResistiveLossW * h
	out.PolarisationWh += f.PolarisationLossW * h
	out.CoulombicWh += f.CoulombicLossW * h
	out.LeakWh += f.SelfDischargeW * h
	out.UnmetWh += math.Max(0, s.wantedW-s.servedW) * h
	out.VehicleWh += s.vehicleW * h
	out.ChargeWh += s.chargeW * h
	out.ChargeInWh += s.chargeInW * h
	if r.demand.feed == generator {
		out.GeneratorWh += (s.feedW + s.chargeInW) * h
		out.GeneratorFeedWh += s.feedW * h
		out.GeneratorH += h
		out.FuelL += r.sys.Supply.Generator.FuelLph(s.feedW+s.chargeInW) * h
	} else {
		out.ShoreWh += (s.feedW + s.chargeInW) * h
		out.ShoreFeedWh += s.feedW * h
	}
	if s.vehicleW > 0 {
		out.EngineH += h
		out.ShortAh += s.shortA * h
	}
	in := s.solarW + s.vehicleW + s.chargeW + math.Max(-f.PowerW, 0)
	used := dcServed + s.inverterW + s.ownW + s.heaterW + math.Max(f.PowerW, 0)
	if worst := math.Abs(in-used) * h; worst > out.WorstStepWh {
		out.WorstStepWh = worst
	}
	out.SoC[i], out.Volts[i], out.SolarW[i], out.LoadW[i] = float32(b.state.SoC), float32(f.TerminalV), float32(s.solarW), float32(s.servedW)
}

// bookGas burns one step's propane and returns what is left [kg]. It burns on when the bank is empty and boards and blowers are out: each
// store is followed as if the others held, so that the soonest end is not hidden by another. A cylinder that cold keeps from boiling fast enough is booked, not
// choked: what the flame then lacks depends on regulator and hose.
func (out *Run) bookGas(r *runner, i int, air, left float64) float64 {
	at := int(r.course.Minute[i]) / r.course.StepMin
	day := &out.Days[r.course.Day[i]]
	total := 0.0
	if r.lives {
		for k := range r.sys.Burns {
			u := &r.sys.Burns[k]
			w := u.Day[at]
			if w == 0 || !u.When.Holds(r.demand.feed != nothing) {
				continue
			}
			if u.ByAir != nil {
				w *= u.ByAir.At(air)
			}
			kg := math.Min(left, w*r.course.StepH*r.sys.Propane.KgPerWh)
			out.Burns[k] += kg
			day.GasKg += kg
			left -= kg
			total += w
		}
	}
	// The last tenth of a vessel runs thin in any weather and is left to the change-over.
	if p := &r.sys.Propane; p.Boils && total > 0 && left > 0 && filling(left, p.Each) > 0.1 && total > p.Vessel.DrawLimitW(filling(left, p.Each), air) {
		day.StarvedH += r.course.StepH
		out.StarvedW = math.Max(out.StarvedW, total)
	}
	out.GasKg[i] = float32(left)
	return left
}

// filling returns how full the vessel in use is when so much propane [kg] is left in vessels of one size that are emptied one by one.
func filling(left, each float64) float64 {
	if each <= 0 {
		return 0
	}
	share := math.Mod(left, each) / each
	if share == 0 {
		return 1
	}
	return share
}

// bookDay gathers the day's figures.
func (out *Run) bookDay(r *runner, b *bus, s sharing, i int, w Weather) {
	day := &out.Days[r.course.Day[i]]
	if b.state.SoC < day.LowSoC && nightly(r.course.Minute[i]) {
		day.LowSoC, day.LowStep = b.state.SoC, i
	}
	h := b.stepH
	day.SolarWh += (s.solarW + s.vehicleW + s.chargeW) * h
	day.ServedWh += s.servedW * h
	if s.wantedW > s.servedW*(1+1e-9) {
		day.UnmetWh += (s.wantedW - s.servedW) * h
		day.Dark = true
	}
	for k := range b.outs {
		o := &b.outs[k]
		day.ThrownWh += (o.VoltageW + o.CurrentW + o.PowerW + o.CurtailedW) * h
	}
	day.ColdBlock, day.Overload = day.ColdBlock || s.coldBlock, day.Overload || s.overload
	day.Cut, day.LoadsCut, day.Open = day.Cut || b.inverterCut && len(r.sys.Inverters) > 0, day.LoadsCut || b.loadsCut, day.Open || b.open
	day.AirLow, day.AirHigh = math.Min(day.AirLow, w.AirC[i]), math.Max(day.AirHigh, w.AirC[i])
	day.SunWhM2 += w.GHI[i] * h
}
