package conductor

import "math"

// copperDensity is that of annealed copper [kg per m and mm²], [IEC-60028]: 8.89 g/cm³.
const copperDensity = 8.89e-3

// stranding is how much more copper a stranded conductor holds than a solid one of its gauge, for the lay of its strands.
const stranding = 1.02

// MassPerMetre returns the mass of one conductor [kg/m], as bare solid wire and as stranded insulated single cable; zero for no gauge.
//
// Bare AWG masses are those of the public copper wire table; metric ones are section × density. Insulated mass is an estimate by
// common practice, good to about 15 %: the factor falls from 1.9 on thin wire to 1.2 on 4/0, and metric sizes take it from the AWG
// size nearest in section.
func (g Gauge) MassPerMetre() (bare, insulated float64) {
	switch {
	case !g.Valid():
		return 0, 0
	case g.system == AWG:
		r := awgRows[g.row-1]
		bare = r.bare / 1000 * kgPerPound / metresPerFoot
		return bare, bare * stranding * r.insulate
	}
	bare = g.Section() * copperDensity
	near, off := 1.0, math.Inf(1)
	for i, a := range Gauges(AWG) {
		if d := math.Abs(math.Log(a.Section() / g.Section())); d < off {
			near, off = awgRows[i].insulate, d
		}
	}
	return bare, bare * stranding * near
}
