package conductor

import (
	"fmt"
	"math"
	"strconv"
)

// System is a family of standard conductor sizes.
type System uint8

// The two systems.
const (
	AWG    System = iota + 1 // American wire gauge, 18 to 4/0
	Metric                   // IEC 60228 sections, 0.75 to 120 mm²
)

// Gauge is one standard conductor size. The zero Gauge is no size; every function of this package refuses it.
type Gauge struct {
	system System
	row    int8 // row of awgRows or metricRows, from 1 so that the zero value is no size
}

// awgRow is one row of the American table. Section and diameter follow from the number by the rule of [ASTM-B258].
type awgRow struct {
	number   int     // 18 … 1, then 0, −1, −2, −3 for 1/0 … 4/0
	r75      float64 // Ω per 1000 ft, uncoated stranded copper at 75 °C, [NEC] chapter 9 table 8
	bare     float64 // lb per 1000 ft of bare solid copper, public copper wire table
	insulate float64 // insulated mass over stranded copper mass, single cable, common practice
}

// awgRows runs from thin to thick. 18 and 16 AWG resistances are from memory of the table; the others were seen. The stranded rows
// are not the solid ones (14 AWG solid is 3.07): public copies often mix them up.
var awgRows = [...]awgRow{
	{18, 7.95, 4.917, 1.90}, {16, 4.99, 7.818, 1.70}, {14, 3.14, 12.43, 1.55}, {12, 1.98, 19.77, 1.45}, {10, 1.24, 31.43, 1.38},
	{8, 0.778, 49.97, 1.40}, {6, 0.491, 79.46, 1.32}, {4, 0.308, 126.4, 1.28}, {3, 0.245, 159.3, 1.265}, {2, 0.194, 200.9, 1.25},
	{1, 0.154, 253.5, 1.25}, {0, 0.122, 319.5, 1.23}, {-1, 0.0967, 402.8, 1.22}, {-2, 0.0766, 507.9, 1.20}, {-3, 0.0608, 640.5, 1.19},
}

// metricRow is one row of the metric table.
type metricRow struct {
	mm2 float64 // nominal section
	r20 float64 // largest Ω/km at 20 °C, plain copper, flexible (class 5), [IEC-60228] table 3
}

var metricRows = [...]metricRow{
	{0.75, 26.0}, {1, 19.5}, {1.5, 13.3}, {2.5, 7.98}, {4, 4.95}, {6, 3.30}, {10, 1.91}, {16, 1.21}, {25, 0.780}, {35, 0.554},
	{50, 0.386}, {70, 0.272}, {95, 0.206}, {120, 0.161},
}

// Gauges returns the standard sizes of a system from thin to thick, or nothing for a system that is none of the two.
func Gauges(s System) []Gauge {
	n := 0
	switch s {
	case AWG:
		n = len(awgRows)
	case Metric:
		n = len(metricRows)
	}
	all := make([]Gauge, n)
	for i := range all {
		all[i] = Gauge{s, int8(i + 1)}
	}
	return all
}

// OfAWG returns the standard size of an American gauge number: 18, 16, 14, 12, 10, 8, 6, 4, 3, 2, 1, then 0, −1, −2, −3 for 1/0 to 4/0.
func OfAWG(number int) (Gauge, error) {
	for i, r := range awgRows {
		if r.number == number {
			return Gauge{AWG, int8(i + 1)}, nil
		}
	}
	return Gauge{}, fmt.Errorf("gauge %d AWG: not a standard size from 18 to -3 (4/0)", number)
}

// OfMetric returns the standard size of a nominal section [mm²], such as 35.
func OfMetric(mm2 float64) (Gauge, error) {
	for i, r := range metricRows {
		if r.mm2 == mm2 {
			return Gauge{Metric, int8(i + 1)}, nil
		}
	}
	return Gauge{}, fmt.Errorf("gauge %g mm2: not a standard section from 0.75 to 120", mm2)
}

// sameSection is how far a section may lie from a standard one and still mean it: roundings such as 13.3 for 6 AWG pass, and the two
// systems, nowhere closer than 3 %, are not mixed up.
const sameSection = 0.005

// OfSection returns the standard size that a section [mm²] means, of either system, to within half a per cent. ok is false for a
// section between sizes; AtMost then gives the size to judge it by.
func OfSection(mm2 float64) (g Gauge, ok bool) {
	for _, s := range []System{AWG, Metric} {
		for _, c := range Gauges(s) {
			if math.Abs(mm2-c.Section()) <= sameSection*c.Section() {
				return c, true
			}
		}
	}
	return Gauge{}, false
}

// AtMost returns the largest standard size of a system that is not above a section [mm²]: the size by which a section between sizes is
// judged. ok is false when the section is below the thinnest size or not a number.
func AtMost(s System, mm2 float64) (g Gauge, ok bool) {
	for _, c := range Gauges(s) {
		if c.Section() <= mm2*(1+sameSection) {
			g, ok = c, true
		}
	}
	return g, ok
}

// Valid tells whether the gauge is a size at all.
func (g Gauge) Valid() bool {
	return g.row > 0 && (g.system == AWG && int(g.row) <= len(awgRows) || g.system == Metric && int(g.row) <= len(metricRows))
}

// System returns the family the size belongs to.
func (g Gauge) System() System { return g.system }

// Number returns the American gauge number, 0 to −3 standing for 1/0 to 4/0; ok is false for a metric size.
func (g Gauge) Number() (n int, ok bool) {
	if g.system != AWG || !g.Valid() {
		return 0, false
	}
	return awgRows[g.row-1].number, true
}

// String writes the size as people do: "6 AWG", "2/0 AWG", "35 mm2".
func (g Gauge) String() string {
	switch {
	case !g.Valid():
		return "no gauge"
	case g.system == Metric:
		return strconv.FormatFloat(metricRows[g.row-1].mm2, 'g', -1, 64) + " mm2"
	}
	n := awgRows[g.row-1].number
	if n <= 0 {
		return strconv.Itoa(1-n) + "/0 AWG"
	}
	return strconv.Itoa(n) + " AWG"
}

// Section returns the metal section [mm²]: of the solid wire of the gauge number for AWG, nominal for metric; zero for no gauge.
func (g Gauge) Section() float64 {
	switch {
	case !g.Valid():
		return 0
	case g.system == Metric:
		return metricRows[g.row-1].mm2
	}
	d := AWGDiameter(awgRows[g.row-1].number)
	return math.Pi / 4 * d * d
}

// CircularMils returns the section in circular mils, the American measure in which one mil across is one; zero for no gauge.
func (g Gauge) CircularMils() float64 {
	const perMM2 = 4 / math.Pi / (0.0254 * 0.0254)
	return g.Section() * perMM2
}

// AWGDiameter returns the diameter of the solid wire of an American gauge number [mm], 0 to −3 standing for 1/0 to 4/0. It holds for any
// number; the standard sizes of this package are those of Gauges.
//
// Source: [ASTM-B258]: 0.005 in × 92^((36 − n)/39).
func AWGDiameter(number int) float64 {
	return 0.127 * math.Pow(92, float64(36-number)/39)
}
