package system

import (
	"campwright/conductor"
	"campwright/rig"
)

// roofCableC is the temperature of a cable on or under a sunlit roof, for energy and not for its rating [°C]. Common practice, no source.
const roofCableC = 45

// gaugeOf returns the standard conductor that a size stands for; a section between sizes counts as the next smaller gauge.
func gaugeOf(size rig.Value) conductor.Gauge {
	if g, exact := conductor.OfSection(size.Quantity.Base); exact {
		return g
	}
	g, _ := conductor.AtMost(conductor.AWG, size.Quantity.Base)
	return g
}
