package convert

import "math"

// InverterParams describes an inverter. Zero means "not given" where the comment says so.
type InverterParams struct {
	Name     string
	RatedW   float64 // lasting AC output [W], 10 to 1e6
	SurgeW   float64 // AC output for a motor start [W], at least RatedW; zero: RatedW
	IdleW    float64 // draw from the bank just to be on, without load [W], 0 to 1000
	SearchW  float64 // draw while it looks for a load, at most IdleW [W]; zero: it has no such mode
	WakesAtW float64 // smallest AC load that ends the search [W]; a smaller one is not served. Needs SearchW; zero: any load
	Peak     float64 // peak efficiency, bank to AC [1], 0.3 to 1
	Full     float64 // efficiency at rated output [1], at most Peak; zero: taken from PeakAt
	PeakAt   float64 // output of peak efficiency as share of the rating, 0.01 to 1; zero: TypicalInverterPeakAt. Unused when Full is given
	CutOffV  float64 // bank voltage at which it stops [V]; zero: none
	RestartV float64 // bank voltage at which it starts again [V], at least CutOffV; zero: CutOffV
}

// TypicalInverterPeakAt is the load share of peak efficiency taken where nothing is said. It follows from the typical figures idle
// 12 W per kW, peak 0.91, full load 0.88 by the formula of fitIdle. Common practice, no source: peaks lie at 0.2 to 0.4.
const TypicalInverterPeakAt = 0.36

// Inverter makes AC from the bank. Make it with NewInverter; it never changes and may be used from any goroutine.
type Inverter struct {
	params InverterParams
	loss   Loss
}

// NewInverter checks the parameters and returns the inverter, or every fault found.
func NewInverter(p InverterParams) (Inverter, error) {
	f := faults{place: placed("inverter", p.Name)}
	f.within("power", p.RatedW, 10, 1e6, "W")
	f.optional("surge", p.SurgeW, p.RatedW, 1e7, "W")
	f.within("idle", p.IdleW, 0, 1000, "W")
	f.within("search", p.SearchW, 0, p.IdleW, "W")
	f.within("wakes at", p.WakesAtW, 0, p.RatedW, "W")
	if p.WakesAtW > 0 && p.SearchW == 0 {
		f.add("wakes at %.6g W without a search mode", p.WakesAtW)
	}
	f.within("efficiency", p.Peak, 0.3, 1, "")
	f.optional("full-load efficiency", p.Full, 0.3, p.Peak, "")
	f.optional("peak at", p.PeakAt, 0.01, 1, "of rating")
	f.optional("cut-off", p.CutOffV, 1, 1000, "V")
	f.optional("restart", p.RestartV, p.CutOffV, 1000, "V")
	if err := f.err(); err != nil {
		return Inverter{}, err
	}
	loss, ok := fitIdle(p)
	if !ok {
		f.add("idle %.6g W above the %.6g W that an efficiency of %.6g leaves for loss at %.6g W", p.IdleW,
			p.RatedW*(1/p.Peak-1), p.Peak, p.RatedW)
		return Inverter{}, f.err()
	}
	if p.SurgeW == 0 {
		p.SurgeW = p.RatedW
	}
	if p.RestartV == 0 {
		p.RestartV = p.CutOffV
	}
	return Inverter{params: p, loss: loss}, nil
}

// fitIdle returns the loss curve with P0 = idle draw, through the peak efficiency and either the efficiency at rating or the load share
// of the peak, and false when idle draw and peak efficiency contradict each other.
//
// With k = 1/peak - 1, u = rating over output of the peak, and P0 = b·P*² at the peak:
//
//	a = k - 2·P0·u/rated, b = P0·(u/rated)²
//	1/full - 1 = k + P0·(u-1)²/rated, so u = 1 + √((1/full - 1 - k)·rated/P0)
//
// Where a would fall below zero the peak moves up until a is zero; where it would have to lie above the rating, the efficiency at the
// rating takes the peak's value. Source: ours, from the curve of Loss.
func fitIdle(p InverterParams) (loss Loss, ok bool) {
	k, rated, idle := 1/p.Peak-1, p.RatedW, p.IdleW
	kFull := k
	if p.Full > 0 {
		kFull = 1/p.Full - 1
	}
	if idle == 0 {
		return Loss{PerW: k, PerWSqr: (kFull - k) / rated}, true
	}
	if idle > k*rated {
		return Loss{}, false
	}
	u := 1 / TypicalInverterPeakAt
	switch {
	case p.Full > 0:
		u = 1 + math.Sqrt((kFull-k)*rated/idle)
	case p.PeakAt > 0:
		u = 1 / p.PeakAt
	}
	u = min(u, k*rated/(2*idle))
	if u < 1 {
		return Loss{FixedW: idle, PerWSqr: (k*rated - idle) / (rated * rated)}, true
	}
	return Loss{FixedW: idle, PerW: max(0, k-2*idle*u/rated), PerWSqr: idle * u * u / (rated * rated)}, true
}

// Params returns what the inverter was made from, with what was left out filled in.
func (v *Inverter) Params() InverterParams { return v.params }

// Loss returns the inverter's loss curve over its AC output.
func (v *Inverter) Loss() Loss { return v.loss }

// DCW returns the power drawn from the bank [W] to put out acW [W], awake; acW below zero counts as zero. Above the rating the same
// curve goes on, as it does for the instant of a motor start.
func (v *Inverter) DCW(acW float64) float64 { return v.loss.In(positive(acW)) }

// DCA returns the current drawn from the bank [A] to put out acW [W] with volts at the inverter's terminals [V]; zero where volts is not
// above zero. Source: I = P/(η·V).
func (v *Inverter) DCA(acW, volts float64) float64 {
	if !(volts > 0 && volts <= 1e6) {
		return 0
	}
	return v.DCW(acW) / volts
}

// ACW returns the AC output [W] that dcW [W] from the bank can make, without regard to the rating.
func (v *Inverter) ACW(dcW float64) float64 { return v.loss.Out(positive(dcW)) }

// CanStart tells whether a motor that needs startW [W] for its start can start while runningW [W] is on already, and the margin left
// of the surge rating [W], below zero when it cannot. The load seen during the start is their sum.
func (v *Inverter) CanStart(startW, runningW float64) (ok bool, marginW float64) {
	marginW = v.params.SurgeW - positive(startW) - positive(runningW)
	return marginW >= 0, marginW
}

// InverterState says what an inverter does.
type InverterState uint8

// The states of an inverter.
const (
	InverterOff    InverterState = iota // switched off: draws nothing
	InverterSearch                      // looks for a load
	InverterOn                          // makes AC
	InverterCut                         // stopped by low bank voltage
)

var inverterStateNames = [...]string{"off", "searching", "on", "stopped by low voltage"}

// String returns the state in plain words.
func (s InverterState) String() string {
	if int(s) < len(inverterStateNames) {
		return inverterStateNames[s]
	}
	return ""
}

// ACDemand is what is asked of an inverter over one step, as means over the step.
type ACDemand struct {
	LoadW float64       // AC load [W]; below zero or no number counts as zero
	BusV  float64       // bank voltage at the inverter's terminals [V]
	On    bool          // switched on
	Was   InverterState // its state in the step before
}

// ACSupply is what the inverter does about it. LoadW = ServedW + UnservedW and DCW = ServedW + LossW.
type ACSupply struct {
	State     InverterState
	DCW       float64 // drawn from the bank
	ServedW   float64 // AC put out
	UnservedW float64 // AC asked for and not put out
	LossW     float64 // heat
	Overload  bool    // more was asked than the lasting rating: a real inverter trips and drops all; ServedW is then the rating
}

// Supply returns what the inverter draws and puts out. It stops below its cut-off and, once stopped, stays so below its restart
// voltage; a bus voltage that is no number stops it. No error.
func (v *Inverter) Supply(d ACDemand) ACSupply {
	load := positive(d.LoadW)
	if !d.On {
		return ACSupply{State: InverterOff, UnservedW: load}
	}
	least := v.params.CutOffV
	if d.Was == InverterCut {
		least = v.params.RestartV
	}
	if !(d.BusV >= least) {
		return ACSupply{State: InverterCut, UnservedW: load}
	}
	if v.params.SearchW > 0 && (load == 0 || load < v.params.WakesAtW) {
		return ACSupply{State: InverterSearch, DCW: v.params.SearchW, UnservedW: load, LossW: v.params.SearchW}
	}
	s := ACSupply{State: InverterOn, ServedW: load}
	if load > v.params.RatedW {
		s.ServedW, s.Overload = v.params.RatedW, true
		s.UnservedW = load - v.params.RatedW
	}
	s.LossW = v.loss.At(s.ServedW)
	s.DCW = s.ServedW + s.LossW
	return s
}
