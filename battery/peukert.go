package battery

import "math"

// The rate effect of lead-acid has two forms that share the letter C and must not be mixed. The form with a rated time takes the
// capacity on the label, which goes with that time, most often 20 h. The one-hour form takes the current that would empty the battery in
// one hour, raised to the exponent: a number that is on no label and far from it. A 100 Ah (20 h) battery with exponent 1.2 lasts 8.7 h at
// 10 A by the first form; putting 100 into the second gives 6.3 h at 10 A, and 14.5 h instead of 20 h at 5 A.

// Peukert returns how long a constant current can be drawn from full [h].
//
//	capacityAh  on the label [Ah], above zero
//	ratedH      discharge time that goes with it [h], above zero
//	exponent    1..1.5; 1 is no rate effect
//	currentA    drawn [A], above zero
//
// Below the rated current the law gives more than the label; the model of a bank does not count on that. It returns 0 for arguments out
// of range. Good to some 5 % between C/20 and C/2 for the exponent of the block at hand, at 25 C, new.
//
// Source: [PEUKERT], with rated time.
func Peukert(capacityAh, ratedH, exponent, currentA float64) float64 {
	if !(capacityAh > 0 && ratedH > 0 && exponent >= 1 && exponent <= 1.5 && currentA > 0) {
		return 0
	}
	return ratedH * math.Pow(capacityAh/(currentA*ratedH), exponent)
}

// PeukertOneHour returns how long a constant current can be drawn from full [h], by the one-hour form: see the top of the file.
//
//	constant  C of the form t = C / I^k, above zero
//	exponent  1..1.5
//	currentA  drawn [A], above zero
//
// It returns 0 for arguments out of range.
//
// Source: [PEUKERT], original form.
func PeukertOneHour(constant, exponent, currentA float64) float64 {
	if !(constant > 0 && exponent >= 1 && exponent <= 1.5 && currentA > 0) {
		return 0
	}
	return constant / math.Pow(currentA, exponent)
}
