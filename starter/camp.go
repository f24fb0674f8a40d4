package starter

import (
	"fmt"
	"strings"
	"time"

	"campwright/climate"
	"campwright/figure"
	"campwright/place"
	"campwright/rig"
)

// camp is where the rig will stand, with its climate.
type camp struct {
	text    string // as the rig file writes it
	country string // two letters; empty where it is not known
	climate climate.Climate
}

// findCamp finds a place by name or position.
func findCamp(text string) (camp, Fault) {
	bad := func(problem, hint string) (camp, Fault) { return camp{}, Fault{"place", problem, hint} }
	spot, problem := readPlace(text)
	if problem != nil {
		return bad(fmt.Sprintf("%q: %s", text, problem.Problem), problem.Hint)
	}
	c := camp{text: spot.Text()}
	latitude, longitude := spot.Latitude, spot.Longitude
	var elevation *float64
	if spot.HasSpot {
		if town, _, _, err := place.Nearest(latitude, longitude); err == nil {
			c.country = town.Country
		}
	} else {
		found, near, err := place.Find(spot.Name)
		switch {
		case err != nil:
			return bad(err.Error(), "")
		case len(found) == 0 && len(near) > 0:
			names := make([]string, 0, 3)
			for _, n := range near[:min(3, len(near))] {
				names = append(names, n.String())
			}
			return bad(fmt.Sprintf("%q is not in the list of places", spot.Name), "did you mean "+oneOf(names)+"?")
		case len(found) == 0:
			return bad(fmt.Sprintf("%q is not in the list of places", spot.Name), "give a larger town near it, or a position such as 33.5 N 114.2 W")
		}
		best := found[0]
		c.text, c.country = best.String(), best.Country
		latitude, longitude, elevation = best.Latitude, best.Longitude, &best.Elevation
	}
	var err error
	if c.climate, err = climate.At(latitude, longitude, elevation); err != nil {
		return bad(strings.TrimPrefix(err.Error(), "climate: "), "give a place on land between 60 S and 72 N")
	}
	return c, Fault{}
}

// readPlace reads a place as the rig file does.
func readPlace(text string) (rig.Place, *rig.Fault) {
	doc, faults := rig.Decode(strings.NewReader(fmt.Sprintf("campwright: 1\nname: one\nkind: van\nhome:\n  place: %q\n", text)))
	if len(faults) > 0 {
		return rig.Place{}, &faults[0]
	}
	if doc.Home == nil || doc.Home.Place.State < figure.About {
		return rig.Place{}, &rig.Fault{Problem: "no place", Hint: "give a name, or a position such as 33.5 N 114.2 W"}
	}
	return doc.Home.Place, nil
}

// us tells whether people of the place read feet, pounds and gallons.
func (c camp) us() bool { return c.country == "US" }

// book returns the bundle of rule tables that is usual at the place.
func (c camp) book() string {
	if c.country == "AU" || c.country == "NZ" {
		return "au-nz"
	}
	return "us-rv"
}

// darkest returns the month of the least light among those of a stay, its light on the horizontal [kWh/m²/day] and its mean air [°C].
func (c camp) darkest(of []time.Month) (month time.Month, sun, airC float64) {
	for i, m := range of {
		if h := c.climate.Horizontal[m-1]; i == 0 || h < sun {
			month, sun, airC = m, h, c.climate.Temperature[m-1]
		}
	}
	return month, sun, airC
}
