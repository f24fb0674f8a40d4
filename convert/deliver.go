package convert

import "math"

// Cause names what decided a controller's output.
type Cause uint8

// The causes, in the order in which they are looked for.
const (
	Tracking     Cause = iota // the array's best power, converted
	Dark                      // the array offers nothing
	NoBank                    // bank voltage missing or not above zero
	Destroyed                 // open-circuit voltage above what the controller survives
	NotStarted                // open-circuit voltage does not clear the start-up margin
	BelowWindow               // array held above its best voltage, because that is too low for the controller
	AboveWindow               // array held below its best voltage, because that is too high for the controller
	AtBank                    // direct controller: array at bank voltage, not at its best
	TooDim                    // less than the controller needs to be awake
	CurrentLimit              // output current limit
	PowerLimit                // output power limit
	Throttled                 // the bank takes less
)

var causeNames = [...]string{"tracking", "dark", "no bank", "destroyed", "not started", "array voltage too low", "array voltage too high",
	"array at bank voltage", "too dim", "output current limit", "power limit", "bank takes less"}

// String returns the cause in plain words.
func (c Cause) String() string {
	if int(c) < len(causeNames) {
		return causeNames[c]
	}
	return ""
}

// Input is what an array offers a controller over one step, as means over the step, and the bank it charges.
type Input struct {
	MPPW  float64 // the array's best power at the controller's terminals [W]; below zero or no number counts as zero
	MPPV  float64 // the voltage at that power [V]
	OpenV float64 // open-circuit voltage [V]
	BusV  float64 // bank voltage at the controller's terminals [V]
	HeldA float64 // array current at the window's edge nearest to MPPV (direct: at its only voltage) [A], solved by the caller on the array's curve; zero: estimated by HeldCurrent
	Ran   bool    // whether it ran in the step before: a running controller stays on within the start-up margin
}

// Output is where every watt of an array's best power goes. All but BusW are counted on the array's side, and
// PotentialW = BusW + LossW + VoltageW + CurrentW + PowerW + CurtailedW to rounding.
type Output struct {
	PotentialW float64 // the array's best power
	BusW       float64 // delivered to the bank's bus
	LossW      float64 // turned into heat in the controller
	VoltageW   float64 // not taken: voltage outside the window, not started, destroyed, or not tracked
	CurrentW   float64 // not taken: output current limit
	PowerW     float64 // not taken: output power limit
	CurtailedW float64 // not taken: the bank takes less; filled by Throttle
	Running    bool
	Cause      Cause
}

// Deliver returns what the controller makes of an array, if the bank takes all of it; Throttle holds it to less.
//
// The array works at its best voltage if that lies in the window, otherwise at the nearest edge; what that costs is VoltageW. Then come
// the loss and the limits. CurrentW is what the current limit alone keeps from being taken, PowerW what the power limit keeps on top of
// it: where both bind, the sum is what both do together.
// No error: an input that is no number counts as nothing offered, and the cause says so.
//
// Source: ours, bookkeeping; loss by Loss.
func (c *Controller) Deliver(in Input) (out Output) {
	p := in.MPPW
	if !(p > 0 && p <= math.MaxFloat64) {
		out.Cause = Dark
		return out
	}
	out.PotentialW = p
	if !(in.BusV > 0 && in.BusV <= 1e4) {
		out.VoltageW, out.Cause = p, NoBank
		return out
	}
	taken := p
	if !c.tracks(&in) {
		taken, out.Cause = c.hold(in)
		out.VoltageW = p - taken
	}
	bus := c.loss.Out(taken)
	if bus <= 0 {
		out.LossW = taken
		if taken > 0 {
			out.Cause = TooDim
		}
		return out
	}
	out.Running = true
	if most := c.limitA * in.BusV; bus > most || bus > c.limitW {
		bus = c.limit(&out, taken, bus, most)
	}
	out.BusW, out.LossW = bus, c.loss.At(bus)
	return out
}

// limit books what the limits of current (as power, mostW) and power keep the array from adding, and returns the bus power left.
func (c *Controller) limit(out *Output, drawnW, busW, mostW float64) float64 {
	if busW > mostW {
		busW = mostW
		next := c.loss.In(mostW)
		out.CurrentW, drawnW, out.Cause = drawnW-next, next, CurrentLimit
	}
	if busW > c.limitW {
		busW = c.limitW
		out.PowerW, out.Cause = drawnW-c.loss.In(busW), PowerLimit
	}
	return busW
}

// tracks tells whether the array can work at its best voltage.
func (c *Controller) tracks(in *Input) bool {
	room := in.OpenV - in.BusV
	switch c.kind {
	case StepDown:
		return in.MPPV >= in.BusV+c.roomV && in.MPPV <= c.maxV && in.OpenV <= c.breakV && (in.Ran || room >= c.startV)
	case StepUp, StepBoth:
		_, high := c.Window(in.BusV)
		return in.MPPV >= 0 && in.MPPV <= high && in.OpenV <= c.breakV && (in.Ran || c.starts(in.OpenV, in.BusV))
	default:
		return false
	}
}

// starts tells whether a controller at rest would start.
func (c *Controller) starts(openV, busV float64) bool {
	switch c.kind {
	case StepDown:
		return openV >= busV+c.startV
	case StepUp:
		return openV > 0 && openV <= busV-c.startV
	default:
		return openV > 0
	}
}

// hold returns the power an array gives when it cannot be held at its best voltage, and why.
func (c *Controller) hold(in Input) (takenW float64, cause Cause) {
	low, high := c.Window(in.BusV)
	if in.OpenV > c.breakV {
		return 0, Destroyed
	}
	if !(in.OpenV > 0) || !in.Ran && !c.starts(in.OpenV, in.BusV) {
		return 0, NotStarted
	}
	var at float64
	switch {
	case c.kind == Direct:
		at, cause = low, AtBank
	case !(low <= high):
		return 0, AboveWindow
	case in.MPPV > high:
		at, cause = high, AboveWindow
	default:
		at, cause = low, BelowWindow
	}
	if !(in.OpenV > at) {
		return 0, cause
	}
	amps := in.HeldA
	if !(amps > 0) {
		amps = HeldCurrent(Held{MPPW: in.MPPW, MPPV: in.MPPV, OpenV: in.OpenV, AtV: at})
	}
	return min(at*amps, in.MPPW), cause
}

// Throttle returns the output when the bus takes no more than askW [W]; what the array could have added is CurtailedW. An output that
// is below askW already comes back unchanged. askW below zero or no number counts as zero: the controller then idles on the array,
// awake, with its fixed loss.
func (c *Controller) Throttle(out Output, askW float64) Output {
	if !(askW > 0) {
		askW = 0
	}
	if !out.Running || out.BusW <= askW {
		return out
	}
	before := out.BusW + out.LossW
	out.BusW, out.LossW = askW, c.loss.At(askW)
	out.CurtailedW += before - (out.BusW + out.LossW)
	out.Cause = Throttled
	return out
}
