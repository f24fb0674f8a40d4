package climate

import (
	"fmt"
	"math"
	"strings"
)

// lapse is how much colder the air is with height [K/m]. Ours: what fits the monthly means of 1,751 public weather files best.
const lapse = 4.5e-3

// fillTemperature fills in elevation and monthly temperature.
func (c *Climate) fillTemperature(b block, elevation *float64) {
	ground := b.elevation()
	c.CellElevation = ground.at(c.Latitude, c.Longitude, 0)
	c.Elevation = c.CellElevation
	c.TemperatureSpread = 2.5
	if elevation != nil {
		c.Elevation, c.ElevationGiven = *elevation, true
		c.TemperatureSpread = 1.5
	}
	for m := range c.Temperature {
		g := b.temperature(m)
		c.Temperature[m] = g.at(c.Latitude, c.Longitude, 0) - lapse*(c.Elevation-c.CellElevation)
	}
}

// year returns the mean, the coldest and the warmest month's temperature [°C].
func (c *Climate) year() (mean, coldest, warmest float64) {
	coldest, warmest = math.Inf(1), math.Inf(-1)
	for _, t := range c.Temperature {
		mean += t / 12
		coldest, warmest = min(coldest, t), max(warmest, t)
	}
	return mean, coldest, warmest
}

// The record low rests on two estimates. One is the mean yearly minimum by the months' temperature, -7.2 + 0.88 coldest - 0.47 (warmest
// - coldest): fitted to 1,751 public typical-year files within 2.8 K. The other is the lowest of nine years in the second
// source, which sees outbreaks of arctic air that the means cannot. In broken ground that one is unfit: it shows -43 to -53 °C around a
// mountain town whose file has -27, and -25 to -33 around a canyon town with -12. So it may undercut the first by underCut at most, less
// where the place lies more than 200 m above or below the land around it.
const (
	underCut    = 9.0   // [K]
	brokenFrom  = 200.0 // [m]
	brokenScale = 300.0 // [m]
	recordBelow = 3.0   // further down to a record of some thirty years [K]
	noCellBelow = 6.0   // the same from the mean yearly minimum, where the second source has nothing [K]
	recordAbove = 2.0   // above the highest of nine years [K]
	noCellAbove = 17.0  // above the warmest month's mean, where the second source has nothing [K]
)

// fillExtremes fills in the yearly minimum and the records. Ours, by the two estimates above; held against the minima of weather files,
// which it undercuts by 1 to 12 K.
func (c *Climate) fillExtremes(b block) {
	_, coldest, warmest := c.year()
	c.AnnualLow = -7.2 + 0.88*coldest - 0.47*(warmest-coldest)
	lows, highs := b.cells(1), b.cells(2)
	low := lows.at(c.Latitude, c.Longitude, reachCell)
	high := highs.at(c.Latitude, c.Longitude, reachCell)
	if math.IsNaN(low) || math.IsNaN(high) {
		c.RecordLow, c.RecordHigh = c.AnnualLow-noCellBelow, warmest+noCellAbove
		c.RecordLowBasis = fmt.Sprintf("the months' temperature: a middling year's low of %s less %.0f K", tenths(c.AnnualLow), noCellBelow)
		return
	}
	broken := math.Exp(-max(math.Abs(c.Elevation-c.CellElevation)-brokenFrom, 0) / brokenScale)
	held := max(low, c.AnnualLow-underCut*broken)
	c.RecordLow = min(held, c.AnnualLow) - recordBelow
	c.RecordHigh = max(high-lapse*(c.Elevation-c.CellElevation), warmest+5) + recordAbove
	switch {
	case c.AnnualLow <= held:
		c.RecordLowBasis = fmt.Sprintf("the months' temperature: a middling year's low of %s less %.0f K", tenths(c.AnnualLow), recordBelow)
	case held > low:
		c.RecordLowBasis = fmt.Sprintf("the lowest of nine years near by, %s, held at %s because the ground is broken or the two sources disagree, less %.0f K", tenths(low), tenths(held), recordBelow)
	default:
		c.RecordLowBasis = fmt.Sprintf("the lowest of nine years near by, %s, less %.0f K", tenths(low), recordBelow)
	}
}

// fillTurbidity guesses the haze of each month: more in warm air, which is moist and dusty, less at height. Ours: fitted to published
// monthly maps of turbidity over North American land, standard deviation 0.45 there and 0.6 over all land; doc/climate.md.
func (c *Climate) fillTurbidity() {
	for m, t := range c.Temperature {
		warm := max(t, 0)
		c.Turbidity[m] = min(max(2.8+0.035*t+0.0004*warm*warm-0.1e-3*c.Elevation, 1.8), 5.5)
	}
}

// fillWords says what the answer rests on.
func (c *Climate) fillWords() {
	c.Source = "means of many years that the program holds: light from satellite-era weather records, a value for every 3 degrees, brought to the level of a second source for every half degree and drawn towards published stations; temperature from maps for every 0.75 degrees"
	c.Sure = fmt.Sprintf("a year's light within %.0f %%, a month's within %.0f %%, a month's temperature within %.1f K (one in three is farther off)",
		100*c.LightSpread, 100*math.Hypot(c.LightSpread, c.MonthSpread), c.TemperatureSpread)
	if !c.ElevationGiven {
		c.Sure += fmt.Sprintf("; elevation not given, taken as %.0f m", c.Elevation)
	}
}

// tenths writes a temperature to a tenth, with a true minus sign.
func tenths(tC float64) string { return strings.Replace(fmt.Sprintf("%.1f °C", tC), "-", "\u2212", 1) }
