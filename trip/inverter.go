package trip

import (
	"campwright/convert"
	"campwright/system"
)

// drawn is what an inverter takes and gives over one step, as means over it [W].
type drawn struct {
	busW, lossW, servedW float64
	idleW                float64 // of the loss, while nothing runs
	over                 bool    // more was asked while running than its lasting rating
}

// drawOf returns what an inverter takes from the bus for a mean AC load over a step in whose share busy something runs.
//
// A kettle of 1500 W for two minutes is not a load of 50 W for an hour: the loss is that of the power while it runs, for the time it runs;
// for the rest the inverter idles or searches, or, where it is switched on only when used, is off.
func drawOf(inv *system.Inverter, acW, busy float64) drawn {
	var d drawn
	if busy < 1 && !inv.Used {
		idle := inv.Unit.Supply(convert.ACDemand{BusV: awake, On: true, Was: convert.InverterOn})
		d.busW, d.lossW = (1-busy)*idle.DCW, (1-busy)*idle.LossW
		d.idleW = d.lossW
	}
	if busy > 0 && acW > 0 {
		run := inv.Unit.Supply(convert.ACDemand{LoadW: acW / busy, BusV: awake, On: true, Was: convert.InverterOn})
		d.busW += busy * run.DCW
		d.lossW += busy * run.LossW
		d.servedW = busy * run.ServedW
		d.over = run.Overload
	}
	return d
}

// awake is a bus voltage at which no inverter stops [V]: cut-offs are the bus's to act on, not the unit's.
const awake = 1e4
