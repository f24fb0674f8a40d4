package convert

// LineState says how a DC-DC unit fares on its line.
type LineState uint8

// The states.
const (
	Asleep  LineState = iota // not woken, or nothing asked
	Runs                     // full power, or what the bank asks
	Limited                  // held by its input current limit
	Folds                    // lowers its power to hold its input voltage
	Cycles                   // cuts out, restarts, cuts out again
	CutsOut                  // cuts out and stays off: the unloaded line is below the restart voltage
	NoPoint                  // the line cannot deliver the power and nothing in the unit gives way
)

var lineStateNames = [...]string{"asleep", "runs", "limited", "folds back", "cuts out and restarts", "cuts out", "no operating point"}

// String returns the state in plain words.
func (s LineState) String() string {
	if int(s) < len(lineStateNames) {
		return lineStateNames[s]
	}
	return ""
}

// LineInput is a DC-DC unit on a charge line over one step.
type LineInput struct {
	SourceV    float64 // voltage at the start of the line, engine running [V]
	LoopOhm    float64 // resistance of the line there and back, with the source's own where SourceV is an open-circuit voltage [Ω]
	BusV       float64 // bank voltage at the unit's output [V]
	AskW       float64 // what the bank would take [W]; Unlimited where nothing limits it
	EngineRuns bool    // the engine-run signal
}

// LinePoint is the answer. Powers are means over time, cycling included: SourceW = OutputW + UnitLossW + LineLossW. V and A are those
// at the unit's input while it runs; for a unit that cycles, at the moment its power is highest.
type LinePoint struct {
	State     LineState
	V, A      float64
	OutputW   float64 // into the bank's bus
	UnitLossW float64 // heat in the unit
	LineLossW float64 // heat in the line
	SourceW   float64 // drawn from the start of the line
	MeanA     float64 // mean current from the source
	WantedW   float64 // what it would have put out on a line without resistance
	CriticalW float64 // most power the line can deliver at all, at the unit's input
	OnShare   float64 // share of time it runs
}

// SolveLine returns the operating point of a DC-DC unit on its line.
//
// The unit takes constant power, so the voltage solves V² - Vs·V + R·P = 0 (see constantPower). Where there is no solution or a limit is
// passed, the kind of unit decides: an input limit holds the current, V = Vs - R·I; fold-back holds the voltage, I = (Vs - V)/R; a unit
// that has neither, or that ends below its cut-out all the same, stops, and starts again when the unloaded line is at its restart
// voltage (see cycle). A unit that has none of these on a line that cannot feed it has no operating point and delivers nothing.
//
// An input that is below zero or no number counts as zero. Output falls or stays when R rises, when Vs falls, when limits tighten,
// except where an output falling to zero by cut-out is avoided by asking less. Exact for a steady source. Source: ours.
func SolveLine(u *DCDC, in LineInput) LinePoint {
	vs, r := positive(in.SourceV), positive(in.LoopOhm)
	want := min(u.MostW(in.BusV), positive(in.AskW))
	pt := LinePoint{CriticalW: criticalW(vs, r), WantedW: want}
	if want <= 0 || vs == 0 || !u.awake(in) {
		pt.WantedW = 0
		return pt
	}
	p := &u.params
	demand := u.loss.In(want)
	v, a, ok := constantPower(vs, r, demand)
	state := Runs
	if lim := p.InputLimitA; lim > 0 && (!ok || a > lim) {
		v, a, ok, state = vs-r*lim, lim, vs-r*lim > 0, Limited
	}
	if p.FoldsV > 0 && (!ok || v < p.FoldsV) {
		ok, state = true, Folds
		if v, a = p.FoldsV, 0; vs <= p.FoldsV {
			v = vs
		} else {
			a = (vs - p.FoldsV) / r
		}
	}
	switch {
	case p.CutsOutV > 0 && (!ok || v < p.CutsOutV):
		return u.cutOut(pt, vs, r, want)
	case !ok:
		pt.State = NoPoint
		return pt
	}
	pt.State, pt.V, pt.A, pt.MeanA, pt.OnShare = state, v, a, a, 1
	pt.SourceW, pt.LineLossW = vs*a, r*a*a
	if state == Runs {
		pt.OutputW, pt.UnitLossW = want, u.loss.At(want)
		return pt
	}
	pt.OutputW = u.loss.Out(v * a)
	pt.UnitLossW = v * a
	if pt.OutputW > 0 {
		pt.UnitLossW = u.loss.At(pt.OutputW)
	}
	return pt
}

// cutOut returns the point of a unit that cannot stay above its cut-out voltage.
func (u *DCDC) cutOut(pt LinePoint, vs, r, want float64) LinePoint {
	pt.State = CutsOut
	if vs < u.params.RestartV || vs <= u.params.CutsOutV {
		return pt
	}
	pt.State = Cycles
	return u.cycle(pt, vs, r, want)
}

// cycle fills in the means of a unit that starts, runs into its cut-out and starts again.
//
// Output rises evenly from nothing to want over RampS and stays there. The cut-out voltage Vc is passed at the input power Vc(Vs - Vc)/R;
// CutDelayS later it stops, or at once where the line's critical power is passed and no input limit holds the current. Then it is off
// for OffS. With neither ramp nor delay it delivers nothing, which is the worst end of what such a unit does. The means over the ramp
// are integrals of smooth functions, taken by Simpson's rule. Source: ours.
func (u *DCDC) cycle(pt LinePoint, vs, r, want float64) LinePoint {
	p := &u.params
	most, held := min(want, u.loss.Out(pt.CriticalW)), false // the highest output reached, and whether the input limit holds it there
	if lim := p.InputLimitA; lim > 0 && lim*r < vs/2 {
		most, held = min(want, u.loss.Out((vs-r*lim)*lim)), true
	}
	trip := most
	if vc := p.CutsOutV; vc > vs/2 {
		trip = min(most, u.loss.Out(vc*(vs-vc)/r))
	}
	at := func(outW float64) float64 { return p.RampS * outW / want } // time at which an output is reached [s]
	stop := at(trip) + p.CutDelayS
	if most < want && !held {
		stop = min(stop, at(most))
	}
	rise := min(stop, at(most))
	top := most
	if p.RampS > 0 {
		top = want * rise / p.RampS
	}
	if stop <= 0 {
		return pt
	}
	var sum [4]float64 // output, unit loss, line loss, source current, each times seconds
	add := func(outW, seconds float64) {
		_, a, _ := constantPower(vs, r, min(u.loss.In(outW), pt.CriticalW))
		for i, x := range [4]float64{outW, u.loss.At(outW), r * a * a, a} {
			sum[i] += x * seconds
		}
	}
	const parts = 64 // even
	for i := range parts + 1 {
		weight := 2 + 2*float64(i%2)
		if i == 0 || i == parts {
			weight = 1
		}
		add(top*float64(i)/parts, weight*rise/(3*parts))
	}
	add(top, stop-rise)
	pt.V, pt.A, _ = constantPower(vs, r, min(u.loss.In(top), pt.CriticalW))
	period := stop + p.OffS
	pt.OutputW, pt.UnitLossW, pt.LineLossW, pt.MeanA = sum[0]/period, sum[1]/period, sum[2]/period, sum[3]/period
	pt.SourceW, pt.OnShare = vs*pt.MeanA, stop/period
	return pt
}
