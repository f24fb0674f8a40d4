package circuit

import (
	"fmt"
	"math"
)

// Readings is what a meter says about a line that nobody can see: the same current, and the voltage at both ends of its two wires.
type Readings struct {
	SourceVolts float64 // where the line begins, under load [V]
	LoadVolts   float64 // where it ends, at the same time [V]
	Amps        float64 // through it [A], above zero

	VoltsOff float64 // how far each voltage reading may be off [V], zero or more
	AmpsOff  float64 // how far the current reading may be off [A], zero or more, below Amps
}

// Line is the resistance of a hidden line.
type Line struct {
	Ohms      float64 // there and back [Ω]
	Low, High float64 // range that the meter leaves [Ω]; Low is not below zero
}

// Line returns the loop resistance that the readings show: the voltage lost over the current. Both voltages must be taken at the same
// current; the voltage at rest is no stand-in for the one at the source, since the source sags too.
//
// It returns an error for readings out of range, and for a load end more than the meter's doubt above the source.
//
// Ours: Ohm's law; the range takes all doubts at their worst together.
func (r Readings) Line() (Line, error) {
	for _, v := range []struct {
		name             string
		value, low, high float64
		unit             string
	}{
		{"source voltage", r.SourceVolts, 0, mostVolts, "V"},
		{"load voltage", r.LoadVolts, 0, mostVolts, "V"},
		{"current", r.Amps, 1e-6, mostAmps, "A"},
		{"doubt of the voltages", r.VoltsOff, 0, mostVolts, "V"},
		{"doubt of the current", r.AmpsOff, 0, math.Nextafter(r.Amps, 0), "A"},
	} {
		if !(v.value >= v.low && v.value <= v.high) {
			return Line{}, fmt.Errorf("line: %s %.6g %s outside %.6g to %.6g", v.name, v.value, v.unit, v.low, v.high)
		}
	}
	lost, doubt := r.SourceVolts-r.LoadVolts, 2*r.VoltsOff
	if lost < -doubt {
		return Line{}, fmt.Errorf("line: load voltage %.6g V above source %.6g V: readings swapped, or fed from both ends", r.LoadVolts, r.SourceVolts)
	}
	return Line{
		Ohms: math.Max(0, lost/r.Amps),
		Low:  math.Max(0, (lost-doubt)/(r.Amps+r.AmpsOff)),
		High: (lost + doubt) / (r.Amps - r.AmpsOff),
	}, nil
}

// ConstantPowerVolts returns the voltage at the end of a line under a constant-power load [V], the high root of V² − Vs·V + R·P = 0; ok is false
// when there is none. It is the closed form for one source and one load, for a first look and as a check on the solver.
//
//	sourceVolts   of the source at rest [V], above zero
//	ohms          there and back, source included [Ω], zero or more
//	watts         of the load [W], zero or more
//
// Ours: power balance P = V·(Vs − V)/R; there is a root up to Vs²/(4R).
func ConstantPowerVolts(sourceVolts, ohms, watts float64) (volts float64, ok bool) {
	d := sourceVolts*sourceVolts - 4*ohms*watts
	if !(sourceVolts > 0) || !(ohms >= 0) || !(watts >= 0) || !(d >= 0) || !finite(sourceVolts) {
		return 0, false
	}
	return (sourceVolts + math.Sqrt(d)) / 2, true
}
