package circuit

import "math"

// branchKind says by which curve a branch takes current.
type branchKind uint8

const (
	ohmic   branchKind = iota // v·g
	fixed                     // whatever the voltage
	intake                    // a load of constant power within Intake
	outlet                    // a source of constant power within Outlet
	diode                     // a photovoltaic module
	skipped                   // taken out, in a fault study
)

// branch is one path for current between two merged nodes. Its current runs from a through the element to b; a source's is negative.
type branch struct {
	kind    branchKind
	element int32
	a, b    int32   // merged nodes in elimination order, or ground
	at      int32   // place of the pair in L, −1 when it has none
	off     float64 // how far the element's ends stand apart when a and b are at the same voltage [V]

	main  float64  // conductance [S], current [A] or power [W] by kind; +Inf for an outlet without power limit
	base  float64  // share of main that an intake takes at scale zero,
	slope float64  // and for each unit of scale
	e     *Element // the element itself, for its limits or diode

	inner float64 // of a diode: voltage at its junction, kept as the next start [V]
	v     float64 // across the element [V]
	i     float64 // current from a to b [A]
	g     float64 // di/dv [S]
}

// needsVolts tells that the curve exists above zero volts only.
func (b *branch) needsVolts() bool {
	switch b.kind {
	case intake:
		return b.main > 0 && b.e.Intake.LimitAmps == 0 && b.e.Intake.HoldVolts == 0
	case outlet:
		return b.main > 0 && b.e.Outlet.LimitAmps == 0 && b.e.Outlet.SetVolts == 0
	}
	return false
}

// set works out current and slope at the voltage v, with intakes scaled by scale.
func (b *branch) set(scale float64) {
	switch b.kind {
	case ohmic:
		b.g = b.main
		b.i = b.main * b.v
	case fixed:
		b.g, b.i = 0, b.main
	case intake:
		b.i, b.g = b.e.Intake.current((b.base+b.slope*scale)*b.main, b.v)
	case outlet:
		i, g := b.e.Outlet.current(b.main, b.v)
		b.i, b.g = -i, -g
	case diode:
		i, g := b.e.Diode.current(b.v, &b.inner)
		b.i, b.g = -i, -g
	default:
		b.i, b.g = 0, 0
	}
}

// current returns what a load that wants a power [W] takes at a voltage [V], and its slope [A/V].
func (in Intake) current(watts, v float64) (i, g float64) {
	if watts == 0 {
		return 0, 0
	}
	i, g = watts/v, -watts/(v*v)
	if in.LimitAmps > 0 && (v <= 0 || i > in.LimitAmps) {
		i, g = in.LimitAmps, 0
	}
	if in.HoldVolts > 0 {
		rise := watts / in.HoldVolts / in.HoldBand
		if held := rise * (v - in.HoldVolts + in.HoldBand); held <= 0 {
			i, g = 0, 0
		} else if v < in.HoldVolts && held < i {
			i, g = held, rise
		}
	}
	return i, g
}

// backLeak is the share of its slope by which a source leaks back past its set voltage, so that a node that hangs on it alone keeps a
// voltage. At 1 mΩ it is a nanoampere for each volt.
const backLeak = 1e-12

// current returns what a source that offers a power [W] delivers at a voltage [V], and its slope [A/V], zero or
// falling.
func (out Outlet) current(watts, v float64) (i, g float64) {
	i = math.Inf(1)
	if !math.IsInf(watts, 1) && v > 0 {
		i, g = watts/v, -watts/(v*v)
	} else if watts == 0 {
		return 0, 0
	}
	if out.LimitAmps > 0 && i > out.LimitAmps {
		i, g = out.LimitAmps, 0
	}
	if out.SetVolts > 0 {
		if set := (out.SetVolts - v) / out.SetOhms; set < 0 {
			i, g = backLeak*set, -backLeak/out.SetOhms
		} else if set < i {
			i, g = set, -1/out.SetOhms
		}
	}
	return i, g
}

// steep is the exponent past which the diode's curve is continued as a straight line, so that no trial voltage overflows.
const steep = 250

// junction returns the current of a module at a junction voltage w [V] and the slope of its loss, −dI/dw [S].
func (d *Diode) junction(w float64) (i, g float64) {
	x, line := w/d.IdealityVolts, 0.0
	if x > steep {
		x, line = steep, x-steep
	}
	e := d.SaturationAmps * math.Exp(x)
	return d.LightAmps - (e - d.SaturationAmps) - e*line - w/d.ShuntOhms, e/d.IdealityVolts + 1/d.ShuntOhms
}

// current returns the current of a module out of its positive terminal at a voltage [V], and its slope [A/V]. inner is where to start
// looking for the junction voltage and takes what was found.
//
// The junction voltage solves h(w) = w − Rs·I(w) − v = 0, and h rises and is convex: Newton's method from above falls to the root
// without overshoot.
func (d *Diode) current(v float64, inner *float64) (i, g float64) {
	if d.SeriesOhms == 0 {
		*inner = v
		i, g = d.junction(v)
		return i, -g
	}
	top := v + d.SeriesOhms*(d.LightAmps+d.SaturationAmps) // I is at most that, for w from zero up
	if room := top / (d.SeriesOhms * d.SaturationAmps); room > 1 {
		top = math.Min(top, d.IdealityVolts*math.Log(room)+1e-9*top)
	}
	if top < 0 {
		top = 0 // the junction is reverse-biased: the shunt alone carries, and h is nearly straight
	}
	w := *inner
	i, _ = d.junction(w)
	if h := w - d.SeriesOhms*i - v; !(h >= 0) || !(w <= top) {
		w = top
	}
	for range 100 {
		i, g = d.junction(w)
		step := (w - d.SeriesOhms*i - v) / (1 + d.SeriesOhms*g)
		w -= step
		if math.Abs(step) <= 1e-14*(math.Abs(w)+d.IdealityVolts) {
			break
		}
	}
	*inner = w
	i, g = d.junction(w)
	return i, -g / (1 + d.SeriesOhms*g)
}
