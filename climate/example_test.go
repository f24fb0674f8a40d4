package climate_test

import (
	"fmt"
	"time"

	"campwright/climate"
	"campwright/sun"
)

func ExampleAt() {
	elevation := 268.0
	c, err := climate.At(33.67, -114.22, &elevation)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("January %.0f kWh/m² in the month, June %.0f\n", 31*c.Horizontal[0], 30*c.Horizontal[5])
	_, err = climate.At(78.2, 15.6, nil)
	fmt.Println(err)
	// Output:
	// January 97 kWh/m² in the month, June 239
	// climate: no climatology at latitude 78.20 deg: it covers -60 to 72
}

func ExampleGenerator_Days() {
	elevation := 1230.0
	c, err := climate.At(38.57, -109.55, &elevation)
	if err != nil {
		fmt.Println(err)
		return
	}
	g, err := climate.New(climate.Params{Climate: c, Seed: 2027})
	if err != nil {
		fmt.Println(err)
		return
	}
	days := make([]climate.Day, 3)
	g.Days(0, climate.Date(2027, time.March, 10), days)

	// The light of the first day in hours.
	midnight := time.Date(2027, time.March, 10, 0, 0, 0, 0, time.FixedZone("MST", -7*3600))
	place := sun.Place{Latitude: c.Latitude, Longitude: c.Longitude, Elevation: c.Elevation}
	track, err := sun.Track(place.Observer(), sun.Steps{Start: midnight.Add(30 * time.Minute), Step: time.Hour, Count: 24},
		sun.Extra{Constant: sun.SolarConstantGueymard})
	if err != nil {
		fmt.Println(err)
		return
	}
	sky, err := climate.NewSky(climate.SkyParams{Sun: track, Count: 24, StepMinutes: 60, Elevation: c.Elevation})
	if err != nil {
		fmt.Println(err)
		return
	}
	l := sun.Light{GHI: make([]float64, 24), DNI: make([]float64, 24), DHI: make([]float64, 24)}
	air := make([]float64, 24)
	if err := sky.Fill(days[0], l, air); err != nil {
		fmt.Println(err)
		return
	}
	sum := 0.0
	for _, v := range l.GHI {
		sum += v
	}
	fmt.Printf("%.0f Wh/m², the same as %.0f\n", sum, days[0].Clearness*sky.Above())
	// Output: 2277 Wh/m², the same as 2277
}
