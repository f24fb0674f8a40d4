package battery

import "math"

// TaperTimeH returns how long the current falls from one value to another while a charger holds its absorption voltage [h].
//
//	startA  at the start [A], above endA
//	endA    at the end, such as the tail current at which a charger stops [A], above zero
//	tauH    time constant of the decline [h], above zero; 0.5 to 1.5 for lead-acid, common practice, no source
//
// An exponential decline. It returns 0 for arguments out of range.
func TaperTimeH(startA, endA, tauH float64) float64 {
	if !(startA > endA && endA > 0 && tauH > 0) || math.IsInf(startA, 1) {
		return 0
	}
	return tauH * math.Log(startA/endA)
}

// BoltedFaultA returns the current into a dead short [A]: rest voltage over all resistance in its way, inside and outside. A battery's
// electronics may open, or may not: a main fuse is chosen for this current.
//
//	restV  of the bank [V], above zero
//	ohm    of cells, links, cables and joints [ohm], above zero
//
// It returns 0 for arguments out of range.
func BoltedFaultA(restV, ohm float64) float64 {
	if !(restV > 0 && ohm > 0) {
		return 0
	}
	return restV / ohm
}
