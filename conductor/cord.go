package conductor

// cord is what the conductors of a flexible cord may carry in air of 30 °C by [NEC] table 400.5(A)(1) [A]: with three conductors that carry current, and with two.
// From memory; the current edition should be checked.
var cord = map[int][2]float64{
	18: {7, 10}, 16: {10, 13}, 14: {15, 18}, 12: {20, 25}, 10: {25, 30}, 8: {35, 40}, 6: {45, 55}, 4: {60, 70}, 2: {80, 95},
}

// Cord returns what each conductor of a flexible cord may carry [A], with its origin. carrying is how many of its conductors carry current: two in a cord of one
// leg and neutral, and in one of two legs whose neutral carries only what they are unlike, as [NEC] 400.5 lets such a neutral go uncounted; three otherwise. A metric size, or an American one
// that the table leaves out, counts as the next smaller one of the table; false for one below them all.
//
// Air above 30 °C and a cord that lies coiled take from it, and are left out.
//
// Source: [NEC] table 400.5(A)(1), from memory.
func Cord(g Gauge, carrying int) (amps float64, origin Origin, ok bool) {
	column := 0
	if carrying <= 2 {
		column = 1
	}
	for _, size := range Gauges(AWG) {
		if size.Section() > g.Section()*1.001 {
			continue
		}
		if n, awg := size.Number(); awg {
			if row, there := cord[n]; there && row[column] > amps {
				amps = row[column]
			}
		}
	}
	return amps, Origin{"NEC", "NEC table 400.5(A)(1)", Memory}, amps > 0
}
