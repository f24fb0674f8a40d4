package weather

import (
	"fmt"
	"math"
)

// closureNote words how well the three irradiances of a year agree: global against direct times the cosine of the zenith plus
// diffuse, over records with the sun well up. Files made by models close within rounding; measured ones within some per cent. It is
// a note, not a fault: no limit is published for it.
func closureNote(y Year) string {
	n := 0
	bias, spread, total := 0.0, 0.0, 0.0
	for i := range y.Records {
		r := &y.Records[i]
		if r.GHI <= 0 {
			continue
		}
		p, err := pathAt(y.Site, r.SunTime)
		if err != nil {
			return ""
		}
		cosZ := p.cosZenith(0)
		if cosZ < 0.17 { // 80 degrees from the zenith: below, half an interval of sunrise decides, not the file
			continue
		}
		off := r.DNI*cosZ + r.DHI - r.GHI
		bias += off
		spread += math.Abs(off)
		total += r.GHI
		n++
	}
	if n == 0 {
		return "no record with the sun 10 degrees up and light: direct and diffuse cannot be held against global"
	}
	m := float64(n)
	return fmt.Sprintf("direct and diffuse against global, sun more than 10 degrees up: %+.1f W/m2 on the mean, %.1f W/m2 either way, of %.0f (%d records)", bias/m, spread/m, total/m, n)
}
