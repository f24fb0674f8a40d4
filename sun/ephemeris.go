package sun

import "math"

// The sun moves smoothly among the stars, so [Track] and [RiseSet] compute it in full only every few days and draw a cubic between.
// What is drawn is the unit vector to the sun in a frame that turns with the mean sun, exactly once in a day: there the sun wanders
// only by the equation of time and its declination. With nodes three days apart the cubic is off by less than 0.00003 degrees, most
// of it the pull of the Moon on the Earth. Turning, parallax and refraction are then applied at each instant in full.

// nodeDays is the time between full computations. Nodes lie at whole multiples since 2000, so that an instant has the same answer in
// every series that holds it.
const nodeDays = 3

// drift is the slow part of the sun's position: the unit vector to it in the turning frame (towards the mean sun's meridian,
// a quarter turn west, north pole), and the inverse of its distance [1/au].
type drift [4]float64

// ephemeris is the sun's slow motion around the instant last asked for.
type ephemeris struct {
	deltaT float64
	index  int // number of the node at the window's second place
	filled bool
	window [4]drift
	cubics [4][4]float64 // one for each part of the drift
}

// segment makes the cubics of the span that starts at the node with the given index.
func (e *ephemeris) segment(index int) *[4][4]float64 {
	if e.filled && index == e.index {
		return &e.cubics
	}
	if e.filled && index == e.index+1 {
		e.window = [4]drift{e.window[1], e.window[2], e.window[3], e.node(index + 2)}
	} else {
		for i := range e.window {
			e.window[i] = e.node(index - 1 + i)
		}
	}
	e.index, e.filled = index, true
	for part := range e.cubics {
		e.cubics[part] = cubic([4]float64{e.window[0][part], e.window[1][part], e.window[2][part], e.window[3][part]})
	}
	return &e.cubics
}

// node computes the sun in full at one node.
func (e *ephemeris) node(index int) drift {
	day := float64(index) * nodeDays
	d := geocentric(day, e.deltaT)
	// Hour angle at Greenwich less that of the mean sun, which is a whole turn a day and nothing at 12 h.
	sin, cos := math.Sincos((d.Nu - d.Alpha) * radian)
	sinDec, cosDec := math.Sincos(d.Declination * radian)
	return drift{cosDec * cos, cosDec * sin, sinDec, 1 / d.R}
}

// nodeBefore returns the index of the last node at or before a day since 2000.
func nodeBefore(day float64) int {
	return int(math.Floor(day / nodeDays))
}

// frame is what turns the drift into the observer's east, north and up.
type frame struct {
	sinLat, cosLat            float64
	parallaxNorth, parallaxUp float64 // of the sun at 1 au, as fractions of the unit vector
	longitude                 float64 // [turns]
}

func newFrame(p Place) frame {
	sinLat, cosLat := math.Sincos(p.Latitude * radian)
	axis, equator := geocentre(p)
	sinXi := math.Sin(earthRadiiAU * radian)
	return frame{
		sinLat: sinLat, cosLat: cosLat,
		parallaxNorth: sinXi * (cosLat*equator - sinLat*axis),
		parallaxUp:    sinXi * (sinLat*equator + cosLat*axis),
		longitude:     p.Longitude / 360,
	}
}

// look returns the unit vector to the airless sun from drift d, with the mean sun's local hour angle given by its sine and cosine.
func (f *frame) look(a, b, c, invR, sinHour, cosHour float64) (east, north, up float64) {
	meridian := a*cosHour - b*sinHour
	east = -(a*sinHour + b*cosHour)
	north = f.cosLat*c - f.sinLat*meridian - f.parallaxNorth*invR
	up = f.sinLat*c + f.cosLat*meridian - f.parallaxUp*invR
	// The length is within 1e-4 of one, so three terms of 1/√(1+x) make it one to 1e-12.
	x := east*east + north*north + up*up - 1
	scale := 1 - x*(0.5-0.375*x)
	return east * scale, north * scale, up * scale
}

// airless returns the unit vector to the sun without refraction at a day since 2000.
func (e *ephemeris) airless(f *frame, day float64) (east, north, up float64) {
	index := nodeBefore(day)
	c := e.segment(index)
	u := day/nodeDays - float64(index)
	sin, cos := math.Sincos(2 * math.Pi * fraction(day+f.longitude))
	return f.look(horner(&c[0], u), horner(&c[1], u), horner(&c[2], u), horner(&c[3], u), sin, cos)
}

func horner(c *[4]float64, u float64) float64 {
	return c[0] + u*(c[1]+u*(c[2]+u*c[3]))
}

// fraction returns the part of x above the next lower whole number.
func fraction(x float64) float64 {
	return x - math.Floor(x)
}
