package trip

import (
	"fmt"

	"campwright/convert"
	"campwright/system"
)

// Balanced is one step of Balance, in watts as means over the step.
type Balanced struct {
	BusW       float64 // delivered by the controllers before the bank's limits
	LossW      float64 // lost in the controllers, had the bank taken all
	ClippedW   float64 // above the controllers' limits, at the bus
	ServedW    float64
	UnservedW  float64
	ChargeW    float64 // into the bank at its terminals
	DischargeW float64
	CurtailedW float64 // at the bus: what the bank did not take
	SoC        float64 // at the end
}

// Balance plays given columns of array power and load through the same bus that a trip uses, one step after the other: for holding the
// bus against other programs' energy balances. arrayW is the best power at the terminals of the system's first controller and loadW a DC
// load, means over steps of stepH hours, equally long.
func Balance(sys *system.System, stepH float64, arrayW, loadW []float64) ([]Balanced, error) {
	if len(arrayW) != len(loadW) || len(sys.Controllers) != 1 {
		return nil, fmt.Errorf("balance: %d and %d steps on %d controllers, wanted equally many on one", len(arrayW), len(loadW), len(sys.Controllers))
	}
	b := newBus(sys, stepH, 25, false)
	out := make([]Balanced, len(arrayW))
	inputs := make([]convert.Input, 1)
	unit := &sys.Controllers[0].Unit
	for i := range out {
		inputs[0] = convert.Input{MPPW: arrayW[i], MPPV: 1.5 * b.volts, OpenV: 2 * b.volts, BusV: b.volts, Ran: true}
		free := unit.Deliver(inputs[0])
		s := b.step(inputs, &demand{dcW: loadW[i]}, 25)
		lossFree := unit.Loss()
		o := &out[i]
		o.BusW, o.LossW = free.BusW, lossFree.At(lossFree.Out(arrayW[i]))
		o.ClippedW = lossFree.Out(arrayW[i]) - free.BusW
		o.ServedW, o.UnservedW = s.servedW, s.wantedW-s.servedW
		o.ChargeW, o.DischargeW = max(s.flow.PowerW, 0), max(-s.flow.PowerW, 0)
		o.CurtailedW = free.BusW - s.solarW
		o.SoC = b.state.SoC
	}
	return out, nil
}
