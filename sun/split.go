package sun

import (
	"fmt"
	"math"
)

// Global light is split into beam and diffuse by correlations with the clearness index: the share of the light above the air that
// reaches the ground. They are means of scattered data: a single hour's diffuse share may be off by 0.2.

const (
	minCosZenith = 0.065              // floor of the cosine of the zenith in the clearness index, 86.3 degrees
	cos87        = 0.0523359562429438 // no beam is split off with the sun lower than 3 degrees
)

// Clearness returns the clearness index, 0 to 1: global light on the horizontal [W/m²], cosine of the zenith angle, light above the
// air facing the sun [W/m²]. The cosine is held above 0.065 and the index at 1.
func Clearness(ghi, cosZenith, extra float64) float64 {
	return min(max(ghi/(extra*max(cosZenith, minCosZenith)), 0), 1)
}

// ErbsHourly returns the diffuse share of an hour's global light, 0 to 1, for its clearness index; the index is held within 0 to 1.
// Source: [ERBS] eq. 1; [DUFFIE-BECKMAN] eq. 2.10.1.
func ErbsHourly(clearness float64) float64 {
	k := min(max(clearness, 0), 1)
	switch {
	case k <= 0.22:
		return 1 - 0.09*k
	case k <= 0.8:
		return 0.9511 + k*(-0.1604+k*(4.388+k*(-16.638+k*12.336)))
	}
	return 0.165
}

// SplitErbs returns beam facing the sun and diffuse on the horizontal [W/m²] that make up the global light [W/m²]: cosine of the zenith
// angle, light above the air [W/m²]. With the sun lower than 3 degrees all light is diffuse. Beam·cos + diffuse is the global light.
// The beam is not capped: very bright hours of low sun give more than any clear sky can, and the caller who knows the air caps them.
func SplitErbs(ghi, cosZenith, extra float64) (dni, dhi float64) {
	return split(ghi, cosZenith, ErbsHourly(Clearness(ghi, cosZenith, extra)))
}

// split divides global light by a diffuse share.
func split(ghi, cosZenith, share float64) (dni, dhi float64) {
	if !(ghi > 0) {
		return 0, 0
	}
	if cosZenith < cos87 {
		return 0, ghi
	}
	dhi = share * ghi
	return (ghi - dhi) / cosZenith, dhi
}

// FillErbs splits the global light of l at each step of a geometry into its beam and diffuse columns, as [SplitErbs] does. Columns of
// another length, or global light outside 0 to 2500 W/m², are an error. It allocates nothing.
func FillErbs(l Light, g *Geometry) error {
	n := g.Len()
	if len(l.GHI) != n || len(l.DNI) != n || len(l.DHI) != n {
		return fmt.Errorf("sun: columns of light have %d, %d and %d steps, geometry has %d", len(l.GHI), len(l.DNI), len(l.DHI), n)
	}
	for i, ghi := range l.GHI {
		if !(ghi >= 0 && ghi <= maxLight) {
			return fmt.Errorf("sun: step %d: global light %v W/m² outside 0 to %d", i, ghi, maxLight)
		}
		l.DNI[i], l.DHI[i] = SplitErbs(ghi, g.Up[i], g.Extra[i])
	}
	return nil
}

// BRL holds the predictors of the Boland, Ridley and Lauret split of one hour.
type BRL struct {
	Clearness   float64 // of the hour, 0 to 1
	Daily       float64 // of the day, 0 to 1
	Persistence float64 // mean clearness of the hours before and after; at sunrise the one after, at sunset the one before
	SolarTime   float64 // apparent solar time [h], 0 to 24
	Elevation   float64 // of the sun [deg], 0 to 90
}

// Share returns the diffuse share of the hour's global light, above 0 and below 1. Predictors outside their ranges are held at the
// nearer end. Source: [RIDLEY-2010], the coefficients for all its sites.
func (b BRL) Share() float64 {
	return 1 / (1 + math.Exp(-5.38+
		6.63*min(max(b.Clearness, 0), 1)+
		0.006*min(max(b.SolarTime, 0), 24)-
		0.007*min(max(b.Elevation, 0), 90)+
		1.75*min(max(b.Daily, 0), 1)+
		1.31*min(max(b.Persistence, 0), 1)))
}

// SplitBRL returns beam and diffuse light [W/m²] as [SplitErbs] does, by the share of BRL.
func SplitBRL(ghi, cosZenith float64, b BRL) (dni, dhi float64) {
	return split(ghi, cosZenith, b.Share())
}
