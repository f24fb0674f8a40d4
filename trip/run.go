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
	IdleWh                                           []float64 // of the inverters' loss, that of each while nothing ran on it
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

	furnaces []bool // by burner: it heats with a blower
	stalled  bool   // a blower that was asked for stood still in the step under way

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
	FrozenH        float64 // hours for which the acid of a lead-acid bank was below its freezing point
	FrozenSoC      float64 // charge at which it lay furthest below, and how warm the bank was then [°C]
	FrozenC        float64
	ColdBlock      bool    // charging was refused for cold while the sun offered
	Cut            bool    // the inverter's low-voltage cut-off opened
	LoadsCut, Open bool    // the load cut-off; the battery's own electronics
	Overload       bool    // more was asked of an inverter, or of what comes in, than it can give
	StarvedH       float64 // hours for which cold kept a cylinder from feeding what was asked
	NoGasH         float64 // hours for which propane was asked for and none was left
	NoHeatH        float64 // hours for which a furnace was to burn and had no propane, or no power for its blower
	OffWh          float64 // asked of inverters that their owner has switched off, or of none at all
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
		Burns: make([]float64, len(r.sys.Burns)), IdleWh: make([]float64, len(r.sys.Inverters)), Days: make([]RunDay, len(c.Days)),
		SoC: make([]float32, c.N), Volts: make([]float32, c.N), SolarW: make([]float32, c.N), LoadW: make([]float32, c.N), GasKg: make([]float32, c.N),
	}
	for d := range out.Days {
		out.Days[d] = RunDay{LowSoC: math.Inf(1), AirLow: math.Inf(1), AirHigh: math.Inf(-1)}
	}
	out.furnaces = furnacesOf(r.sys)
	b := newBus(r.sys, c.StepH, w.AirC[0], r.lives)
	out.StartWh = r.sys.Bank.Model.Energy(b.state.SoC)
	gas := r.sys.Propane.StartKg
	for i := range c.N {
		if d := int(c.Day[i]); i == c.Days[d].First && c.arrives(d) {
			gas = out.arrive(b, c.Days[d].Site, gas)
		} else if i == c.Days[d].First && c.hauled(d, "propane") {
			gas = out.filled(gas)
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
