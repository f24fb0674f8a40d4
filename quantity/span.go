package quantity

import (
	"math"
	"strings"
)

// Span shows two ends of a range to a person in one unit of a system: "60 to 80 W", "3 to 5 days". The digits follow the width of the
// range, about two more than it is sure of. Ends that read the same are shown once. Both ends are of low's kind; the unit is that of
// low where it fits the system, otherwise the one for the larger end.
func Span(low, high Quantity, s System) string {
	high.Kind = low.Kind
	if low.Base > high.Base {
		low.Base, high.Base = high.Base, low.Base
	}
	if math.IsNaN(low.Base) || math.IsNaN(high.Base) || math.IsInf(low.Base, 0) || math.IsInf(high.Base, 0) {
		return "no number"
	}
	if low.Kind == Count || low.Kind == None || int(low.Kind) >= len(kinds) {
		return between(low.Base, high.Base, 3, func(n string) string { return n })
	}
	if low.Kind == Section && s != Metric && (s == US || low.Unit == gaugeUnit) {
		// A thicker wire has the smaller number: name it last, as the larger section.
		a, b := showGauge(low.Base), showGauge(high.Base)
		if a == b {
			return a
		}
		return strings.TrimPrefix(a, "about ") + " to " + strings.TrimPrefix(b, "about ")
	}
	u := unitFor(low, high, s)
	_, decimals := digitsOf(low.Kind)
	return between(u.fromBase(low.Base), u.fromBase(high.Base), decimals, func(n string) string { return shownWith(n, u) })
}

// unitFor picks the one unit for both ends.
func unitFor(low, high Quantity, s System) *unit {
	us := unitsOf(low.Kind, low.Unit)
	if len(us) == 1 && (us[0].system == s || us[0].system == AsWritten || s == AsWritten) {
		return us[0]
	}
	larger := high
	if math.Abs(low.Base) > math.Abs(high.Base) {
		larger = low
	}
	return preferred(larger, s)
}

// between writes "a to b" with digits after the width of the range, and sets the unit behind.
func between(a, b float64, decimals int, set func(string) string) string {
	places := 0
	if width := b - a; width > 0 {
		places = min(max(int(math.Ceil(-math.Log10(width/10))), 0), decimals)
	}
	x, y := Digits(a, 15, places), Digits(b, 15, places)
	if x == y {
		return set(Digits(a/2+b/2, 3, decimals))
	}
	if whole := set(y); strings.HasPrefix(whole, "$") || strings.HasPrefix(whole, minus+"$") {
		return set(x) + " to " + whole
	}
	return x + " to " + set(y)
}
