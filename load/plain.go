package load

import (
	"errors"
	"fmt"
)

// limit is one field with its allowed ends, both included.
type limit struct {
	what      string
	value     float64
	low, high float64
	unit      string
}

// check returns an error naming every limit that its value breaks; a value that is no number breaks all.
func check(limits []limit) error {
	var all []error
	for _, l := range limits {
		if !(l.value >= l.low && l.value <= l.high) {
			all = append(all, fmt.Errorf("load: %s %.6g%s outside %.6g to %.6g", l.what, l.value, l.unit, l.low, l.high))
		}
	}
	return errors.Join(all...)
}

// PlainParams describe one or several like appliances whose use follows the clock alone.
type PlainParams struct {
	RunningW    float64 // of one while it runs, real power, 0..1e5
	Duty        float64 // share of its running time for which it draws RunningW, 0..1: a thermostat, a cycling pump
	StandbyW    float64 // of one whenever it does not draw RunningW, 0..1000
	Count       int     // how many, 1..1000
	PowerFactor float64 // on AC: real over apparent power, 0.1..1; 1 for DC
	SurgeVA     float64 // apparent power of one at start, 0 for none beyond RunningW
	Schedule    Schedule
}

// Plain is an appliance that follows the clock. It is made by NewPlain and never changes.
type Plain struct{ p PlainParams }

// NewPlain returns the appliance that p describes, or an error naming every field out of range.
func NewPlain(p PlainParams) (Plain, error) {
	if p.Schedule.when == 0 {
		return Plain{}, errors.New("load: appliance without a schedule")
	}
	err := check([]limit{
		{"running power", p.RunningW, 0, 1e5, " W"},
		{"duty", p.Duty, 0, 1, ""},
		{"standby power", p.StandbyW, 0, 1000, " W"},
		{"count", float64(p.Count), 1, 1000, ""},
		{"power factor", p.PowerFactor, 0.1, 1, ""},
		{"surge", p.SurgeVA, 0, 1e6, " VA"},
	})
	if err != nil {
		return Plain{}, err
	}
	return Plain{p}, nil
}

// Column writes the mean real power [W] of each step of a day into dst.
//
//	dst      one value for each step from midnight, Steps(stepMin) of them
//	stepMin  length of a step [min], 1..60
//	sun      rise and set, for schedules that follow them
//
// The sum over the day does not depend on the step. It returns an error for a step or length that does not fit.
func (a Plain) Column(dst []float64, stepMin int, sun Sun) error {
	count := float64(a.p.Count)
	for i := range dst {
		dst[i] = count * a.p.StandbyW
	}
	return a.p.Schedule.AddShares(dst, stepMin, sun, count*a.p.Duty*(a.p.RunningW-a.p.StandbyW))
}

// DailyWh returns the energy of a day [Wh].
func (a Plain) DailyWh(sun Sun) float64 {
	running := a.p.Schedule.Minutes(sun) * a.p.Schedule.RunShare(sun) * a.p.Duty / 60
	return float64(a.p.Count) * (a.p.StandbyW*24 + running*(a.p.RunningW-a.p.StandbyW))
}

// RunningVA returns the apparent power of all of them running together, by their power factor.
func (a Plain) RunningVA() float64 { return float64(a.p.Count) * a.p.RunningW / a.p.PowerFactor }

// PeakVA returns the apparent power when the last of them starts while the others run: what an inverter must bear for an instant.
func (a Plain) PeakVA() float64 {
	one := a.p.RunningW / a.p.PowerFactor
	return float64(a.p.Count-1)*one + max(one, a.p.SurgeVA)
}
