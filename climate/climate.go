package climate

import (
	"fmt"
	"math"
	"time"

	"campwright/sun"
)

// Climate is what is known of the weather of one place, month by month from January.
type Climate struct {
	Latitude  float64 // [deg], north positive
	Longitude float64 // [deg], east positive

	Elevation      float64 // of the place [m]; the land's mean around it where none was given
	ElevationGiven bool
	CellElevation  float64 // mean of land and sea some 40 km around [m]
	Coast          bool    // the sea is within some 50 km

	Clearness   [12]float64 // light on the horizontal over that above the air, mean
	Horizontal  [12]float64 // light on the horizontal, mean [kWh/m²/day]
	Temperature [12]float64 // of the air, mean of day and night, at Elevation [°C]

	AnnualLow      float64 // coldest hour of a middling year [°C]
	RecordLow      float64 // for the voltage of cold modules [°C], colder than any year in about thirty
	RecordHigh     float64 // [°C]
	RecordLowBasis string  // what RecordLow rests on

	Turbidity [12]float64 // Linke's, a guess
	Wind      float64     // at the roof [m/s], a guess

	// How sure: one standard deviation of the mean itself, not of the weather around it.
	LightSpread       float64 // of the year's light, as a share
	MonthSpread       float64 // of a month's light besides, as a share
	TemperatureSpread float64 // of a month's temperature [K]
	Source            string  // which climatology this is
	Sure              string  // how sure it is, in words
}

// Range of the climatology [deg].
const (
	SouthLimit = southEdge
	NorthLimit = northEdge
)

// Reach of the sources over water, in their own cells.
const (
	reachCoarse = 1 // 3 degrees
	reachCell   = 2 // 0.5 degrees
)

// guessedWind is the wind over a roof where nothing is known [m/s]; common practice, no source.
const guessedWind = 1.5

// At returns the climate of a place: latitude [deg, north positive], longitude [deg, east positive, -180 to 180], elevation [m, -500
// to 9000], or nil where it is not known, which then is the mean of the land around and widens the spread of temperature.
//
// It returns an error outside these ranges, outside 60 S to 72 N, and where the climatology has no land near: at sea and on small islands.
//
// Accuracy, on stations left out when the table was made: a year's light within 10 %, standard deviation 4 %; a month's light mean
// absolute error 6 %, of which most is the stations' own; monthly temperature 1.3 to 1.8 K. It takes some two milliseconds, so keep the
// result. Sources: as [Attribution] names them.
func At(latitude, longitude float64, elevation *float64) (Climate, error) {
	if err := checkPlace(latitude, longitude, elevation); err != nil {
		return Climate{}, err
	}
	if longitude >= 180 {
		longitude -= 360
	}
	b := openBlock(latitude)
	scales := b.cells(0)
	scale := scales.at(latitude, longitude, reachCell)
	var months [12]float64
	for m := range months {
		g := b.coarse(m)
		months[m] = g.at(latitude, longitude, reachCoarse)
		if math.IsNaN(months[m]) || math.IsNaN(scale) {
			return Climate{}, fmt.Errorf("climate: no climatology at %.2f, %.2f: open sea or an island too small for it; a weather file of the place would do", latitude, longitude)
		}
	}
	c := Climate{Latitude: latitude, Longitude: longitude, Wind: guessedWind, Coast: scales.gap(latitude, longitude)}
	c.fillLight(months, scale, b)
	c.fillTemperature(b, elevation)
	c.fillExtremes(b)
	c.fillTurbidity()
	c.fillWords()
	return c, nil
}

func checkPlace(latitude, longitude float64, elevation *float64) error {
	switch {
	case !(latitude >= -90 && latitude <= 90):
		return fmt.Errorf("climate: latitude %v deg outside -90 to 90", latitude)
	case !(longitude >= -180 && longitude <= 180):
		return fmt.Errorf("climate: longitude %v deg outside -180 to 180", longitude)
	case latitude > NorthLimit || latitude < SouthLimit:
		return fmt.Errorf("climate: no climatology at latitude %.2f deg: it covers %d to %d", latitude, SouthLimit, NorthLimit)
	case elevation != nil && !(*elevation >= -500 && *elevation <= 9000):
		return fmt.Errorf("climate: elevation %v m outside -500 to 9000", *elevation)
	}
	return nil
}

// Clearness is held within these, so that the spread of its days exists.
const (
	leastClearness    = 0.10
	greatestClearness = 0.79
)

// fillLight fills in clearness, light on the horizontal and their spread.
func (c *Climate) fillLight(months [12]float64, scale float64, b block) {
	above := aboveAir(c.Latitude, c.Longitude)
	for m, k := range months {
		c.Clearness[m] = min(max(k*scale, leastClearness), greatestClearness)
		c.Horizontal[m] = c.Clearness[m] * above[m] / 1000
	}
	stations := b.coarse(12)
	near := stations.at(c.Latitude, c.Longitude, reachCoarse)
	if math.IsNaN(near) {
		near = 0
	}
	// Stations left out of the correction among others: a year 4.3 %, a month 6 % besides, of which single typical months bring most; far
	// from any station 7 to 8 % and as much. doc/climate.md.
	far := 0.03 * (1 - min(max(near/0.5, 0), 1))
	c.LightSpread = 0.04 + far
	c.MonthSpread = 0.04 + far
}

// aboveAir returns the mean daily light above the air on the horizontal of each month [Wh/m²], from the sun of one year hour by hour.
func aboveAir(latitude, longitude float64) [12]float64 {
	place := sun.Place{Latitude: latitude, Longitude: longitude}
	start := time.Date(2025, 1, 1, 0, 30, 0, 0, time.UTC)
	var months [12]float64
	g, err := sun.Track(place.Observer(), sun.Steps{Start: start, Step: time.Hour, Count: 365 * 24},
		sun.Extra{Constant: sun.SolarConstantGueymard, Method: sun.Distance})
	if err != nil {
		panic("climate: internal error: " + err.Error())
	}
	for day := range 365 {
		date := start.AddDate(0, 0, day)
		length := date.AddDate(0, 1, -date.Day()+1).AddDate(0, 0, -1).Day()
		sum := 0.0
		for i := day * 24; i < day*24+24; i++ {
			sum += g.Extra[i] * max(g.Up[i], 0)
		}
		months[date.Month()-1] += sum / float64(length)
	}
	return months
}
