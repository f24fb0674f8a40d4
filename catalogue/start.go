package catalogue

import "campwright/quantity"

// aMotor is how many times its running power a thing takes at its start before it counts as one with a motor, and heavyW what the start of one takes that is
// worth asking about [W]. Common practice, no source.
const (
	aMotor = 2
	heavyW = 1000
)

// Start returns what a motor takes at its start, by the appliance's name, and where that tells nothing by its kind as the rig file names it: the usual
// start, scaled by what it takes while running [W] where that is above zero. False for what has no heavy motor, or is not known.
func Start(name, kind string, runningW float64) (Typical, bool) {
	a, ok := Find(name)
	if !ok || kind != "plain" && kind != a.Kind {
		if a, ok = Find(usualOf[kind]); !ok {
			return Typical{}, false
		}
	}
	usual := a.Power.Rate
	if a.Surge.Kind == quantity.None || usual.Value <= 0 || a.Surge.Value < aMotor*usual.Value {
		return Typical{}, false
	}
	t, by := a.Surge, 1.0
	if runningW > 0 {
		by = runningW / usual.Value
	}
	t.Value, t.Low, t.High = t.Value*by, t.Low*by, t.High*by
	if t.Value < heavyW {
		return Typical{}, false
	}
	t.Why = "the usual start of such a motor: " + a.Name
	return t, true
}

// usualOf names the usual appliance on AC of each kind that has a motor.
var usualOf = map[string]string{"air conditioner": "air conditioner", "compressor refrigerator": "household refrigerator"}
