package trip

import (
	"fmt"
	"math"

	"campwright/pv"
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
	of   [][]*sun.PlaneGeometry // by site, then by array
	glas *sun.Modifier
}

// newPlanes prepares the planes of all arrays at all sites.
func newPlanes(sys *system.System, c *Course) (planes, error) {
	glass, err := sun.NewPhysical(sun.PlainGlass)
	if err != nil {
		return planes{}, err
	}
	p := planes{of: make([][]*sun.PlaneGeometry, len(c.Sites)), glas: &glass}
	for s := range c.Sites {
		known := map[sun.Plane]*sun.PlaneGeometry{}
		for i := range sys.Arrays {
			lies := planeOf(&sys.Arrays[i], c.Sites[s].Place.Latitude)
			if known[lies] == nil {
				if known[lies], err = c.Sun[s].OnPlane(lies); err != nil {
					return planes{}, fmt.Errorf("array %q: %w", sys.Arrays[i].Name, err)
				}
			}
			p.of[s] = append(p.of[s], known[lies])
		}
	}
	return p, nil
}

// planeOf returns how an array lies at a latitude: a tilted one without a direction faces the equator.
func planeOf(a *system.Array, latitude float64) sun.Plane {
	if a.Tilt < level {
		return sun.Plane{Albedo: albedo}
	}
	faces := a.Faces
	if math.IsNaN(faces) {
		faces = 180
		if latitude < 0 {
			faces = 0
		}
	}
	return sun.Plane{Tilt: a.Tilt, Azimuth: faces, Albedo: albedo}
}

// openSky is what a site lets through of the light of an open one.
type openSky struct{ beam, sky float64 }

// lightOn fills what each array can offer along the course.
func lightOn(sys *system.System, c *Course, w Weather, p planes, skies []openSky, out []offer) {
	for a := range sys.Arrays {
		array := &sys.Arrays[a]
		for s := range c.Sites {
			from, to := c.From[s], c.From[s+1]
			plane := p.of[s][a]
			sky, ground := p.glas.Sky(plane.Plane.Tilt), p.glas.Ground(plane.Plane.Tilt)
			beamKeeps := array.Beam * skies[s].beam
			for i := from; i < to; i++ {
				k := i - from
				ghi := w.GHI[i]
				if ghi <= 0 && w.DHI[i] <= 0 {
					out[a].powerW[i], out[a].volts[i], out[a].cableW[i] = 0, 0, 0
					continue
				}
				b, d, g := plane.Perez(k, ghi, w.DNI[i], w.DHI[i])
				b, d, g = b*beamKeeps, d*skies[s].sky, g*skies[s].sky
				cell := array.Cell.Cell(b+d+g, w.AirC[i], w.WindMS[i])
				effective := array.Clean * (b*p.glas.At(plane.CosIncidence[k]) + d*sky + g*ground)
				out[a].at(i, array, array.Best(effective, cell))
			}
		}
	}
}

// at books the offer of one step from a module's best point.
func (o *offer) at(i int, a *system.Array, best pv.Point) {
	volts, amps := best.V*a.Series, best.I*a.Strings*a.Keeps
	power := volts * amps
	cable := math.Min(amps*amps*a.LoopOhm, power)
	o.powerW[i], o.cableW[i] = power-cable, cable
	if amps > 0 {
		o.volts[i] = volts - amps*a.LoopOhm
	}
}
