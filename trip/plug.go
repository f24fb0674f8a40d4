package trip

import (
	"math"

	"campwright/battery"
	"campwright/convert"
	"campwright/system"
)

// plug plays the stages of the chargers on AC, as one: charging at full power up to the charging voltage, that voltage for its time, then the float
// voltage, at which they carry the loads, until the bank falls below the restart voltage. Without AC a new charge begins when it returns. Booked and swift
// runs share it.
//
// A float voltage below the bank's own at rest lets the bank down to the charge that rests at it: plugged in, and yet it drains.
type plug struct {
	set   *convert.Setpoints
	bank  *battery.Model
	state convert.ChargeState
}

// newPlug returns the chargers of a rig at the start of a charge.
func newPlug(sys *system.System) plug {
	return plug{set: &sys.Supply.Plugged, bank: &sys.Bank.Model}
}

// gives returns what the chargers put into the bus over a step [W]: all they can until the charge has ended, after that what holds the bank at the float voltage.
//
//	most   what they could give [W]
//	short  what the loads ask beyond what other sources give [W]; negative where those give more
func (p *plug) gives(most, short float64, state battery.State, bankC, hours float64) float64 {
	switch p.state.Stage {
	case convert.Float:
		hold, _ := p.bank.ByVoltage(state, p.set.TargetV(convert.Float, bankC), bankC, hours)
		return math.Min(most, math.Max(0, short+hold))
	case convert.Rest:
		return 0
	}
	return most
}

// next returns the chargers' state after a step.
func (p *plug) next(volts, amps, bankC, hours float64, powered bool) convert.ChargeState {
	return p.set.Next(p.state, convert.StageInput{BankV: volts, ChargeA: amps, BankC: bankC, StepH: hours, Powered: powered})
}

// closeV is how far above the restart voltage the mean of a stride may hide a step below it [V].
const closeV = 0.1

// mayRestart tells whether a bank at a mean voltage over several steps may have been below the restart voltage in one of them.
func (p *plug) mayRestart(volts, bankC float64) bool {
	return p.state.Stage >= convert.Float && volts < p.set.Params().RestartV+p.set.Compensation(bankC)+closeV
}
