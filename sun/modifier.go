package sun

import (
	"fmt"
	"math"
)

// Modifier is the share of light that passes a module's glass, against light that comes straight at it. Make one with [NewASHRAE] or
// [NewPhysical]; the zero value passes all light.
type Modifier struct {
	kind  modifierKind
	b0    float64
	glass table // by cosine of incidence
}

type modifierKind uint8

const (
	passAll modifierKind = iota
	ashrae
	physical
)

// NewASHRAE returns the modifier 1 - b0·(1/cos θ - 1), not below zero, for the measured constant b0, 0 to 0.5; 0.05 is usual for flat
// glass. Accuracy: fair to 60 degrees, too low beyond 75. Source: [SOUKA-SAFWAT]; [DUFFIE-BECKMAN] eq. 6.17.10.
func NewASHRAE(b0 float64) (Modifier, error) {
	if err := firstOutside(limit{"modifier constant b0", b0, 0, 0.5, ""}); err != nil {
		return Modifier{}, err
	}
	return Modifier{kind: ashrae, b0: b0}, nil
}

// Glass is a module's cover: refractive index against air, 1.0001 to 3; extinction [1/m], 0 to 200; thickness [m], 0 to 0.05.
type Glass struct {
	Index, Extinction, Thickness float64
}

// PlainGlass is low-iron solar glass as [DESOTO-2006] takes it.
var PlainGlass = Glass{Index: 1.526, Extinction: 4, Thickness: 0.002}

// NewPhysical returns the modifier of a single cover by refraction (Snell), reflection at its face (Fresnel) and absorption (Bouguer),
// relative to light straight on. Accuracy: exact for one plain sheet bonded to the cells. Source: [DESOTO-2006], its incidence angle modifier.
func NewPhysical(g Glass) (Modifier, error) {
	if err := firstOutside(
		limit{"refractive index", g.Index, 1.0001, 3, ""},
		limit{"extinction", g.Extinction, 0, 200, "1/m"},
		limit{"glass thickness", g.Thickness, 0, 0.05, "m"},
	); err != nil {
		return Modifier{}, err
	}
	straight := g.transmitted(1)
	return Modifier{kind: physical, glass: newTable(func(cos float64) float64 {
		return g.transmitted(cos) / straight
	}, 0, 1, 1024)}, nil
}

// transmitted returns the share of light that reaches the cells through the glass, for a cosine of incidence. It runs on smoothly
// a little below 0 and above 1, which its table needs.
func (g Glass) transmitted(cos float64) float64 {
	inside := math.Sqrt(1 - (1-cos*cos)/(g.Index*g.Index)) // cosine of the angle of refraction
	across := (cos - g.Index*inside) / (cos + g.Index*inside)
	along := (inside - g.Index*cos) / (inside + g.Index*cos)
	return (1 - (across*across+along*along)/2) * math.Exp(-g.Extinction*g.Thickness/inside)
}

// At returns the modifier of light arriving at the given cosine of incidence, 0 to 1; from behind the plane it is 0, above 1 it counts
// as 1.
func (m *Modifier) At(cosIncidence float64) float64 {
	c := min(cosIncidence, 1)
	if !(c > 0) {
		return 0
	}
	switch m.kind {
	case ashrae:
		return max(1-m.b0*(1/c-1), 0)
	case physical:
		return m.glass.at(c)
	}
	return 1
}

// Sky returns the modifier of a uniform sky on a plane of the given tilt [deg], 0 to 90; beyond 90 as at 90. It is that of a beam at
// an equivalent angle. Source: [BRANDEMUEHL-BECKMAN]; [DUFFIE-BECKMAN] eq. 5.4.2.
func (m *Modifier) Sky(tilt float64) float64 {
	b := min(max(tilt, 0), 90)
	return m.At(math.Cos((59.7 - 0.1388*b + 0.001497*b*b) * radian))
}

// Ground returns the modifier of light from the ground on a plane of the given tilt [deg], 0 to 90; beyond 90 as at 90. A flat plane
// sees no ground, and what it would see comes at grazing incidence. Source: [BRANDEMUEHL-BECKMAN]; [DUFFIE-BECKMAN] eq. 5.4.1.
func (m *Modifier) Ground(tilt float64) float64 {
	b := min(max(tilt, 0), 90)
	return m.At(math.Cos((90 - 0.5788*b + 0.002693*b*b) * radian))
}

// Effective fills dst with the light that passes the glass at each step [W/m²], from light on the plane. Columns of another length
// than the geometry's are an error. It allocates nothing.
func (p *PlaneGeometry) Effective(dst []float64, l PlaneLight, m *Modifier) error {
	n := p.sun.Len()
	if err := l.check(n); err != nil {
		return err
	}
	if len(dst) != n {
		return fmt.Errorf("sun: column for the effective light has %d steps, geometry has %d", len(dst), n)
	}
	sky, ground := m.Sky(p.Plane.Tilt), m.Ground(p.Plane.Tilt)
	beams, skies, grounds, cos := l.Beam[:n], l.Sky[:n], l.Ground[:n], p.CosIncidence[:n]
	for i := range dst {
		v := skies[i]*sky + grounds[i]*ground
		if b := beams[i]; b > 0 {
			v += b * m.At(cos[i])
		}
		dst[i] = v
	}
	return nil
}
