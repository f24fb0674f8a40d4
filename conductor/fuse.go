package conductor

import (
	"math"
	"slices"
)

// standardNEC is [NEC] 240.6(A), standard ratings of fuses and breakers [A], with the small ones for fuses alone in front.
var standardNEC = []float64{
	1, 3, 6, 10, 15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500, 600,
	700, 800, 1000, 1200, 1600, 2000, 2500, 3000, 4000, 5000, 6000,
}

// StandardRatings returns the standard ratings of fuses and breakers [A], rising, and their source. 15 A and above were seen; 1, 3, 6
// and 10 A, for fuses, are from memory (recent editions list 10 A for breakers too).
func StandardRatings() ([]float64, Origin) {
	return slices.Clone(standardNEC), Origin{"NEC", "NEC 240.6(A)", Seen}
}

// Next returns the smallest rating of a rising list that is not below amps; ok is false when there is none.
func Next(ratings []float64, amps float64) (rating float64, ok bool) {
	for _, r := range ratings {
		if r >= amps {
			return r, true
		}
	}
	return 0, false
}

// Last returns the largest rating of a rising list that is not above amps; ok is false when there is none.
func Last(ratings []float64, amps float64) (rating float64, ok bool) {
	for _, r := range ratings {
		if r <= amps {
			rating, ok = r, true
		}
	}
	return rating, ok
}

// SmallestFuse returns the rating that a fuse must not be below [A] to carry a lasting current [A] without opening: 125 % of it. A
// current that is negative or not finite gives zero.
//
// Source: [NEC] 210.20(A) and 215.3 for loads of three hours or more; common practice on the battery side.
func SmallestFuse(lasting float64) (amps float64, origin Origin) {
	if !(lasting > 0) || math.IsInf(lasting, 0) {
		return 0, Origin{}
	}
	return 1.25 * lasting, Origin{"NEC", "NEC 210.20(A): 125 % of a lasting current", Seen}
}

// FuseLimit is the largest overcurrent device that a book lets stand before a conductor.
type FuseLimit struct {
	Amps   float64 // largest rating allowed [A]
	Share  float64 // of the conductor's ampacity that the book allows: 1, or 1.5
	NextUp bool    // the next standard rating above the ampacity was allowed, and taken
	Capped bool    // the cap on small conductors decided
	Origin Origin
}

// Allows tells whether a device of a rating [A] may protect the conductor.
func (f FuseLimit) Allows(amps float64) bool { return amps > 0 && amps <= f.Amps }

// LargestFuse returns the largest device that may protect a conductor of a rating in a circuit of a nominal voltage [V], above zero
// to 1000.
//
//	us-building, and mains and photovoltaic of us-rv   ampacity, or the next standard rating up to 800 A; cap on 18 to 10 AWG
//	battery and vehicle side of us-rv                  ampacity, by common practice
//	us-boat                                            150 % of ampacity under 50 V; ampacity, or the next standard rating up to 150 %, above
//	au-nz                                              ampacity
//
// Source: [NEC] 240.4(B) and (D), [CFR-183] 183.455(c), [IEC-60364-4-43] 433.1.
// 33 CFR takes its 150 % of the table's value; here it is taken of the corrected value, which is never larger.
func LargestFuse(r Rating, circuitVolts float64) (FuseLimit, error) {
	if err := within("largest fuse: circuit", circuitVolts, 1e-3, 1000, "V"); err != nil {
		return FuseLimit{}, err
	}
	if err := r.Use.check(); err != nil {
		return FuseLimit{}, err
	}
	switch t := tableOf(r.Use.Book, r.Use.Side); {
	case t.kind == raceway:
		f := nextUp(r.Amps, 800, Origin{"NEC", "NEC 240.4(B)", Seen})
		if c, o, ok := smallCap(r.Judged); ok && c < f.Amps {
			return FuseLimit{Amps: c, Share: 1, Capped: true, Origin: o}, nil
		}
		return f, nil
	case r.Use.Book == USBoat && circuitVolts < 50:
		return FuseLimit{Amps: 1.5 * r.Amps, Share: 1.5, Origin: Origin{"CFR-183", "33 CFR 183.455(c)(1): 150 % under 50 V", Seen}}, nil
	case r.Use.Book == USBoat:
		return nextUp(r.Amps, 1.5*r.Amps, Origin{"CFR-183", "33 CFR 183.455(c)(2)", Seen}), nil
	case r.Use.Book == AUNZ:
		return FuseLimit{Amps: r.Amps, Share: 1, Origin: Origin{"IEC-60364-4-43", "IEC 60364-4-43, 433.1: rating not above ampacity", Memory}}, nil
	}
	return FuseLimit{Amps: r.Amps, Share: 1, Origin: Origin{"", "fuse not above the conductor's ampacity", Practice}}, nil
}

// nextUp allows the ampacity, or, where no standard rating equals it, the next standard rating, up to a ceiling.
func nextUp(amps, ceiling float64, o Origin) FuseLimit {
	f := FuseLimit{Amps: amps, Share: 1, Origin: o}
	if n, ok := Next(standardNEC, amps); ok && n > amps && n <= ceiling && amps > 0 {
		f.Amps, f.NextUp = n, true
	}
	return f
}

// smallCap returns the largest device before a small building conductor, [NEC] 240.4(D).
func smallCap(g Gauge) (amps float64, o Origin, ok bool) {
	mark := Seen
	switch n, _ := g.Number(); n {
	case 18:
		amps, mark = 7, Memory
	case 16:
		amps, mark = 10, Memory
	case 14:
		amps = 15
	case 12:
		amps = 20
	case 10:
		amps = 30
	default:
		return 0, Origin{}, false
	}
	return amps, Origin{"NEC", "NEC 240.4(D), small conductors", mark}, true
}

// SmallConductorCap returns the largest device that the NEC allows before a small conductor whatever its ampacity [A]: 18 to 10 AWG. ok
// is false for other sizes.
func SmallConductorCap(g Gauge) (amps float64, origin Origin, ok bool) { return smallCap(g) }

// ParkTrailerFuse returns the largest device before a low-voltage conductor of a park trailer [A], 18 to 10 AWG. ok is false for other
// sizes. It is the one low-voltage table that the NEC has, so it is worth a note for other rigs too.
//
// Source: [NEC] 552.10(E)(1), from memory.
func ParkTrailerFuse(g Gauge) (amps float64, origin Origin, ok bool) {
	switch n, _ := g.Number(); n {
	case 18:
		amps = 6
	case 16:
		amps = 8
	case 14:
		amps = 15
	case 12:
		amps = 20
	case 10:
		amps = 30
	default:
		return 0, Origin{}, false
	}
	return amps, Origin{"NEC", "NEC table 552.10(E)(1), park trailers", Memory}, true
}
