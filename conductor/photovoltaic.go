package conductor

import (
	"errors"
	"fmt"
)

// ErrColderThanTable says that a temperature lies below the last row of a table.
var ErrColderThanTable = errors.New("colder than the table")

// coldSteps is [NEC] table 690.7(A) for crystalline silicon: lowest temperature of each row [°C] and its factor.
var coldSteps = [...]struct {
	from, factor float64
	mark         Mark
}{
	{20, 1.02, Memory}, {15, 1.04, Memory}, {10, 1.06, Memory}, {5, 1.08, Memory}, {0, 1.10, Seen}, {-5, 1.12, Seen}, {-10, 1.14, Seen},
	{-15, 1.16, Seen}, {-20, 1.18, Seen}, {-25, 1.20, Seen}, {-30, 1.21, Seen}, {-35, 1.23, Seen}, {-40, 1.25, Seen},
}

// ColdVoltageFactor returns the factor on rated open-circuit voltage for the lowest air temperature [°C] of a place, for crystalline modules whose
// data sheet gives no coefficient; the module's own coefficient takes precedence. At 25 °C and above it is 1. A temperature between
// rows takes the colder row. Below −40 °C the error is ErrColderThanTable.
//
// Source: [NEC] table 690.7(A).
func ColdVoltageFactor(lowestC float64) (factor float64, origin Origin, err error) {
	if err := within("cold voltage: lowest temperature", lowestC, -100, 100, "C"); err != nil {
		return 0, Origin{}, err
	}
	const name = "NEC table 690.7(A)"
	if lowestC >= 25 {
		return 1, Origin{"NEC", name, Seen}, nil
	}
	for _, s := range coldSteps {
		if lowestC >= s.from {
			return s.factor, Origin{"NEC", name, s.mark}, nil
		}
	}
	return 0, Origin{}, fmt.Errorf("cold voltage: %g C below the last row at -40 C: %w", lowestC, ErrColderThanTable)
}

// CircuitCurrent returns the largest lasting current of a photovoltaic circuit [A]: 125 % of the sum of the short-circuit currents of its
// strings [A]. A sum that is not finite and positive gives zero.
//
// Source: [NEC] 690.8(A)(1).
func CircuitCurrent(sumIsc float64) float64 {
	if !(sumIsc > 0 && sumIsc <= 1e6) {
		return 0
	}
	return 1.25 * sumIsc
}

// DeviceCurrent returns what a conductor's terminals, fuse or breaker of a photovoltaic circuit must be rated for [A]: 125 % of CircuitCurrent,
// 156.25 % of the sum of short-circuit currents.
//
// Source: [NEC] 690.8(B) and 690.9(B).
func DeviceCurrent(sumIsc float64) float64 { return 1.25 * CircuitCurrent(sumIsc) }

// Strings is identical strings in parallel.
type Strings struct {
	Count     int     // 1 to 1000
	Isc       float64 // short-circuit current of one string [A], above zero to 100
	MaxSeries float64 // largest series fuse printed on the module [A], above zero to 200
}

// StringFuse says whether strings need a fuse each, and which.
type StringFuse struct {
	Backfeed float64 // what the other strings could drive into a faulted one [A]
	Needed   bool    // it is more than the module was tested to bear
	Smallest float64 // fuse rating not to go below [A], 156.25 % of Isc
	Largest  float64 // and not above: the print on the module [A]
	Rating   float64 // smallest photovoltaic fuse rating between the two [A], zero when there is none
	Origin   Origin
}

// Allows tells whether a string fuse of a rating [A] is right: it neither opens in full sun nor exceeds the module's print.
func (f StringFuse) Allows(amps float64) bool { return amps >= f.Smallest && amps <= f.Largest }

// Fuse works out the string fuse. Backfeed counts the other strings alone: a battery or bus that can feed the array backwards must
// be fused at the controller in any case.
//
// Source: [NEC] 690.9(A) and 690.8(A)(1): (N − 1)·1.25·Isc against the module's largest series fuse.
func (s Strings) Fuse() (StringFuse, error) {
	if err := within("strings: count", float64(s.Count), 1, 1000, ""); err != nil {
		return StringFuse{}, err
	}
	if err := within("strings: short-circuit current", s.Isc, 1e-3, 100, "A"); err != nil {
		return StringFuse{}, err
	}
	if err := within("strings: largest series fuse", s.MaxSeries, 1e-3, 200, "A"); err != nil {
		return StringFuse{}, err
	}
	f := StringFuse{
		Backfeed: float64(s.Count-1) * CircuitCurrent(s.Isc),
		Smallest: DeviceCurrent(s.Isc),
		Largest:  s.MaxSeries,
		Origin:   Origin{"NEC", "NEC 690.9(A)", Seen},
	}
	f.Needed = f.Backfeed > s.MaxSeries
	pv, _ := FamilyNamed("photovoltaic cartridge fuse 10 x 38 mm")
	if r, ok := Next(pv.Ratings, f.Smallest); ok && r <= s.MaxSeries {
		f.Rating = r
	}
	return f, nil
}
