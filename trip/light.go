package trip

import (
	"fmt"
	"math"

	"campwright/sun"
	"campwright/system"
)

// albedo is the share of light that the ground around a camp throws back: grass, gravel and sand. Snow throws back three to four times
// as much; that is said where it matters and not counted on. Common practice, no source.
const albedo = 0.2

// level is the tilt below which an array counts as flat [deg].
const level = 0.01

// planes are the planes of a rig's arrays on the geometry of each site, shared by arrays that lie alike.
type planes struct {
	of    [][]*sun.PlaneGeometry // by site, then by array
	glass *sun.Modifier
}

// newPlanes prepares the planes of all arrays at all sites.
func newPlanes(sys *system.System, c *Course) (planes, error) {
	glass, err := sun.NewPhysical(sun.PlainGlass)
	if err != nil {
		return planes{}, err
	}
	p := planes{of: make([][]*sun.PlaneGeometry, len(c.Sites)), glass: &glass}
	for s := range c.Sites {
		known := map[sun.Plane]*sun.PlaneGeometry{}
		for i := range sys.Arrays {
			lies := planeOf(&sys.Arrays[i], &c.Sites[s])
			if known[lies] == nil {
				if known[lies], err = c.Spans[s].Sun.OnPlane(lies); err != nil {
					return planes{}, fmt.Errorf("array %q: %w", sys.Arrays[i].Name, err)
				}
			}
			p.of[s] = append(p.of[s], known[lies])
		}
	}
	return p, nil
}

// planeOf returns how an array lies at a site: one whose direction is given on the rig turns with the heading, where that is known; a tilted one
// without a direction faces the equator.
func planeOf(a *system.Array, site *Site) sun.Plane {
	if a.Tilt < level {
		return sun.Plane{Albedo: albedo}
	}
	faces := a.Faces
	if turned := math.Mod(site.Heading+a.OnRig, 360); !math.IsNaN(turned) {
		faces = turned
	}
	if math.IsNaN(faces) {
		faces = 180
		if site.Place.Latitude < 0 {
			faces = 0
		}
	}
	return sun.Plane{Tilt: a.Tilt, Azimuth: faces, Albedo: albedo}
}

// openSky is what a site lets through of the light of an open one.
type openSky struct{ beam, sky float64 }

// siteLight is the weather of one site over its whole civil days.
type siteLight struct {
	sun.Light
	up     []float64 // cosine of the zenith, by step of the geometry
	air    []float64
	wind   []float64 // nil where only a guess is known
	windMS float64
}

// lightOn fills what each array can offer along the course.
func lightOn(sys *system.System, c *Course, w Weather, p planes, skies []openSky, out []offer) {
	light := siteLight{Light: sun.Light{GHI: w.GHI, DNI: w.DNI, DHI: w.DHI}, air: w.AirC, wind: w.WindMS}
	for a := range sys.Arrays {
		for s := range c.Sites {
			light.up = c.Spans[s].Sun.Up
			sky := over{through: skies[s]}
			if sys.Arrays[a].Sky != "" {
				sky = overArray(&sys.Arrays[a], c.Sites[s].Sky, 0, 0)
			}
			arrayAlong(&sys.Arrays[a], p.of[s][a], p.glass, light, sky, c.Spans[s].Lead-c.From[s], 0, c.From[s], c.From[s+1], &out[a])
		}
	}
}

// arrayAlong fills what one array offers: step i of the course is step i+shift of the geometry and i+lit of the light.
func arrayAlong(a *system.Array, plane *sun.PlaneGeometry, glass *sun.Modifier, l siteLight, sky over, shift, lit, from, to int, out *offer) {
	skyGlass, groundGlass := glass.Sky(plane.Plane.Tilt), glass.Ground(plane.Plane.Tilt)
	through, beamKeeps := sky.through, a.Beam*sky.through.beam
	wind := l.windMS
	for i := from; i < to; i++ {
		g, k := i+shift, i+lit
		if l.GHI[k] <= 0 && l.DHI[k] <= 0 {
			out.powerW[i], out.volts[i], out.cableW[i] = 0, 0, 0
			continue
		}
		ghi, dni, dhi := l.GHI[k], l.DNI[k], l.DHI[k]
		if sky.apart {
			ghi, dni, dhi = sky.elsewhere(l.Light, k, l.up[g])
		}
		b, d, r := plane.Perez(g, ghi, dni, dhi)
		b, d, r = b*beamKeeps, d*through.sky, r*through.sky
		if l.wind != nil {
			wind = l.wind[k]
		}
		cell := a.Cell.Cell(b+d+r, l.air[k], wind)
		effective := a.Clean * (b*glass.At(plane.CosIncidence[g]) + d*skyGlass + r*groundGlass)
		power, volts := a.Best(effective, cell)
		out.at(i, a, power, volts)
	}
}

// at books the offer of one step from a module's best power [W] and its voltage [V].
func (o *offer) at(i int, a *system.Array, power, volts float64) {
	if power <= 0 || volts <= 0 {
		o.powerW[i], o.volts[i], o.cableW[i] = 0, 0, 0
		return
	}
	amps := power / volts * a.Strings * a.Keeps
	volts *= a.Series
	power = volts * amps
	cable := math.Min(amps*amps*a.LoopOhm, power)
	o.powerW[i], o.cableW[i] = power-cable, cable
	o.volts[i] = volts - amps*a.LoopOhm
}
