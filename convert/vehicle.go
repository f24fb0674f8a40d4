package convert

// Engine says what the vehicle's engine does.
type Engine uint8

// The states of the engine.
const (
	EngineOff Engine = iota
	Idling
	Cruising
)

// Shares of an alternator's printed rating that it gives hot, where nothing better is known: 0.45 at idle (0.35 to 0.55) and 0.75 at
// cruise (0.70 to 0.85). The printed rating is cold, at high speed ([ISO-8854]: 6,000 1/min, 23 °C, from memory). Common practice, no source.
const (
	TypicalHotIdle   = 0.45
	TypicalHotCruise = 0.75
)

// Alternator is one alternator.
type Alternator struct {
	RatedA     float64 // printed on it, cold [A], 5 to 1000
	HotIdleA   float64 // what it gives hot, at idle [A], 0 to HotCruiseA
	HotCruiseA float64 // what it gives hot, at cruising speed [A], 0 to 1000
}

// TypicalAlternator returns an alternator of which only the printed rating is known, by common practice, no source.
func TypicalAlternator(ratedA float64) Alternator {
	return Alternator{RatedA: ratedA, HotIdleA: TypicalHotIdle * ratedA, HotCruiseA: TypicalHotCruise * ratedA}
}

// VehicleParams describes the engine's side of charging.
type VehicleParams struct {
	Name        string
	Alternators []Alternator
	CruiseLoadA float64 // what the vehicle itself uses while driving [A], 0 to 500
	IdleLoadA   float64 // what it uses while idling [A], 0 to 500
	Volts       float64 // at the start of the charge line, engine running [V], 5 to 100
	RestsV      float64 // voltage when a variable regulator rests [V], at most Volts; zero: the regulation is fixed
	RestShare   float64 // share of running time for which it rests [1], 0 to 1; zero when fixed
}

// Vehicle is the engine's side of charging. Make it with NewVehicle; it never changes and may be used from any goroutine.
type Vehicle struct {
	params       VehicleParams
	idle, cruise float64 // spare current [A]
}

// NewVehicle checks the parameters and returns the vehicle, or every fault found.
func NewVehicle(p VehicleParams) (Vehicle, error) {
	f := faults{place: placed("vehicle", p.Name)}
	p.Alternators = append([]Alternator(nil), p.Alternators...)
	v := Vehicle{idle: -p.IdleLoadA, cruise: -p.CruiseLoadA}
	if len(p.Alternators) == 0 {
		f.add("no alternator")
	}
	for _, a := range p.Alternators {
		f.within("alternator rating", a.RatedA, 5, 1000, "A")
		f.within("hot output at cruise", a.HotCruiseA, 0, 1000, "A")
		f.within("hot output at idle", a.HotIdleA, 0, a.HotCruiseA, "A")
		v.idle += a.HotIdleA
		v.cruise += a.HotCruiseA
	}
	f.within("own load", p.CruiseLoadA, 0, 500, "A")
	f.within("load at idle", p.IdleLoadA, 0, 500, "A")
	f.within("volts", p.Volts, 5, 100, "V")
	f.optional("rests at", p.RestsV, 5, p.Volts, "V")
	f.within("rests for", p.RestShare, 0, 1, "of the time")
	if p.RestShare > 0 && p.RestsV == 0 {
		f.add("rests for a share of the time, but no voltage at which it rests is given")
	}
	if err := f.err(); err != nil {
		return Vehicle{}, err
	}
	v.params = p
	return v, nil
}

// Params returns what the vehicle was made from.
func (v *Vehicle) Params() VehicleParams {
	p := v.params
	p.Alternators = append([]Alternator(nil), p.Alternators...)
	return p
}

// SpareA returns what the hot alternators give beyond the vehicle's own load [A]; below zero the starter battery is drained even without
// charging. Zero with the engine off. Source: common practice, no source.
func (v *Vehicle) SpareA(e Engine) float64 {
	switch e {
	case Idling:
		return v.idle
	case Cruising:
		return v.cruise
	default:
		return 0
	}
}

// Phase is a voltage at the start of the charge line and the share of running time for which it stands there.
type Phase struct{ Volts, Share float64 }

// Phases returns the two phases of the regulator: working, and resting. With a fixed regulator the second has no share.
func (v *Vehicle) Phases() [2]Phase {
	return [2]Phase{{v.params.Volts, 1 - v.params.RestShare}, {v.params.RestsV, v.params.RestShare}}
}

// EngineCharge is charging from the engine over one step.
type EngineCharge struct {
	Engine  Engine
	LoopOhm float64 // resistance of the charge line there and back [Ω]
	BusV    float64 // bank voltage at the unit's output [V]
	AskW    float64 // what the bank would take [W]; Unlimited where nothing limits it
}

// EngineSupply is what comes of it, as means over the step. SourceW = OutputW + UnitLossW + LineLossW.
type EngineSupply struct {
	OutputW   float64 // into the bank's bus
	UnitLossW float64
	LineLossW float64
	SourceW   float64      // drawn from the vehicle at the start of the line
	MeanA     float64      // mean current from the vehicle
	SpareA    float64      // what the alternators have to spare
	ShortA    float64      // what the starter battery has to add, and loses: the unit's current beyond the spare, the vehicle's own shortfall not counted
	Points    [2]LinePoint // one for each phase of the regulator
}

// Charge returns what a DC-DC unit delivers while the engine is as stated, as the mean of the regulator's phases weighted by their
// share. With the engine off nothing flows, whatever the unit's wake. When the unit takes more than the alternators spare, the starter
// battery gives the rest and the voltage is kept: true for minutes, so ShortA has to be looked at. Source: ours.
func (v *Vehicle) Charge(u *DCDC, c EngineCharge) EngineSupply {
	out := EngineSupply{SpareA: v.SpareA(c.Engine)}
	if c.Engine != Idling && c.Engine != Cruising {
		return out
	}
	for i, ph := range v.Phases() {
		if ph.Share == 0 {
			continue
		}
		pt := SolveLine(u, LineInput{SourceV: ph.Volts, LoopOhm: c.LoopOhm, BusV: c.BusV, AskW: c.AskW, EngineRuns: true})
		out.Points[i] = pt
		out.OutputW += ph.Share * pt.OutputW
		out.UnitLossW += ph.Share * pt.UnitLossW
		out.LineLossW += ph.Share * pt.LineLossW
		out.SourceW += ph.Share * pt.SourceW
		out.MeanA += ph.Share * pt.MeanA
		out.ShortA += ph.Share * max(0, pt.MeanA-max(0, out.SpareA))
	}
	return out
}
