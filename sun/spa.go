package sun

import (
	"fmt"
	"math"
	"time"
)

// Position is the sun as one observer sees it at one instant.
type Position struct {
	Zenith         float64 // of the sun's centre as seen through the air [deg], 0 to 180
	TrueZenith     float64 // the same without refraction [deg]
	Azimuth        float64 // [deg], 0 to 360, clockwise from true north
	Declination    float64 // geocentric [deg]
	EquationOfTime float64 // apparent minus mean solar time [min]
	Distance       float64 // from the Earth [au]
}

// At returns the sun's position at an instant of civil time, seen by an observer.
//
// The instant may lie in the years -2000 to 6000; outside that, or for an observer outside the ranges of its fields, it returns an
// error. Refraction lifts the sun only above -0.8333 degrees, where its upper edge still shows; below, both zeniths are equal.
//
// Accuracy: 0.0003 degrees for the algorithm [SPA]; 0.004 degrees for taking UTC as UT1; refraction within some degrees of the horizon
// is a mean, and real air differs by 0.1 degrees or more there.
//
// Source: [SPA] section 3. Differs from it: nothing but UT1 = UTC.
func At(t time.Time, o Observer) (Position, error) {
	d, err := Details(t, o)
	if err != nil {
		return Position{}, err
	}
	return Position{
		Zenith:         90 - d.E,
		TrueZenith:     90 - d.E0,
		Azimuth:        d.Azimuth,
		Declination:    d.Declination,
		EquationOfTime: d.EquationOfTime,
		Distance:       d.R,
	}, nil
}

// Detail holds every value the report of [SPA] computes on the way, under the report's symbols, in degrees unless said otherwise.
type Detail struct {
	JD, JDE, JC, JCE, JME          float64 // Julian day, ephemeris day, centuries, ephemeris centuries, ephemeris millennia
	L, B                           float64 // heliocentric longitude and latitude of the Earth
	R                              float64 // distance [au]
	Theta, Beta                    float64 // geocentric longitude and latitude of the sun
	X                              [5]float64
	DeltaPsi, DeltaEpsilon         float64 // nutation in longitude and obliquity
	Epsilon0                       float64 // mean obliquity [arc seconds]
	Epsilon                        float64 // true obliquity
	DeltaTau                       float64 // aberration
	Lambda                         float64 // apparent longitude of the sun
	Nu0, Nu                        float64 // mean and apparent sidereal time at Greenwich
	Alpha, Declination             float64 // geocentric right ascension and declination
	H                              float64 // local hour angle, westward from south
	Xi                             float64 // equatorial horizontal parallax
	DeltaAlpha                     float64 // parallax in right ascension
	AlphaPrime, DeltaPrime, HPrime float64 // topocentric right ascension, declination, hour angle
	E0, DeltaE, E                  float64 // elevation without refraction, refraction, elevation
	Azimuth                        float64 // clockwise from true north
	EquationOfTime                 float64 // [min]
}

// Details returns all intermediate values of [At], for those who check them against the report. Range, accuracy and source as [At].
func Details(t time.Time, o Observer) (Detail, error) {
	if err := o.check(); err != nil {
		return Detail{}, err
	}
	if err := checkTime(t); err != nil {
		return Detail{}, err
	}
	d := geocentric(days2000(t), o.DeltaT)
	d.topocentric(o)
	return d, nil
}

func checkTime(t time.Time) error {
	if y := t.UTC().Year(); y < -2000 || y > 6000 {
		return fmt.Errorf("sun: year %d outside -2000 to 6000", y)
	}
	return nil
}

const (
	radian       = math.Pi / 180 // one degree
	degree       = 180 / math.Pi // one radian
	julianDay    = 2451545.0     // of the epoch 2000 January 1, 12 h
	earthRadiiAU = 8.794 / 3600  // equatorial parallax of the sun at 1 au [deg]
)

// epoch2000 is 2000-01-01 12:00 UTC in Unix seconds.
const epoch2000 = 946728000

// days2000 returns the days since 2000-01-01 12:00 UTC. Counting from there keeps the instant to a fraction of a microsecond.
func days2000(t time.Time) float64 {
	return (float64(t.Unix()-epoch2000) + float64(t.Nanosecond())*1e-9) / 86400
}

// geocentric fills in what does not depend on the place, at the given days since 2000.
func geocentric(day, deltaT float64) Detail {
	if deltaT == 0 {
		deltaT = DeltaT(2000 + day/365.25)
	}
	var d Detail
	// [SPA] eq. 4 to 8.
	ephemerisDay := day + deltaT/86400
	d.JD, d.JDE = julianDay+day, julianDay+ephemerisDay
	d.JC, d.JCE = day/36525, ephemerisDay/36525
	d.JME = d.JCE / 10

	// [SPA] eq. 9 to 12: position of the Earth; eq. 13 and 14: seen the other way round.
	d.L = wrap360(series(longitudeTerms[:], d.JME) * 1e-8 * degree)
	d.B = series(latitudeTerms[:], d.JME) * 1e-8 * degree
	d.R = series(distanceTerms[:], d.JME) * 1e-8
	d.Theta = wrap360(d.L + 180)
	d.Beta = -d.B

	d.nutation()

	// [SPA] eq. 24 and 25: obliquity of the ecliptic.
	d.Epsilon0 = poly(d.JME/10, 84381.448, -4680.93, -1.55, 1999.25, -51.38, -249.67, -39.05, 7.12, 27.87, 5.79, 2.45)
	d.Epsilon = d.Epsilon0/3600 + d.DeltaEpsilon

	// [SPA] eq. 26 and 27: aberration and apparent longitude.
	d.DeltaTau = -20.4898 / (3600 * d.R)
	d.Lambda = d.Theta + d.DeltaPsi + d.DeltaTau

	// [SPA] eq. 28 and 29: sidereal time.
	sinEps, cosEps := math.Sincos(d.Epsilon * radian)
	d.Nu0 = wrap360(280.46061837 + 360.98564736629*day + d.JC*d.JC*(0.000387933-d.JC/38710000))
	d.Nu = d.Nu0 + d.DeltaPsi*cosEps

	// [SPA] eq. 30 and 31: right ascension and declination.
	sinLambda, cosLambda := math.Sincos(d.Lambda * radian)
	sinBeta, cosBeta := math.Sincos(d.Beta * radian)
	d.Alpha = wrap360(math.Atan2(sinLambda*cosEps-sinBeta/cosBeta*sinEps, cosLambda) * degree)
	d.Declination = math.Asin(sinBeta*cosEps+cosBeta*sinEps*sinLambda) * degree
	d.Xi = earthRadiiAU / d.R // eq. 33

	// [SPA] appendix A.1: equation of time, brought into half a day either way.
	mean := poly(d.JME, 280.4664567, 360007.6982779, 0.03032028, 1.0/49931, -1.0/15300, -1.0/2000000)
	d.EquationOfTime = 4 * wrap180(mean-0.0057183-d.Alpha+d.DeltaPsi*cosEps)
	return d
}

// nutation fills in the arguments X and the nutation, [SPA] eq. 15 to 23.
func (d *Detail) nutation() {
	t := d.JCE
	d.X = [5]float64{
		poly(t, 297.85036, 445267.111480, -0.0019142, 1.0/189474),
		poly(t, 357.52772, 35999.050340, -0.0001603, -1.0/300000),
		poly(t, 134.96298, 477198.867398, 0.0086972, 1.0/56250),
		poly(t, 93.27191, 483202.017538, -0.0036825, 1.0/327270),
		poly(t, 125.04452, -1934.136261, 0.0020708, 1.0/450000),
	}
	for i := range nutationTerms {
		n := &nutationTerms[i]
		angle := n.y[0]*d.X[0] + n.y[1]*d.X[1] + n.y[2]*d.X[2] + n.y[3]*d.X[3] + n.y[4]*d.X[4]
		sin, cos := math.Sincos(angle * radian)
		d.DeltaPsi += (n.a + n.b*t) * sin
		d.DeltaEpsilon += (n.c + n.d*t) * cos
	}
	d.DeltaPsi /= 36000000
	d.DeltaEpsilon /= 36000000
}

// topocentric fills in what the observer adds.
func (d *Detail) topocentric(o Observer) {
	sinLat, cosLat := math.Sincos(o.Latitude * radian)
	x, y := geocentre(o.Place)

	// [SPA] eq. 32 and 34 to 39: hour angle and parallax.
	d.H = wrap360(d.Nu + o.Longitude - d.Alpha)
	sinH, cosH := math.Sincos(d.H * radian)
	sinDec, cosDec := math.Sincos(d.Declination * radian)
	sinXi := math.Sin(d.Xi * radian)
	deltaAlpha := math.Atan2(-x*sinXi*sinH, cosDec-x*sinXi*cosH)
	d.DeltaAlpha = deltaAlpha * degree
	d.AlphaPrime = d.Alpha + d.DeltaAlpha
	decPrime := math.Atan2((sinDec-y*sinXi)*math.Cos(deltaAlpha), cosDec-x*sinXi*cosH)
	d.DeltaPrime = decPrime * degree
	d.HPrime = d.H - d.DeltaAlpha

	// [SPA] eq. 40 to 44: elevation and refraction.
	sinH, cosH = math.Sincos(d.HPrime * radian)
	sinDec, cosDec = math.Sincos(decPrime)
	d.E0 = math.Asin(min(max(sinLat*sinDec+cosLat*cosDec*cosH, -1), 1)) * degree
	d.DeltaE = refractivity(o) * bending(d.E0)
	d.E = d.E0 + d.DeltaE

	// [SPA] eq. 45 and 46: azimuth, multiplied through by the cosine of the declination.
	d.Azimuth = wrap360(180 + math.Atan2(sinH*cosDec, cosH*cosDec*sinLat-sinDec*cosLat)*degree)
}

// geocentre returns the observer's distance from the Earth's axis and from the plane of the equator, in equatorial radii of the
// Earth, [SPA] eq. 34 to 36.
func geocentre(p Place) (axis, equator float64) {
	sinLat, cosLat := math.Sincos(p.Latitude * radian)
	sinU, cosU := math.Sincos(math.Atan(0.99664719 * sinLat / cosLat))
	h := p.Elevation / 6378140
	return cosU + h*cosLat, 0.99664719*sinU + h*sinLat
}

// The sun is refracted while its airless centre is above this elevation [deg]: its half width and the refraction at the horizon.
const lowestRefracted = -(0.26667 + 0.5667)

// refractivity returns how much the observer's air bends light, as a share of air at 1010 hPa and 10 °C.
func refractivity(o Observer) float64 {
	return o.Pressure / 1010 * 283 / (273 + o.Temperature)
}

// bending returns the refraction [deg] of air at 1010 hPa and 10 °C for an airless elevation [deg], [SPA] eq. 42; zero below
// [lowestRefracted].
func bending(e0 float64) float64 {
	if e0 < lowestRefracted {
		return 0
	}
	return 1.02 / (60 * math.Tan((e0+10.3/(e0+5.11))*radian))
}

// series sums the periodic terms of each power of the millennium.
func series(powers [][]term, millennium float64) float64 {
	sum := 0.0
	for i := len(powers) - 1; i >= 0; i-- {
		s := 0.0
		for _, r := range powers[i] {
			s += r.a * math.Cos(r.b+r.c*millennium)
		}
		sum = sum*millennium + s
	}
	return sum
}

// wrap360 brings an angle [deg] into 0 to 360.
func wrap360(a float64) float64 {
	a = math.Mod(a, 360)
	if a < 0 {
		a += 360
	}
	return a
}

// wrap180 brings an angle [deg] into -180 to 180.
func wrap180(a float64) float64 {
	return a - 360*math.Round(a/360)
}
