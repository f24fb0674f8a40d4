// Package place finds camps and towns by name, offline, and tells the time zone of any point.
//
// [Find] takes what people type ("quartzsite", "Moab UT", "Halifax, CA", "12 mi N of Moab") and returns the places of that name, the
// largest first, or else the names it may have been meant to be. [Zone] is the time zone of a point anywhere; [Nearest] is the place
// to call a point by.
//
// The names are towns and villages, not camps in the wild: those are given as an offset from a town or as a position. The table covers
// places of 500 people and more, and smaller seats of a district, in the countries where most rigs travel, and of 1,000 or 5,000 and
// more elsewhere. Left out: names in other languages and scripts, streets, postcodes. Populations are rounded to 9 %, positions to
// 60 m, elevations to 5 m; they name a place, they do not measure it.
//
// Where it comes from: [Attribution] names the gazetteer and its owners. Time zones of towns are the gazetteer's own; those of points
// come from a coarse map, a few kilometres off at borders.
package place

import (
	"fmt"
	"math"
)

// Place is one entry of the table, or a point named after one.
type Place struct {
	Name       string // as its people write it
	Region     string // state, province or the like, by its usual short code; empty where the program knows none
	Country    string // two-letter code
	Latitude   float64
	Longitude  float64
	Elevation  float64 // [m]
	Zone       string  // IANA name of the time zone
	Population int     // rounded to 9 %, 0 where unknown
	From       string  // the offset from Name as text, such as "12 mi N of"; empty at the place itself
}

// String names the place so that [Find] finds it again.
func (p Place) String() string {
	s := p.Name
	if p.Region != "" {
		s += ", " + p.Region
	}
	s += ", " + p.Country
	if p.From != "" {
		s = p.From + " " + s
	}
	return s
}

// radius is that of a sphere of the Earth's volume [km].
const radius = 6371

// Distance returns the way along the ground to a point [km], and the bearing at the place [deg, clockwise from north, 0 to 360].
// Accuracy 0.5 %: the Earth taken as a sphere.
func (p Place) Distance(latitude, longitude float64) (km, bearing float64) {
	sin1, cos1 := math.Sincos(p.Latitude * math.Pi / 180)
	sin2, cos2 := math.Sincos(latitude * math.Pi / 180)
	sinD, cosD := math.Sincos((longitude - p.Longitude) * math.Pi / 180)
	y := cos2 * sinD
	x := cos1*sin2 - sin1*cos2*cosD
	km = radius * math.Atan2(math.Hypot(x, y), sin1*sin2+cos1*cos2*cosD)
	bearing = math.Mod(math.Atan2(y, x)*180/math.Pi+360, 360)
	return km, bearing
}

// moved returns the point so far from the place [km] at a bearing [deg].
func (p Place) moved(km, bearing float64) (latitude, longitude float64) {
	sin1, cos1 := math.Sincos(p.Latitude * math.Pi / 180)
	sinA, cosA := math.Sincos(km / radius)
	sinB, cosB := math.Sincos(bearing * math.Pi / 180)
	sin2 := sin1*cosA + cos1*sinA*cosB
	latitude = math.Asin(min(max(sin2, -1), 1)) * 180 / math.Pi
	longitude = p.Longitude + math.Atan2(sinB*sinA*cos1, cosA-sin1*sin2)*180/math.Pi
	return latitude, math.Mod(longitude+540, 360) - 180
}

func checkPoint(latitude, longitude float64) error {
	if !(latitude >= -90 && latitude <= 90) {
		return fmt.Errorf("place: latitude %v deg outside -90 to 90", latitude)
	}
	if !(longitude >= -180 && longitude <= 180) {
		return fmt.Errorf("place: longitude %v deg outside -180 to 180", longitude)
	}
	return nil
}
