package system

import (
	"math"

	"campwright/catalogue"
	"campwright/rig"
)

// BankKg returns the weight of a bank [kg]: as given for its blocks, or by its chemistry and energy; given tells which.
func BankKg(b *rig.Bank) (kg float64, given bool) {
	blocks := math.Max(1, b.Blocks.Quantity.Base) * math.Max(1, b.InSeries.Quantity.Base)
	if b.Block.Weight.Given() {
		return b.Block.Weight.Quantity.Base * blocks, true
	}
	return kgPerKWhOfBank[chemistries[b.Chemistry]] * b.Block.Capacity.Quantity.Base * b.Block.Voltage.Quantity.Base * blocks / 1000, false
}

// LinkOhm returns what a link of the charge line adds to its resistance, there and back, at a temperature of the conductor [Ω], with the ends of
// its guesses.
func LinkOhm(l *rig.Link, conductorC float64) (ohm, low, high float64) {
	switch {
	case l.Ohms.Known():
		return l.Ohms.Quantity.Base, LowEnd().Of(l.Ohms), HighEnd().Of(l.Ohms)
	case l.Run != nil:
		// A thicker conductor has less resistance, a longer one more.
		at := func(size, length Draw) float64 {
			gauge := l.Run.Gauge
			gauge.Quantity.Base = size.Of(l.Run.Gauge)
			return gaugeOf(gauge).LoopOhms(length.Of(l.Run.Length), conductorC)
		}
		return at(Draw{}, Draw{}), at(HighEnd(), LowEnd()), at(LowEnd(), HighEnd())
	case l.Fuse.State != 0:
		return catalogue.FuseOhm, catalogue.FuseOhm, catalogue.FuseOhm
	case l.Plug.State != 0:
		return catalogue.PlugOhm, catalogue.PlugOhm, catalogue.PlugOhm
	case l.Relay != nil:
		return relayOhm, relayOhm, relayOhm
	}
	return 0, 0, 0
}

// RunOhm returns the resistance of a cable run, there and back, at a temperature of the conductor [Ω], with the ends of its guesses.
func RunOhm(r *rig.Run, conductorC float64) (ohm, low, high float64) {
	if r == nil {
		return 0, 0, 0
	}
	return LinkOhm(&rig.Link{Run: r}, conductorC)
}

// CutTimes returns how long a dc-dc unit that cuts out takes to reach full output, waits below its cut-out, and stays off [s].
func CutTimes() (rampS, delayS, offS float64) {
	return catalogue.CutRampS, catalogue.CutDelayS, catalogue.CutOffS
}
