package conductor

import (
	"fmt"
	"math"
)

// Lengths in the units of the sources.
const (
	metresPerFoot = 0.3048
	metresPerInch = 0.0254
	kgPerPound    = 0.45359237
)

// Temperature coefficients of copper resistance [1/K], each at the temperature its table is given at. Both make R20/R75 = 0.822.
const (
	alpha75 = 0.00323 // [NEC] chapter 9 table 8 note 2
	alpha20 = 0.00393 // [IEC-60028]
)

// OhmsPerMetre returns the resistance of one conductor per length [Ω/m] at a conductor temperature [°C], −60 to 250; outside, the nearer
// end is taken. Zero for no gauge. AWG sizes are the handbook's uncoated stranded copper; metric sizes are the largest value that the
// standard allows flexible plain copper.
//
// Accuracy: real cable is within about 2 % below the AWG figures and up to 4 % below the metric ones, which are limits.
//
// Source: [NEC] chapter 9 table 8 and its note, R2 = R1·[1 + 0.00323·(T2 − 75)]; [IEC-60228] table 3 with α20 of [IEC-60028].
func (g Gauge) OhmsPerMetre(conductorC float64) float64 {
	t := math.Min(math.Max(conductorC, -60), 250)
	switch {
	case !g.Valid() || math.IsNaN(conductorC):
		return 0
	case g.system == Metric:
		return metricRows[g.row-1].r20 / 1000 * (1 + alpha20*(t-20))
	}
	return awgRows[g.row-1].r75 / 1000 / metresPerFoot * (1 + alpha75*(t-75))
}

// LoopOhms returns the resistance there and back [Ω] of a two-wire run of a one-way length [m] at a conductor temperature [°C]. A
// negative or non-finite length counts as zero.
func (g Gauge) LoopOhms(oneWayM, conductorC float64) float64 {
	if !(oneWayM > 0) || math.IsInf(oneWayM, 0) {
		return 0
	}
	return 2 * oneWayM * g.OhmsPerMetre(conductorC)
}

// Run is a two-wire direct-current run.
type Run struct {
	Gauge      Gauge
	OneWayM    float64 // from source to load [m], above zero; the way back is added
	Amps       float64 // steady current [A], zero or more
	ConductorC float64 // conductor temperature [°C], −60 to 250
}

// Drop returns the voltage lost along the run [V], zero or positive. Lugs and joints are not included. Exact for steady current.
//
// Ours: Ohm's law on both conductors, ΔV = I·2·L·r(T).
func (r Run) Drop() (float64, error) {
	if err := r.check(); err != nil {
		return 0, err
	}
	return r.Amps * r.Gauge.LoopOhms(r.OneWayM, r.ConductorC), nil
}

// Loss returns the power turned to heat in both conductors [W].
func (r Run) Loss() (float64, error) {
	d, err := r.Drop()
	return d * r.Amps, err
}

func (r Run) check() error {
	if !r.Gauge.Valid() {
		return fmt.Errorf("run: no gauge")
	}
	if err := within("run: one-way length", r.OneWayM, 1e-6, 1e4, "m"); err != nil {
		return err
	}
	if err := within("run: current", r.Amps, 0, 1e5, "A"); err != nil {
		return err
	}
	return within("run: conductor temperature", r.ConductorC, -60, 250, "C")
}

// CircularMils returns the section [circular mils] that the boat builder's rule of thumb asks for.
//
//	amps      current [A]
//	loopFeet  length there and back [ft]
//	dropV     voltage that may be lost [V], above zero
//
// It is CM = 10.75·I·L/E, copper near 50 °C; at 75 °C the factor would be 12.9. It returns an error for values not above zero.
//
// Source: [ABYC-E11] from memory.
func CircularMils(amps, loopFeet, dropV float64) (float64, error) {
	for _, v := range []struct {
		name, unit string
		value      float64
	}{{"current", "A", amps}, {"loop length", "ft", loopFeet}, {"drop", "V", dropV}} {
		if err := within("circular mils: "+v.name, v.value, 1e-9, 1e6, v.unit); err != nil {
			return 0, err
		}
	}
	return 10.75 * amps * loopFeet / dropV, nil
}

// within refuses a value outside [low, high] or not finite, naming place, value and limits.
func within(place string, value, low, high float64, unit string) error {
	if value >= low && value <= high {
		return nil
	}
	return fmt.Errorf("%s %.6g %s outside %.6g to %.6g", place, value, unit, low, high)
}
