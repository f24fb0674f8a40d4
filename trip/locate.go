package trip

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"time"

	"campwright/figure"
	"campwright/place"
	"campwright/rig"
	"campwright/sun"
)

// Locate resolves a place of the document offline: a position with the zone of its point, or a name out of the list of places. The elevation of
// a position is not known here: it is NaN.
func Locate(p rig.Place) (Spot, error) {
	if p.State == figure.Absent {
		return Spot{}, errors.New("it has no place; give a name, or a position such as 33.5 N 114.2 W")
	}
	if p.HasSpot {
		return atPoint(p)
	}
	found, near, err := place.Find(p.Name)
	switch {
	case err != nil:
		return Spot{}, err
	case len(found) == 0 && len(near) == 0:
		return Spot{}, fmt.Errorf("place %q is not in the list of places; give a larger town near it, or a position such as 33.5 N 114.2 W", p.Name)
	case len(found) == 0:
		return Spot{}, fmt.Errorf("place %q is not in the list of places; did you mean %s?", p.Name, nearList(near))
	}
	best := found[0]
	zone, err := time.LoadLocation(best.Zone)
	if err != nil {
		return Spot{}, fmt.Errorf("place %q: time zone %s is not known here", p.Name, best.Zone)
	}
	return Spot{Name: label(best), Place: sun.Place{Latitude: best.Latitude, Longitude: best.Longitude, Elevation: best.Elevation}, Zone: zone}, nil
}

// label names a place by its town first, so that it reads well behind a number: "Moab, UT, US, 12 mi north".
func label(p place.Place) string {
	words := strings.Fields(strings.TrimSuffix(strings.TrimSuffix(p.From, " of"), " from"))
	if len(words) == 0 {
		return p.String()
	}
	if word, ok := points[strings.ToUpper(words[len(words)-1])]; ok {
		words[len(words)-1] = word
	}
	p.From = ""
	return p.String() + ", " + strings.Join(words, " ")
}

// points are the points of the compass in words.
var points = map[string]string{
	"N": "north", "NE": "northeast", "E": "east", "SE": "southeast", "S": "south", "SW": "southwest", "W": "west", "NW": "northwest",
	"NNE": "north-northeast", "ENE": "east-northeast", "ESE": "east-southeast", "SSE": "south-southeast",
	"SSW": "south-southwest", "WSW": "west-southwest", "WNW": "west-northwest", "NNW": "north-northwest",
}

// nearList names what a place may have been meant to be.
func nearList(near []place.Place) string {
	names := make([]string, 0, 3)
	for _, n := range near[:min(len(near), 3)] {
		names = append(names, n.String())
	}
	return strings.Join(names, " or ")
}

// atPoint names a position by the nearest town and gives it the zone of its point.
func atPoint(p rig.Place) (Spot, error) {
	name, err := place.Zone(p.Latitude, p.Longitude)
	if err != nil {
		return Spot{}, err
	}
	zone, err := time.LoadLocation(name)
	if err != nil {
		return Spot{}, fmt.Errorf("time zone %s is not known here", name)
	}
	spot := Spot{Place: sun.Place{Latitude: p.Latitude, Longitude: p.Longitude, Elevation: math.NaN()}, Zone: zone}
	spot.Name = position(p.Latitude, p.Longitude)
	if town, km, bearing, err := place.Nearest(p.Latitude, p.Longitude); err == nil && km < 150 {
		if km < 3 {
			spot.Name = town.String()
		} else {
			spot.named = say("%s, %s %s", town.String(), far(km), compassPoint(bearing))
			spot.Name = spot.named.metric
		}
	}
	return spot, nil
}

// far writes a distance on the road [km]: whole miles or kilometres.
func far(km float64) text {
	return text{us: fmt.Sprintf("%.0f mi", km/kmPerMile), metric: fmt.Sprintf("%.0f km", km)}
}

const kmPerMile = 1.609344

// compassPoint names a bearing by the nearest of eight points.
func compassPoint(bearing float64) string {
	eight := [...]string{"N", "NE", "E", "SE", "S", "SW", "W", "NW"}
	return points[eight[int(math.Mod(bearing+22.5+720, 360)/45)%8]]
}

// position writes latitude and longitude as people do.
func position(latitude, longitude float64) string {
	ns, ew := "N", "E"
	if latitude < 0 {
		ns = "S"
	}
	if longitude < 0 {
		ew = "W"
	}
	return fmt.Sprintf("%.2f %s %.2f %s", math.Abs(latitude), ns, math.Abs(longitude), ew)
}
