package climate

import (
	"fmt"
	"math"
)

// Remarks returns what the climate of a month, January being 0, leaves out and the reader should know at this place, in words; none where
// nothing stands out.
func (c Climate) Remarks(month int) []string {
	if month < 0 || month > 11 {
		return nil
	}
	var r []string
	if t := c.Temperature[month]; t < 1 {
		r = append(r, fmt.Sprintf("the month's mean is %.0f °C: snow that lies on flat modules stops them until it is swept off or slides, and is not reckoned with", t))
	}
	if below := c.CellElevation - c.Elevation; c.ElevationGiven && below > 200 {
		r = append(r, fmt.Sprintf("the place lies %.0f m below the land around: still nights in a hollow can be 5 to 10 K colder, and walls hide the low sun unless a horizon is given", below))
	}
	if c.Coast {
		r = append(r, "the place is near the sea: low cloud that hugs the coast is finer than the map")
	}
	if _, _, warmest := c.year(); c.Temperature[month] > warmest-6 && c.Clearness[month] > 0.5 && math.Abs(c.Latitude) > 30 {
		r = append(r, "smoke of wildfires, common in this season in some years, is not reckoned with")
	}
	return r
}
