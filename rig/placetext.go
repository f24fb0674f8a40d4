package rig

import (
	"regexp"
	"strconv"
	"strings"

	"campwright/figure"
)

var (
	lettered = regexp.MustCompile(`^([0-9.,]+)°?\s*([NnSsEeWw])[\s,;]+([0-9.,]+)°?\s*([NnSsEeWw])$`)
	signed   = regexp.MustCompile(`^([+-]?[0-9.]+)°?\s*[,;\s]\s*([+-]?[0-9.]+)°?$`)
	spotted  = regexp.MustCompile(`^(.*\S)\s*\(([^()]*\d[^()]*)\)$`)
	numbers  = regexp.MustCompile(`^[+-]?[0-9.,]+\s*°?\s*([NnSsEeWw]([^A-Za-z].*)?|[,;\s]\s*[0-9+-].*)?$`)
)

// readPlace reads "33.5 N 114.2 W", "33.5, -114.2", a name, or a name with a position behind it in brackets.
func readPlace(text string) (Place, *flaw) {
	s := strings.Join(strings.Fields(strings.NewReplacer("\u2212", "-", "\u00a0", " ").Replace(text)), " ")
	if s == "" {
		return Place{}, &flaw{problem: "empty", hint: "write a name, or a position such as 33.5 N 114.2 W"}
	}
	if strings.EqualFold(s, "unknown") {
		return Place{State: figure.Unknown}, nil
	}
	p := Place{State: figure.Plain}
	spot := s
	if m := spotted.FindStringSubmatch(s); m != nil && numbers.MatchString(m[2]) {
		p.Name, spot = m[1], m[2]
	} else if !numbers.MatchString(s) {
		p.Name = s
		return p, nil
	}
	var bad *flaw
	p.Latitude, p.Longitude, bad = readSpot(spot)
	if bad != nil {
		return Place{}, bad
	}
	p.HasSpot = true
	return p, nil
}

// readSpot reads a position in degrees; letters may stand in either order, signed numbers are latitude first.
func readSpot(s string) (latitude, longitude float64, bad *flaw) {
	const hint = "write a position such as 33.5 N 114.2 W, or 33.5, -114.2"
	var found [2]float64
	var texts [2]string
	if m := lettered.FindStringSubmatch(s); m != nil {
		seen := 0
		for i := 1; i <= 3; i += 2 {
			letter := strings.ToUpper(m[i+1])
			at, sign := 0, ""
			if letter == "E" || letter == "W" {
				at = 1
			}
			if letter == "S" || letter == "W" {
				sign = "-"
			}
			texts[at] = sign + m[i]
			seen |= 1 << at
		}
		if seen != 3 {
			return 0, 0, &flaw{problem: "a position needs one latitude and one longitude", hint: hint}
		}
	} else if m := signed.FindStringSubmatch(s); m != nil {
		texts = [2]string{m[1], m[2]}
	} else {
		return 0, 0, &flaw{problem: "not a position", hint: hint}
	}
	for i, t := range texts {
		x, err := strconv.ParseFloat(t, 64)
		if err != nil {
			return 0, 0, &flaw{problem: "not a number of degrees", value: t, hint: hint}
		}
		most, what := 90.0, "latitude"
		if i == 1 {
			most, what = 180, "longitude"
		}
		if !(x >= -most && x <= most) {
			return 0, 0, &flaw{problem: what + " out of range", value: t, limit: strconv.FormatFloat(-most, 'f', 0, 64) + " to " + strconv.FormatFloat(most, 'f', 0, 64) + " degrees"}
		}
		found[i] = x + 0
	}
	return found[0], found[1], nil
}

// Text writes the place as the document does; empty when it says nothing.
func (p Place) Text() string {
	switch {
	case p.State == figure.Unknown:
		return "unknown"
	case p.State < figure.About:
		return ""
	case !p.HasSpot:
		return p.Name
	case p.Name == "":
		return p.Spot()
	}
	return p.Name + " (" + p.Spot() + ")"
}

// Spot writes the position: "33.5 N 114.2 W"; empty when none was given.
func (p Place) Spot() string {
	if !p.HasSpot {
		return ""
	}
	side := func(x float64, plus, minus string) string {
		if x < 0 {
			return strconv.FormatFloat(-x, 'f', -1, 64) + " " + minus
		}
		return strconv.FormatFloat(x, 'f', -1, 64) + " " + plus
	}
	return side(p.Latitude, "N", "S") + " " + side(p.Longitude, "E", "W")
}

// Bearing is one point of a skyline.
type Bearing struct {
	Azimuth float64 // degrees clockwise from true north
	Height  float64 // degrees above level
}

// compass names the bearings that a skyline may be given by.
var compass = map[string]float64{
	"N": 0, "NNE": 22.5, "NE": 45, "ENE": 67.5, "E": 90, "ESE": 112.5, "SE": 135, "SSE": 157.5,
	"S": 180, "SSW": 202.5, "SW": 225, "WSW": 247.5, "W": 270, "WNW": 292.5, "NW": 315, "NNW": 337.5,
}

// ParseHorizon reads a skyline: pairs of bearing and height, such as "N 5, E 20, S 10, W 30 deg". A bearing is a compass point or
// degrees clockwise from north. The heights between are for the reader to interpolate around the circle.
func ParseHorizon(text string) ([]Bearing, error) {
	points, bad := readHorizon(text)
	if bad != nil {
		return nil, bad
	}
	return points, nil
}

func readHorizon(text string) ([]Bearing, *flaw) {
	s := strings.NewReplacer("degrees", "", "deg", "", "°", "").Replace(text)
	var points []Bearing
	seen := map[float64]bool{}
	for _, piece := range strings.Split(s, ",") {
		words := strings.Fields(piece)
		if len(words) != 2 {
			return nil, &flaw{problem: "not a skyline", hint: "write pairs of direction and height, such as N 5, E 20, S 10, W 30 deg"}
		}
		azimuth, ok := compass[strings.ToUpper(words[0])]
		if !ok {
			x, err := strconv.ParseFloat(words[0], 64)
			if err != nil || !(x >= 0 && x <= 360) {
				return nil, &flaw{problem: "not a direction", value: words[0], hint: "write N, NE, E and so on, or degrees from north"}
			}
			azimuth = x
		}
		height, err := strconv.ParseFloat(words[1], 64)
		if err != nil || !(height >= 0 && height < 90) {
			return nil, &flaw{problem: "height out of range", value: words[1], limit: "0 to 90 degrees"}
		}
		if azimuth == 360 {
			azimuth = 0
		}
		if seen[azimuth] {
			return nil, &flaw{problem: "the same direction twice", value: words[0]}
		}
		seen[azimuth] = true
		points = append(points, Bearing{azimuth, height})
	}
	return points, nil
}
