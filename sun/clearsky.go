package sun

import (
	"fmt"
	"math"
)

// ClearSky is the light of a cloudless sky at one place, after Ineichen and Perez. Make one with [NewClearSky].
type ClearSky struct {
	perAirMass                 float64 // absolute air mass per relative one
	a1, a2, beam, decay, share float64
}

// ClearSkyParams describe the air over a place: Linke turbidity at air mass 2, 1 to 12 (2 very clean and dry, 3 clean, 4.5 humid
// summer, 6 and more haze or smoke); elevation [m], -500 to 9000.
type ClearSkyParams struct {
	Turbidity, Elevation float64
}

// NewClearSky returns the clear sky of given air, or an error for values outside their ranges.
//
// Accuracy: some 4 % of the global and 8 % of the beam light with the right turbidity, which seldom is known. Enhancement of very
// thick skies is left out. Source: [INEICHEN-PEREZ], with its elevation terms.
func NewClearSky(p ClearSkyParams) (ClearSky, error) {
	if err := firstOutside(
		limit{"Linke turbidity", p.Turbidity, 1, 12, ""},
		limit{"elevation", p.Elevation, minElevation, maxElevation, "m"},
	); err != nil {
		return ClearSky{}, err
	}
	fh1, fh2 := math.Exp(-p.Elevation/8000), math.Exp(-p.Elevation/1250)
	return ClearSky{
		perAirMass: AbsoluteAirMass(1, Pressure(p.Elevation)),
		a1:         5.09e-5*p.Elevation + 0.868,
		a2:         (3.92e-5*p.Elevation + 0.0387) * (fh1 + fh2*(p.Turbidity-1)),
		beam:       0.664 + 0.163/fh1,
		decay:      0.09 * (p.Turbidity - 1),
		share:      1 - (0.1-0.2*math.Exp(-p.Turbidity))/(0.1+0.882/fh1),
	}, nil
}

// At returns global, beam and diffuse light of the clear sky [W/m²]: cosine of the apparent zenith angle, relative air mass, and the
// light above the air [W/m²]. With the sun below the horizon all are zero.
func (c ClearSky) At(cosZenith, airMass, extra float64) (ghi, dni, dhi float64) {
	if !(cosZenith > 0) {
		return 0, 0, 0
	}
	am := airMass * c.perAirMass
	ghi = c.a1 * extra * cosZenith * math.Exp(-c.a2*am)
	// The beam is the lesser of the paper's formula and what leaves the least diffuse light.
	dni = min(extra*c.beam*math.Exp(-c.decay*am), max(ghi*c.share/cosZenith, 0))
	return ghi, dni, ghi - dni*cosZenith
}

// Fill fills dst with the clear sky at each step of a geometry. Columns of another length are an error. It allocates nothing.
func (c ClearSky) Fill(dst Light, g *Geometry) error {
	n := g.Len()
	if len(dst.GHI) != n || len(dst.DNI) != n || len(dst.DHI) != n {
		return fmt.Errorf("sun: columns for the clear sky have %d, %d and %d steps, geometry has %d", len(dst.GHI), len(dst.DNI), len(dst.DHI), n)
	}
	for i, up := range g.Up {
		dst.GHI[i], dst.DNI[i], dst.DHI[i] = c.At(up, g.AirMass[i], g.Extra[i])
	}
	return nil
}

// Haurwitz returns the global light of a clear sky [W/m²] for a cosine of the apparent zenith angle; zero with the sun down. It knows
// neither elevation nor haze: a check within 10 %, not a model of a place. Source: [HAURWITZ].
func Haurwitz(cosZenith float64) float64 {
	if !(cosZenith > 0) {
		return 0
	}
	return 1098 * cosZenith * math.Exp(-0.059/cosZenith)
}
