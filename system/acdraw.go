package system

import (
	"math"

	"campwright/quantity"
	"campwright/rig"
)

// ACTake is what an appliance takes on AC by its owner's figures: one way to count for the panel's legs, for what a bank makes up, and for the rules.
type ACTake struct {
	Rate        rig.Value // of one: power, or the current of each leg that it hangs on
	Count       rig.Value
	PowerFactor rig.Value // of a power; absent where it is not told, and then taken as one
	Amps        bool      // the rate is a current
	Both        bool      // it hangs between the legs of a panel with two
}

// ACTakeOf returns what an appliance takes on AC, on a panel with one leg or two; false where that is not known.
func ACTakeOf(a *rig.Appliance, twoLegs bool) (ACTake, bool) {
	t := ACTake{Rate: ElementOf(a).Rate, Count: a.Count, Both: twoLegs && a.Leg == "both"}
	t.Amps = t.Rate.Quantity.Kind == quantity.Current
	if !t.Amps && a.PowerFactor.Known() && a.PowerFactor.Quantity.Base > 0 {
		t.PowerFactor = a.PowerFactor
	}
	return t, t.Rate.Known()
}

// Many returns how many there are, one at least.
func (t ACTake) Many() float64 {
	if !t.Count.Known() {
		return 1
	}
	return math.Max(1, t.Count.Quantity.Base)
}

// VA returns what all of them take [VA] at volts from leg to neutral [V]: a current flows in each leg that it hangs on.
func (t ACTake) VA(volts float64) float64 {
	va := t.Rate.Quantity.Base
	switch {
	case t.Amps && t.Both:
		va *= 2 * volts
	case t.Amps:
		va *= volts
	case t.PowerFactor.Known():
		va /= t.PowerFactor.Quantity.Base
	}
	return t.Many() * va
}

// MakeUpShare returns the share of an inverter's rating that it gives on a leg, "L1" or "L2" of a panel with two, or empty for a hookup with one.
func MakeUpShare(v *rig.Inverter, leg string) float64 {
	switch {
	case leg == "":
		return 1
	case v.Legs == "L1", v.Legs == "L2":
		if v.Legs == leg {
			return 1
		}
		return 0
	}
	return 0.5
}
