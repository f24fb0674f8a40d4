package sun

import (
	"fmt"
	"math"
)

// Plane is a flat surface in the open: tilt from the horizontal [deg, 0 to 180], the azimuth it faces [deg, -360 to 360, clockwise from
// north, of no matter at tilt 0] and the albedo of the ground before it, 0 to 1 (grass and gravel 0.2, snow 0.6 to 0.8).
type Plane struct {
	Tilt, Azimuth, Albedo float64
}

func (p Plane) check() error {
	return firstOutside(
		limit{"tilt", p.Tilt, 0, 180, "deg"},
		limit{"azimuth", p.Azimuth, -360, 360, "deg"},
		limit{"albedo", p.Albedo, 0, 1, ""},
	)
}

// CosIncidence returns the cosine of the angle between the plane's normal and the sun at a zenith angle and azimuth [deg], -1 to 1;
// negative with the sun behind the plane. Exact.
func (p Plane) CosIncidence(zenith, azimuth float64) float64 {
	sin, cos := math.Sincos(zenith * radian)
	sinTilt, cosTilt := math.Sincos(p.Tilt * radian)
	return min(max(cosTilt*cos+sinTilt*sin*math.Cos((azimuth-p.Azimuth)*radian), -1), 1)
}

// PlaneGeometry is a plane on a [Geometry]: what the light on it needs, prepared once for any number of weathers.
type PlaneGeometry struct {
	Plane        Plane
	CosIncidence []float64 // cosine of the angle of incidence at each step, negative with the sun behind the plane; at night too

	sun              *Geometry
	flat             bool
	sky, ground, sin float64 // share of the sky seen, albedo times share of the ground seen, sine of the tilt
}

// OnPlane prepares a plane on the geometry. A plane outside the ranges of its fields is an error. The geometry must not be tracked
// anew while the plane is in use.
func (g *Geometry) OnPlane(p Plane) (*PlaneGeometry, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	sinTilt, cosTilt := math.Sincos(p.Tilt * radian)
	pg := &PlaneGeometry{
		Plane: p, sun: g, flat: p.Tilt == 0,
		sky: (1 + cosTilt) / 2, ground: p.Albedo * (1 - cosTilt) / 2, sin: sinTilt,
	}
	if pg.flat {
		pg.CosIncidence = g.Up
		return pg, nil
	}
	sinAzimuth, cosAzimuth := math.Sincos(p.Azimuth * radian)
	east, north := sinTilt*sinAzimuth, sinTilt*cosAzimuth
	n := g.Len()
	pg.CosIncidence = make([]float64, n)
	e, m, u := g.East[:n], g.North[:n], g.Up[:n]
	for i := range pg.CosIncidence {
		pg.CosIncidence[i] = east*e[i] + north*m[i] + cosTilt*u[i]
	}
	return pg, nil
}

// Light is a series of light on the horizontal, one value a step [W/m²]: global on the horizontal, beam on a surface facing the sun,
// diffuse on the horizontal. Values are means over their step or instants, as the caller's weather is.
type Light struct {
	GHI, DNI, DHI []float64
}

// NewLight returns a series of n steps without light.
func NewLight(n int) Light {
	s := make([]float64, 3*n)
	return Light{GHI: s[:n:n], DNI: s[n : 2*n : 2*n], DHI: s[2*n:]}
}

// PlaneLight is a series of light on a plane, one value a step [W/m²]: from the sun's disc, from the sky, from the ground.
type PlaneLight struct {
	Beam, Sky, Ground []float64
}

// NewPlaneLight returns a series of n steps without light.
func NewPlaneLight(n int) PlaneLight {
	s := make([]float64, 3*n)
	return PlaneLight{Beam: s[:n:n], Sky: s[n : 2*n : 2*n], Ground: s[2*n:]}
}

// maxLight bounds what a column of weather may hold [W/m²]. Edges of clouds have been seen to give 1.9 kW/m² for seconds.
const maxLight = 2500

func (l Light) check(n int) error {
	for _, c := range []struct {
		name   string
		values []float64
	}{{"global", l.GHI}, {"beam", l.DNI}, {"diffuse", l.DHI}} {
		if len(c.values) != n {
			return fmt.Errorf("sun: column of %s light has %d steps, geometry has %d", c.name, len(c.values), n)
		}
		for i, v := range c.values {
			if !(v >= 0 && v <= maxLight) {
				return fmt.Errorf("sun: step %d: %s light %v W/m² outside 0 to %d", i, c.name, v, maxLight)
			}
		}
	}
	return nil
}

func (l PlaneLight) check(n int) error {
	if len(l.Beam) != n || len(l.Sky) != n || len(l.Ground) != n {
		return fmt.Errorf("sun: columns for the plane have %d, %d and %d steps, geometry has %d", len(l.Beam), len(l.Sky), len(l.Ground), n)
	}
	return nil
}
