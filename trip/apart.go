package trip

import (
	"campwright/climate"
	"campwright/quantity"
	"campwright/rig"
	"campwright/sun"
	"campwright/system"
)

// An array may be set out apart from the rig, where the sky is another: its point is to stand in the sun while the rig stands in the shade. The light of a
// site is that under the rig's own shade. Shade takes shares of beam and sky, so that the light elsewhere at the same camp is the site's with the one share
// taken off and the other put on; hills and walls stay.

// over is what stands over an array at a site.
type over struct {
	through openSky // what a roof lets through
	apart   bool    // the light is not the site's own
	by      openSky // and by what its beam and sky differ from it
}

// overArray returns what stands over an array at a site: a class of shade and where in it the site lies, -1 to 1, and where in its own the array does.
func overArray(a *system.Array, site string, level, own float64) over {
	if a.Sky == "" {
		if site == "roofed" {
			return over{}
		}
		return over{through: openSky{beam: 1, sky: 1}}
	}
	if a.Sky == "roofed" {
		return over{}
	}
	here, there := lets(site, level), lets(a.Sky, own)
	return over{through: openSky{beam: 1, sky: 1}, apart: true, by: openSky{beam: there.beam / here.beam, sky: there.sky / here.sky}}
}

// lets returns the shares of beam and sky that a class of shade lets through at a level, -1 to 1. A roof is left to what it lets through of all light.
func lets(class string, level float64) openSky {
	if !shades(class) {
		return openSky{beam: 1, sky: 1}
	}
	shade, err := climate.ShadeNamed(class)
	if err != nil {
		return openSky{beam: 1, sky: 1} // the document allows no other word
	}
	beam, sky := shade.At(level)
	return openSky{beam: beam, sky: sky}
}

// shades tells whether a word for the sky over something is a class of shade.
func shades(class string) bool { return class != "" && class != "open" && class != "roofed" }

// elsewhere returns the light of a step apart from the rig: global, direct and diffuse; up is the cosine of the zenith.
func (o over) elsewhere(l sun.Light, k int, up float64) (ghi, dni, dhi float64) {
	dni, dhi = l.DNI[k]*o.by.beam, l.DHI[k]*o.by.sky
	return dni*max(up, 0) + dhi, dni, dhi
}

// arrayPath is the path under which an array's own shade is drawn as a guess.
func arrayPath(array string) string { return "arrays/" + array + "/site" }

// levelOf returns where in its class of shade something lies in a member, -1 to 1; its middle where it is not drawn.
func levelOf(draws map[string][]float64, path string, m int) float64 {
	if col := draws[path]; col != nil {
		return 2*col[m] - 1
	}
	return 0
}

// shadeGuess is the guess of where in its class of shade something lies.
func shadeGuess(path string) rig.Value {
	v := rig.Value{High: 1}
	v.Quantity.Base, v.Quantity.Kind = 0.5, quantity.Share
	v.At.Path = path
	return v
}
