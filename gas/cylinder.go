package gas

import (
	"errors"
	"fmt"
	"math"
)

// Cylinder is one size of portable container, by the propane it holds when filled to its limit, with the outside measures of its body.
type Cylinder struct {
	Pounds     float64 // what it holds [lb]
	DiameterIn float64 // outside [in]
	HeightIn   float64 // of the body [in]
}

// Cylinders returns the usual sizes, smallest first [PROPANE]; 1 and 11 lb are common practice, no source.
func Cylinders() []Cylinder {
	return []Cylinder{{1, 3.9, 8}, {11, 9, 17}, {20, 12.5, 18}, {30, 12.5, 24}, {40, 12.5, 29}, {100, 14.5, 48}}
}

// KgHeld returns the propane that a container of a given volume holds when filled to its limit [kg].
//
//	waterL  inside volume, "water capacity" [L], zero or positive
func KgHeld(waterL float64) float64 { return math.Max(0, waterL) * FillShare * KgPerL }

// StoreParams describe the propane aboard: a number of like containers.
type StoreParams struct {
	Count int     // containers, 1..20
	Kg    float64 // propane in one when filled to its limit [kg], 0.1..2000
	// What of it can be used, 0.5..1: the last of a cylinder leaves slowly in the cold; 1 for all.
	UsableShare float64
}

// Store is the propane aboard. It is made by NewStore and never changes.
type Store struct{ p StoreParams }

// NewStore returns the store that p describes, or an error naming every field out of range.
func NewStore(p StoreParams) (Store, error) {
	var all []error
	for _, l := range []struct {
		what             string
		value, low, high float64
	}{
		{"containers", float64(p.Count), 1, 20},
		{"propane in one container [kg]", p.Kg, 0.1, 2000},
		{"usable share", p.UsableShare, 0.5, 1},
	} {
		if !(l.value >= l.low && l.value <= l.high) {
			all = append(all, fmt.Errorf("gas: %s %.6g outside %.6g to %.6g", l.what, l.value, l.low, l.high))
		}
	}
	if len(all) > 0 {
		return Store{}, errors.Join(all...)
	}
	return Store{p}, nil
}

// KgFull returns the usable propane of a full store [kg].
func (s Store) KgFull() float64 { return float64(s.p.Count) * s.p.Kg * s.p.UsableShare }

// WhFull returns the heat of a full store [Wh].
func (s Store) WhFull() float64 { return s.KgFull() * WhPerKg }

// Days returns how long propane lasts [d]: +Inf without burning.
//
//	kg         usable propane left [kg], zero or positive
//	whPerDay   heat burned in a day [Wh/d], zero or positive
func Days(kg, whPerDay float64) float64 {
	if !(whPerDay > 0) {
		return math.Inf(1)
	}
	return math.Max(0, kg) * WhPerKg / whPerDay
}
