package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// minus is how a negative number is shown to people; String writes a plain hyphen.
const minus = "\u2212"

// String writes the value in the unit it was written in, in plain ASCII, with the fewest digits from which Parse finds exactly the
// same value again. Where the unit cannot give the value exactly, it is written in the base unit. A value that is not finite or has
// no kind gives an empty string.
func (q Quantity) String() string {
	if int(q.Kind) >= len(kinds) || q.Kind == None || math.IsNaN(q.Base) || math.IsInf(q.Base, 0) {
		return ""
	}
	if q.Kind == Count {
		return writeNumber(q.Base)
	}
	if q.Kind == Section && q.Unit == gaugeUnit {
		if n := NearestGauge(q.Base); Gauge(n) == q.Base {
			return GaugeName(n)
		}
	}
	us := unitsOf(q.Kind, q.Unit)
	if len(us) > 1 {
		if s, ok := exactCompound(q, us); ok {
			return s
		}
	} else if len(us) == 1 {
		if s, ok := exactly(q.Base, us[0]); ok {
			return s
		}
	}
	for i := range units {
		if u := &units[i]; u.kind == q.Kind {
			if s, ok := exactly(q.Base, u); ok {
				return s
			}
		}
	}
	// Some numbers are no decimal number of per cent; the nearest is off by one part in 1e16.
	u := firstUnit(q.Kind)
	return withUnit(writeNumber(u.fromBase(q.Base)), u)
}

// firstUnit returns the unit of a kind that is listed first.
func firstUnit(k Kind) *unit {
	for i := range units {
		if units[i].kind == k {
			return &units[i]
		}
	}
	return &units[0]
}

// unitsOf finds the units named by Quantity.Unit; nil when it names none of the kind.
func unitsOf(k Kind, names string) []*unit {
	var us []*unit
	for _, n := range strings.Fields(names) {
		u := findUnit(n, []Kind{k})
		if u == nil {
			return nil
		}
		us = append(us, u)
	}
	return us
}

// exactly writes base in the unit with as few digits as give the same base when read, if any number of digits does.
func exactly(base float64, u *unit) (string, bool) {
	x := u.fromBase(base)
	for digits := 12; digits <= 17; digits++ {
		s := strconv.FormatFloat(x, 'g', digits, 64)
		if y, err := strconv.ParseFloat(s, 64); err == nil && u.toBase(y) == base {
			return withUnit(writeNumber(y), u), true
		}
	}
	for up, down, tries := x, x, 0; tries < 4; tries++ {
		up, down = math.Nextafter(up, math.Inf(1)), math.Nextafter(down, math.Inf(-1))
		for _, y := range []float64{up, down} {
			if u.toBase(y) == base {
				return withUnit(writeNumber(y), u), true
			}
		}
	}
	return "", false
}

// writeNumber gives the shortest text of a number; very large and very small ones take an exponent.
func writeNumber(x float64) string {
	if a := math.Abs(x); a != 0 && (a < 1e-6 || a >= 1e15) {
		return strconv.FormatFloat(x, 'e', -1, 64)
	}
	return strconv.FormatFloat(x+0, 'f', -1, 64)
}

// withUnit sets a unit behind its number, and dollars before it.
func withUnit(number string, u *unit) string {
	if u.kind != Money {
		return number + " " + u.name
	}
	if rest, ok := strings.CutPrefix(number, "-"); ok {
		return "-$" + rest
	}
	return "$" + number
}

// exactCompound writes feet and inches, hours and minutes, pounds and ounces.
func exactCompound(q Quantity, us []*unit) (string, bool) {
	parts, ok := compound(q.Base, us, 9)
	if !ok {
		return "", false
	}
	again, err := Parse(parts, q.Kind)
	return parts, err == nil && again.Base == q.Base
}

// compound splits base over units from large to small; the last takes what is left, to the given decimals.
func compound(base float64, us []*unit, decimals int) (string, bool) {
	sign := ""
	if base < 0 {
		sign = "-"
	}
	small := us[len(us)-1]
	scale := math.Pow(10, float64(decimals))
	left := math.Round(small.fromBase(math.Abs(base))*scale) / scale
	if left >= 1e9 {
		return "", false
	}
	var parts []string
	for _, u := range us[:len(us)-1] {
		ratio := math.Round(u.toBase(1)/small.toBase(1)*1e9) / 1e9
		n := math.Floor(left / ratio)
		left -= n * ratio
		parts = append(parts, strconv.FormatFloat(n, 'f', -1, 64)+" "+u.name)
	}
	left = math.Round(left*scale) / scale
	parts = append(parts, strconv.FormatFloat(left, 'f', -1, 64)+" "+small.name)
	return sign + strings.Join(parts, " "), true
}

// Format shows the value to a person in the units of a system, with about three digits. AsWritten keeps unit and digits as written.
// A value whose unit belongs to the system, or to both, keeps its unit. A conductor's size in US units that is not a gauge's own is
// the nearest gauge and says so: "about 2 AWG". A value that is not finite is shown as "no number".
func Format(q Quantity, s System) string {
	if math.IsNaN(q.Base) || math.IsInf(q.Base, 0) {
		return "no number"
	}
	if q.Kind == Count || q.Kind == None || int(q.Kind) >= len(kinds) {
		return Digits(q.Base, 3, 3)
	}
	if q.Kind == Section && (s == US && q.Unit != "kcmil" || s == AsWritten && q.Unit == gaugeUnit) {
		return showGauge(q.Base)
	}
	us := unitsOf(q.Kind, q.Unit)
	if len(us) > 1 && (s == AsWritten || us[0].system == s || us[0].system == AsWritten) {
		if text, ok := compound(q.Base, us, 1); ok {
			return strings.Replace(text, "-", minus, 1)
		}
	}
	if len(us) > 0 && s == AsWritten {
		if text, ok := exactly(q.Base, us[0]); ok {
			return pretty(text, us[0])
		}
	}
	if len(us) == 1 && (us[0].system == s || us[0].system == AsWritten || s == AsWritten) {
		return shownIn(q.Base, us[0])
	}
	return shownIn(q.Base, preferred(q, s))
}

// In shows the value in one unit, named as in Units, with about three digits: In(q, "BTU/h"). A unit that is not of the kind gives
// the value as Format does in the unit it was written in.
func In(q Quantity, unit string) string {
	if u := findUnit(unit, []Kind{q.Kind}); u != nil && !math.IsNaN(q.Base) && !math.IsInf(q.Base, 0) {
		return shownIn(q.Base, u)
	}
	return Format(q, AsWritten)
}

// Number returns the value in one unit, named as in Units. For "AWG" it is the nearest gauge number, zero and below for 1/0 and up.
func Number(q Quantity, unit string) (float64, error) {
	if q.Kind == Section && unit == gaugeUnit {
		return float64(NearestGauge(q.Base)), nil
	}
	u := findUnit(unit, []Kind{q.Kind})
	if u == nil {
		return 0, &Error{Text: unit, Problem: "not a unit for " + kinds[min(int(q.Kind), len(kinds)-1)].asked}
	}
	return u.fromBase(q.Base), nil
}

// Of makes a value from a number in a unit named as in Units; an empty unit is the base unit.
func Of(number float64, kind Kind, unit string) (Quantity, error) {
	q := Quantity{Base: number, Kind: kind, Unit: unit}
	switch {
	case unit == "" || kind == Count:
	case kind == Section && unit == gaugeUnit:
		q.Base = Gauge(int(math.Round(number)))
	default:
		u := findUnit(unit, []Kind{kind})
		if u == nil {
			return Quantity{}, &Error{Text: unit, Problem: "not a unit for " + kinds[min(int(kind), len(kinds)-1)].asked}
		}
		q.Base, q.Unit = u.toBase(number), u.name
	}
	if math.IsNaN(q.Base) || math.IsInf(q.Base, 0) {
		return Quantity{}, &Error{Text: fmt.Sprint(number), Problem: "not a finite number"}
	}
	return q, nil
}

// showGauge gives the gauge, or the nearest one marked as such.
func showGauge(area float64) string {
	n := NearestGauge(area)
	if math.Abs(Gauge(n)-area) <= 0.005*area {
		return GaugeName(n)
	}
	return "about " + GaugeName(n)
}

// pretty sets a value written in plain ASCII with the signs people read.
func pretty(text string, u *unit) string {
	number := strings.Replace(strings.TrimSuffix(text, " "+u.name), "$", "", 1)
	if !strings.ContainsAny(number, "e") {
		number = group(number)
	}
	return shownWith(strings.Replace(number, "-", minus, 1), u)
}

// shownWith sets a number and its unit as the trade does: a space between, none before a degree sign, dollars in front, days spelled
// out.
func shownWith(number string, u *unit) string {
	switch {
	case u.kind == Money && strings.HasPrefix(number, minus):
		return minus + "$" + strings.TrimPrefix(number, minus)
	case u.kind == Money:
		return "$" + number
	case u.kind == Angle:
		return number + u.symbol()
	case u.name == "d" && number == "1":
		return "1 day"
	case u.name == "d":
		return number + " days"
	case u.name == "week" && number != "1":
		return number + " weeks"
	}
	return number + " " + u.symbol()
}

// shownIn shows base in a unit.
func shownIn(base float64, u *unit) string {
	significant, decimals := digitsOf(u.kind)
	return shownWith(Digits(u.fromBase(base), significant, decimals), u)
}

// digitsOf says how many digits and decimals of a kind make sense to a person.
func digitsOf(k Kind) (significant, decimals int) {
	switch k {
	case Voltage:
		return 4, 3
	case Temperature, TempDifference, Angle:
		return 3, 1
	case Share:
		return 3, 1
	case Money:
		return 9, 0
	}
	return 3, 4
}

// Digits writes a number with so many significant digits, at most so many decimals, commas between thousands, and no trailing zeros.
// Whole digits are never dropped below 1e15; larger numbers take an exponent. Negative numbers carry a true minus sign; numbers that round to zero carry none.
func Digits(x float64, significant, decimals int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "no number"
	}
	if math.Abs(x) >= 1e15 {
		return strings.Replace(strconv.FormatFloat(x, 'e', significant-1, 64), "-", minus, 1)
	}
	places := decimals
	if x != 0 {
		places = min(max(significant-1-int(math.Floor(math.Log10(math.Abs(x)))), 0), decimals)
	}
	s := strconv.FormatFloat(math.Abs(x), 'f', places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s = group(s); x < 0 && s != "0" {
		s = minus + s
	}
	return s
}

// group sets commas between thousands.
func group(s string) string {
	whole, rest := s, ""
	if i := strings.IndexByte(s, '.'); i >= 0 {
		whole, rest = s[:i], s[i:]
	}
	neg := strings.HasPrefix(whole, "-")
	whole = strings.TrimPrefix(whole, "-")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if neg {
		whole = "-" + whole
	}
	return whole + rest
}

// preferred picks the unit in which a system shows a value of that size.
func preferred(q Quantity, s System) *unit {
	size := math.Abs(q.Base)
	name := ""
	metric := s != US
	pick := func(inMetric, inUS string) string {
		if metric {
			return inMetric
		}
		return inUS
	}
	switch q.Kind {
	case Voltage:
		name = step(size, []fromSize{{0, "V"}, {1e-6, "mV"}, {0.1, "V"}, {10000, "kV"}})
	case Current:
		name = step(size, []fromSize{{0, "A"}, {1e-6, "mA"}, {0.1, "A"}})
	case Power:
		name = step(size, []fromSize{{0, "W"}, {1e-9, "mW"}, {0.1, "W"}, {10000, "kW"}})
	case Energy:
		name = step(size, []fromSize{{0, "Wh"}, {1000, "kWh"}})
	case Resistance:
		name = step(size, []fromSize{{0, "ohm"}, {1e-9, "mohm"}, {1, "ohm"}})
	case Length:
		name = pick(step(size, []fromSize{{0, "m"}, {1e-9, "mm"}, {0.1, "cm"}, {1, "m"}, {10000, "km"}}),
			step(size, []fromSize{{0, "ft"}, {1e-9, "in"}, {0.3048, "ft"}, {1609, "ft"}, {16093, "mi"}}))
	case Area:
		name = pick("m2", "ft2")
	case Temperature:
		name = pick("C", "F")
	case TempDifference:
		name = pick("K", "F")
	case Mass:
		name = pick("kg", "lb")
	case Volume:
		name = pick("L", "gal")
	case VoltagePerDegree:
		name = step(size, []fromSize{{0, "V/C"}, {1e-9, "mV/C"}, {0.1, "V/C"}})
	case CurrentPerDegree:
		name = step(size, []fromSize{{0, "A/C"}, {1e-9, "mA/C"}, {0.1, "A/C"}})
	case Duration:
		name = step(size, []fromSize{{0, "h"}, {1e-9, "s"}, {1.0 / 60, "min"}, {1, "h"}, {48, "d"}})
	case Flow:
		name = pick("L/h", "gal/h")
	case FlowPerDay:
		name = pick("L/d", "gal/d")
	case HeatLoss:
		name = pick("W/K", "BTU/h/F")
	case Speed:
		name = pick("m/s", "mph")
	case Pressure:
		name = pick("kPa", "psi")
	}
	if u := findUnit(name, []Kind{q.Kind}); u != nil {
		return u
	}
	return firstUnit(q.Kind)
}

// fromSize is the size from which on a unit serves.
type fromSize struct {
	from float64
	unit string
}

// step picks the last unit whose lower bound the size reaches.
func step(size float64, steps []fromSize) string {
	name := steps[0].unit
	for _, s := range steps[1:] {
		if size >= s.from {
			name = s.unit
		}
	}
	return name
}
