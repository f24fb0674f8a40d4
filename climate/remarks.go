package climate

import (
	"fmt"
	"math"

	"campwright/quantity"
)

// Remarks returns what the climate of a month, January being 0, leaves out and the reader should know at this place, in words; none where
// nothing stands out. Its figures are in metric units.
func (c Climate) Remarks(month int) []string { return c.RemarksIn(month, quantity.Metric) }

// RemarksIn is Remarks in a system of units: the same remarks in the same order.
func (c Climate) RemarksIn(month int, s quantity.System) []string { return c.remarks(month, s, true) }

// RemarksWithoutSun are the remarks that concern somebody who takes no power from the sun.
func (c Climate) RemarksWithoutSun(month int, s quantity.System) []string {
	return c.remarks(month, s, false)
}

func (c Climate) remarks(month int, s quantity.System, sun bool) []string {
	if month < 0 || month > 11 {
		return nil
	}
	var r []string
	if t := c.Temperature[month]; t < 1 && sun {
		r = append(r, fmt.Sprintf("the month's mean is %s: snow that lies on flat modules stops them until it is swept off or slides, and is not reckoned with",
			whole(t, quantity.Temperature, s)))
	}
	if below := c.CellElevation - c.Elevation; c.ElevationGiven && below > 200 {
		walls := ""
		if sun {
			walls = ", and walls hide the low sun unless a horizon is given"
		}
		r = append(r, fmt.Sprintf("the place lies %s below the land around: still nights in a hollow can be %s colder%s", whole(below, quantity.Length, s), hollow(s), walls))
	}
	if !sun {
		return r
	}
	if c.Coast {
		r = append(r, "the place is near the sea: low cloud that hugs the coast is finer than the map")
	}
	if _, _, warmest := c.year(); c.Temperature[month] > warmest-6 && c.Clearness[month] > 0.5 && math.Abs(c.Latitude) > 30 {
		r = append(r, "smoke of wildfires, common in this season in some years, is not reckoned with")
	}
	return r
}

// whole writes a temperature or a height without a fraction; a height stays in metres or feet.
func whole(base float64, kind quantity.Kind, s quantity.System) string {
	if kind == quantity.Length && s == quantity.US {
		return quantity.Digits(math.Round(base/0.3048), 4, 0) + " ft"
	}
	if kind == quantity.Length {
		return quantity.Digits(math.Round(base), 4, 0) + " m"
	}
	if s == quantity.US {
		return quantity.Digits(math.Round(base*1.8+32), 3, 0) + " °F"
	}
	return quantity.Digits(math.Round(base), 3, 0) + " °C"
}

// hollow writes how much colder still nights in a hollow are.
func hollow(s quantity.System) string {
	if s == quantity.US {
		return "10 to 20 °F"
	}
	return "5 to 10 K"
}
