package trip

import (
	"math"

	"campwright/system"
)

// warmth carries a bank's temperature from step to step: one mass that follows its bay, and a heater that holds it above a temperature. It
// is battery.Thermal with all that stays the same from step to step worked out once; a test holds the two together.
type warmth struct {
	bank  *system.Bank
	lives bool    // somebody is there: the room is warm and the heater may run
	keeps float64 // share of the way to its bay's temperature that the bank goes in one step
	perW  float64 // how far a watt of heat, steady over a step, warms it [K]
}

func newWarmth(bank *system.Bank, stepH float64, lives bool) warmth {
	w := warmth{bank: bank, lives: lives, keeps: 1}
	if bank.LagH > 0 {
		w.keeps = 1 - math.Exp(-stepH/bank.LagH)
	}
	if bank.LossWK > 0 {
		w.perW = w.keeps / bank.LossWK
	}
	return w
}

// begins returns the temperature of a bank that has been in its bay for long.
func (w *warmth) begins(airC float64) float64 { return w.bank.Temperature(airC, w.lives) }

// step returns the temperature at the end of a step and the mean power of the heater over it, which is no more than holds the bank.
func (w *warmth) step(bankC, airC float64) (endC, heaterW float64) {
	endC = bankC + (w.bank.Temperature(airC, w.lives)-bankC)*w.keeps
	if w.bank.HeaterW <= 0 || !w.lives || endC >= w.bank.HeatsBelowC || w.perW <= 0 {
		return endC, 0
	}
	heaterW = math.Min(w.bank.HeaterW, (w.bank.HeatsBelowC-endC)/w.perW)
	return endC + heaterW*w.perW, heaterW
}

// unheated returns the temperature after a step in which the heater was not fed.
func (w *warmth) unheated(endC, heaterW float64) float64 { return endC - heaterW*w.perW }
