package sun

import (
	"fmt"
	"math"
	"strings"
)

// Place is a point on land: latitude [deg, north positive, -90 to 90], longitude [deg, east positive, -180 to 180] and elevation
// above sea level [m, -500 to 9000].
type Place struct {
	Latitude, Longitude, Elevation float64
}

// Observer is a place with the air that bends the light there.
type Observer struct {
	Place
	Pressure    float64 // mean pressure at the place [hPa], 0 to 1200; 0 means no refraction
	Temperature float64 // mean air temperature [°C], -90 to 60
	DeltaT      float64 // terrestrial time minus UT1 [s], -200 to 7000; 0 means the polynomial of [DeltaT]
}

// Observer returns an observer at the place in the mean air of its elevation: the pressure of [Pressure] and 12 °C. Temperature and
// pressure act on refraction alone: 20 K or 30 hPa move the apparent sun by 0.02 degrees at the horizon, 0.001 at 45 degrees.
func (p Place) Observer() Observer {
	return Observer{Place: p, Pressure: Pressure(p.Elevation) / 100, Temperature: 12}
}

// Pressure returns the mean air pressure [Pa] at an elevation above sea level [m], -500 to 9000; outside, the nearer end is used.
//
// It is the standard atmosphere of the troposphere, pressure = 100·((44331.514 - z)/11880.516)^(1/0.1902632).
// Accuracy: weather moves the true pressure by some 3 %. Source: [ICAO-7488], solved for the pressure.
func Pressure(elevation float64) float64 {
	z := min(max(elevation, minElevation), maxElevation)
	return 100 * math.Pow((44331.514-z)/11880.516, 1/0.1902632)
}

const (
	minElevation = -500
	maxElevation = 9000
)

func (p Place) check() error {
	return firstOutside(
		limit{"latitude", p.Latitude, -90, 90, "deg"},
		limit{"longitude", p.Longitude, -180, 180, "deg"},
		limit{"elevation", p.Elevation, minElevation, maxElevation, "m"},
	)
}

func (o Observer) check() error {
	if err := o.Place.check(); err != nil {
		return err
	}
	return firstOutside(
		limit{"pressure", o.Pressure, 0, 1200, "hPa"},
		limit{"temperature", o.Temperature, -90, 60, "°C"},
		limit{"delta T", o.DeltaT, -200, 7000, "s"},
	)
}

// limit is a value with the range it must lie in.
type limit struct {
	what      string
	value     float64
	low, high float64
	unit      string
}

// firstOutside reports the first value that is outside its range or not a number.
func firstOutside(limits ...limit) error {
	for _, l := range limits {
		if !(l.value >= l.low && l.value <= l.high) {
			value := strings.TrimSuffix(fmt.Sprintf("%v %s", l.value, l.unit), " ")
			return fmt.Errorf("sun: %s %s outside %v to %v", l.what, value, l.low, l.high)
		}
	}
	return nil
}
