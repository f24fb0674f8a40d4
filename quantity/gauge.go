package quantity

import (
	"math"
	"strconv"
	"strings"
)

// gaugeUnit is the unit of a conductor size that is a gauge number and not an area.
const gaugeUnit = "AWG"

// Thickest and thinnest gauge that we read: 4/0 counts as -3, 1/0 as 0.
const (
	thickest = -3
	thinnest = 40
)

// Gauge returns the cross-section of a solid round wire of that American Wire Gauge [mm²].
//
//	number  gauge, 40 down to 1, then 0 for 1/0, -1 for 2/0, -2 for 3/0, -3 for 4/0
//
// Outside -3..40 it clamps. Exact by definition of the gauge: 0.46 in at 4/0, 0.005 in at 36, equal ratios between. Stranded
// conductors of a gauge have nominally the same copper.
//
// Source: [ASTM-B258], the geometric series: d = 0.005 in × 92^((36 - n)/39).
func Gauge(number int) float64 {
	n := min(max(number, thickest), thinnest)
	d := 25.4 * 0.005 * math.Pow(92, float64(36-n)/39)
	return math.Pi / 4 * d * d
}

// NearestGauge returns the American Wire Gauge whose cross-section is nearest by ratio to an area [mm², above zero]. Areas beyond
// the ends of the series give its ends; an area that is not above zero gives the thinnest.
//
// Source: [ASTM-B258], solved for n.
func NearestGauge(areaMM2 float64) int {
	if !(areaMM2 > 0) {
		return thinnest
	}
	d := math.Sqrt(areaMM2*4/math.Pi) / 25.4
	n := 36 - 39*math.Log(d/0.005)/math.Log(92)
	return int(math.Round(math.Min(math.Max(n, thickest), thinnest)))
}

// GaugeName writes a gauge number as the trade does: "6 AWG", "4/0 AWG".
func GaugeName(number int) string {
	if number <= 0 {
		return strconv.Itoa(1-number) + "/0 " + gaugeUnit
	}
	return strconv.Itoa(number) + " " + gaugeUnit
}

// parseGauge reads "6 AWG", "AWG 6", "#6", "6 ga", "4/0" and "4/0 AWG". The second result tells whether the text was meant as a
// gauge at all; then a gauge that does not exist is an error.
func parseGauge(s string) (Quantity, bool, *Error) {
	rest := strings.TrimSpace(s)
	marked := false
	lower := strings.ToLower(rest)
	for _, mark := range []string{"awg", "gauge", "ga", "#"} {
		if strings.HasSuffix(lower, mark) {
			rest, marked = rest[:len(rest)-len(mark)], true
			break
		}
		if strings.HasPrefix(lower, mark) {
			rest, marked = rest[len(mark):], true
			break
		}
	}
	rest = strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(rest), "#"))
	aught := strings.HasSuffix(rest, "/0")
	if !marked && !aught {
		return Quantity{}, false, nil
	}
	number, err := strconv.Atoi(strings.TrimSuffix(rest, "/0"))
	if aught {
		number = 1 - number
	}
	if err != nil || number < thickest || number > thinnest || aught && number > 0 {
		return Quantity{}, true, &Error{Text: s, Problem: "no such wire gauge", Hint: "gauges run from 40 AWG to 1 AWG, then 1/0, 2/0, 3/0 and 4/0 AWG; other sizes go in mm2 or kcmil"}
	}
	return Quantity{Base: Gauge(number), Kind: Section, Unit: gaugeUnit}, true, nil
}
