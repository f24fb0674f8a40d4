package climate

import (
	"fmt"
	"math"

	"campwright/sun"
)

// Range is a typical value with the ends of where it may lie.
type Range struct {
	Low, Typical, High float64
}

// at returns the value at a level from -1 (low) over 0 (typical) to 1 (high); levels outside are held.
func (r Range) at(level float64) float64 {
	if level < 0 {
		return r.Typical + max(level, -1)*(r.Typical-r.Low)
	}
	return r.Typical + min(level, 1)*(r.High-r.Typical)
}

// Shade is how much light the trees around a camp let through to a roof: shares of the beam and of the light of the sky, day long means.
type Shade struct {
	Name string
	Beam Range
	Sky  Range
	Why  string // where the figures come from
}

// shades are the classes people can tell apart by eye, from bright to dark.
var shades = []Shade{
	{"open", Range{1, 1, 1}, Range{1, 1, 1}, "nothing above the roof"},
	{"light trees", Range{0.55, 0.70, 0.85}, Range{0.70, 0.80, 0.90}, "common practice, no source: a tree or two, sun on the roof most of the day"},
	{"half shade", Range{0.30, 0.45, 0.60}, Range{0.50, 0.60, 0.70}, "common practice, no source: as much shade as sun on the roof"},
	{"deep shade", Range{0.05, 0.12, 0.22}, Range{0.18, 0.30, 0.45}, "common practice, no source: closed canopy, flecks of sun; lets 10 to 35 % of a summer day's light through"},
}

// Shades returns the classes of shade, from bright to dark. Even shade dims the sky; one branch across one module is another matter, for
// the curves of shaded strings.
func Shades() []Shade { return append([]Shade(nil), shades...) }

// ShadeNamed returns a class of shade by its name, or an error that lists them.
func ShadeNamed(name string) (Shade, error) {
	known := ""
	for _, s := range shades {
		if s.Name == name {
			return s, nil
		}
		known += ", " + s.Name
	}
	return Shade{}, fmt.Errorf("climate: shade %q is none of: %s", name, known[2:])
}

// At returns the shares of beam and sky at a level from -1, the darkest camp of the class, over 0 to 1, the brightest.
func (s Shade) At(level float64) (beam, sky float64) {
	return s.Beam.at(level), s.Sky.at(level)
}

// Horizon is the line of hills, walls and buildings around a camp: its height over the level at even steps of azimuth.
type Horizon struct {
	heights []float64 // [deg]
	sky     float64
}

// discWidth is how wide the sun is [deg].
const discWidth = 0.53

// NewHorizon returns the horizon of heights [deg, 0 to 85] at 12 to 360 even steps of azimuth, the first at north and on clockwise.
// Between them the line is straight. A height outside its range or another count is an error.
func NewHorizon(heights []float64) (Horizon, error) {
	if len(heights) < 12 || len(heights) > 360 {
		return Horizon{}, fmt.Errorf("climate: horizon of %d directions outside 12 to 360", len(heights))
	}
	for i, h := range heights {
		if !(h >= 0 && h <= 85) {
			return Horizon{}, fmt.Errorf("climate: horizon: height %v deg at azimuth %.0f outside 0 to 85", h, 360*float64(i)/float64(len(heights)))
		}
	}
	h := Horizon{heights: append([]float64(nil), heights...)}
	const rays = 720
	for i := range rays {
		s := math.Sin(h.At(360*float64(i)/rays) * math.Pi / 180)
		h.sky += (1 - s*s) / rays
	}
	return h, nil
}

// At returns the height of the horizon at an azimuth [deg]; the level where no horizon was given.
func (h Horizon) At(azimuth float64) float64 {
	n := len(h.heights)
	if n == 0 {
		return 0
	}
	x := math.Mod(azimuth/360*float64(n), float64(n))
	if x < 0 {
		x += float64(n)
	}
	i := int(x)
	f := x - float64(i)
	return (1-f)*h.heights[i%n] + f*h.heights[(i+1)%n]
}

// SkyView returns the share of the light of an even sky that comes over the horizon to a level roof: the mean of the squared cosine of
// the heights. Ours, the integral of the cosine over the open part of the sky; exact for an even sky.
func (h Horizon) SkyView() float64 {
	if len(h.heights) == 0 {
		return 1
	}
	return h.sky
}

// Veil is what a horizon does to each step of one civil day. Make one with [NewVeil].
type Veil struct {
	beam []float64 // share of the sun's disc above the horizon
	up   []float64
	sky  float64
}

// NewVeil returns the veil of a horizon over count steps of a geometry from the step first on, or an error for steps outside it.
func NewVeil(h Horizon, g *sun.Geometry, first, count int) (*Veil, error) {
	if g == nil || count < 1 || first < 0 || first > g.Len()-count {
		return nil, fmt.Errorf("climate: veil: steps %d to %d outside the geometry", first, first+count-1)
	}
	v := &Veil{beam: make([]float64, count), up: g.Up[first : first+count], sky: h.SkyView()}
	for i, up := range v.up {
		if up <= 0 {
			continue
		}
		v.beam[i] = 1
		if len(h.heights) > 0 {
			clear := 90 - g.Zenith(first+i) - h.At(g.Azimuth(first+i))
			v.beam[i] = min(max(clear/discWidth+0.5, 0), 1)
		}
	}
	return v, nil
}

// Apply takes away what horizon and shade keep off: shares of beam and sky let through by the shade, 0 to 1, held there. The global light
// becomes beam times the cosine of the zenith plus diffuse. Columns of another length are an error. It allocates nothing.
func (v *Veil) Apply(beam, sky float64, l sun.Light) error {
	n := len(v.beam)
	if len(l.GHI) != n || len(l.DNI) != n || len(l.DHI) != n {
		return fmt.Errorf("climate: veil of %d steps over columns of %d, %d and %d", n, len(l.GHI), len(l.DNI), len(l.DHI))
	}
	beam = min(max(beam, 0), 1)
	sky = min(max(sky, 0), 1) * v.sky
	for i, share := range v.beam {
		l.DNI[i] *= beam * share
		l.DHI[i] *= sky
		l.GHI[i] = l.DNI[i]*max(v.up[i], 0) + l.DHI[i]
	}
	return nil
}
