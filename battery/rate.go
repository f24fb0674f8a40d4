package battery

import "math"

// rateAh returns how many of the given ampere-hours a discharge may take in one step, so that its end still holds what cannot be had at
// this current and temperature: ours, the rate effect and the cold as a floor under the state of charge, so that a discharge at constant
// current from full ends where [PEUKERT] puts it and what was held back can still be had slowly or warm.
//
//	soc   at the start
//	ah    wanted [Ah], zero or positive
func (b *bank) rateAh(soc, ah, tC, dtH float64) float64 {
	share := b.share.at(tC)
	after := func(x float64) float64 { return soc - x/b.capacityAh - 1 }
	had := func(x float64) float64 { return min(1, share*b.rateShare(x/dtH)) }
	if after(ah)+had(ah) >= 0 {
		return ah
	}
	// What is left after x, less what must be left, falls with x. Newton's steps, kept inside the bracket.
	low, high := max(0, min(b.ratedA*dtH, b.capacityAh*(after(0)+had(0)))), ah
	if low <= 0 {
		return 0
	}
	x := low
	if b.exponentLess1 > 0 && soc < 1 {
		// Were nothing moved, this current would be the most that can be had: a start close to the right of the root.
		x = min(max(low, b.ratedA*dtH*math.Pow(share/(1-soc), 1/b.exponentLess1)), high)
	}
	for range 60 {
		rate := b.rateShare(x / dtH)
		over := after(x) + min(1, share*rate)
		if over >= 0 {
			low = x
		} else {
			high = x
		}
		slope := 1 / b.capacityAh
		if share*rate < 1 && rate < 1 {
			slope += share * rate * b.exponentLess1 / x
		}
		step := over / slope
		if math.Abs(step) <= 1e-13*x {
			break
		}
		if x += step; !(x > low && x < high) {
			x = (low + high) / 2
		}
	}
	return min(x, ah)
}

// rateShare returns the share of the rated capacity to be had at a current [A]: 1 up to the rated current, and by [PEUKERT] above.
func (b *bank) rateShare(currentA float64) float64 {
	if b.exponentLess1 == 0 || currentA <= b.ratedA {
		return 1
	}
	return math.Pow(b.ratedA/currentA, b.exponentLess1)
}
