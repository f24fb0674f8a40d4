package sun_test

import (
	"fmt"
	"math"
	"time"

	"campwright/sun"
)

// The worked example of [SPA]: Golden, Colorado. The report prints zenith 50.11162 and azimuth 194.34024.
func ExampleAt() {
	o := sun.Observer{
		Place:    sun.Place{Latitude: 39.742476, Longitude: -105.1786, Elevation: 1830.14},
		Pressure: 820, Temperature: 11, DeltaT: 67,
	}
	p, err := sun.At(time.Date(2003, 10, 17, 12, 30, 30, 0, time.FixedZone("MST", -7*3600)), o)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("zenith %.5f, azimuth %.5f\n", p.Zenith, p.Azimuth)
	// Output: zenith 50.11162, azimuth 194.34024
}

// The U.S. Naval Observatory prints 05:00 and 19:13 for this day.
func ExampleRiseSet() {
	day := time.Date(2015, 8, 2, 12, 0, 0, 0, time.FixedZone("MST", -7*3600))
	d, err := sun.RiseSet(day, sun.Place{Latitude: 39.742476, Longitude: -105.1786}.Observer())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(d.State, d.Rise.Round(time.Minute).Format("15:04"), d.Set.Round(time.Minute).Format("15:04"))
	// Output: normal 05:00 19:13
}

// A clear day in the desert at five minutes: the light on a flat roof and on a module tilted 30 degrees to the south.
// A general-purpose library (pvlib 0.16) given the same place, hours and models comes to 3.472 and 5.769 kWh/m².
func ExamplePlaneGeometry_Transpose() {
	place := sun.Place{Latitude: 33.66, Longitude: -114.23, Elevation: 270}
	steps := sun.Steps{
		Start: time.Date(2026, 1, 15, 0, 2, 30, 0, time.FixedZone("MST", -7*3600)), // the middle of the first five minutes
		Step:  5 * time.Minute, Count: 288,
	}
	g, err := sun.Track(place.Observer(), steps, sun.Extra{Constant: sun.SolarConstantASTM})
	if err != nil {
		fmt.Println(err)
		return
	}
	sky, err := sun.NewClearSky(sun.ClearSkyParams{Turbidity: 3, Elevation: place.Elevation})
	if err != nil {
		fmt.Println(err)
		return
	}
	light := sun.NewLight(g.Len())
	if err := sky.Fill(light, g); err != nil {
		fmt.Println(err)
		return
	}
	onPlane := sun.NewPlaneLight(g.Len())
	for _, tilt := range []float64{0, 30} {
		plane, err := g.OnPlane(sun.Plane{Tilt: tilt, Azimuth: 180, Albedo: 0.2})
		if err != nil {
			fmt.Println(err)
			return
		}
		if err := plane.Transpose(onPlane, light, sun.Perez); err != nil {
			fmt.Println(err)
			return
		}
		sum := 0.0
		for i := range onPlane.Beam {
			sum += (onPlane.Beam[i] + onPlane.Sky[i] + onPlane.Ground[i]) / 12
		}
		fmt.Printf("tilt %.0f: %.3f kWh/m²\n", tilt, sum/1000)
	}
	// Output:
	// tilt 0: 3.472 kWh/m²
	// tilt 30: 5.769 kWh/m²
}

// [DUFFIE-BECKMAN] example 1.6.1: Madison, 13 February, 10:30 solar time, a surface tilted 45 degrees and facing 15 degrees west of
// south. The book prints an angle of incidence of 35 degrees and, in example 1.8.1, a beam ratio of 1.66.
func ExampleHour_BeamRatio() {
	h := sun.Hour{Latitude: 43, Declination: sun.DeclinationCooper(44), HourAngle: -22.5}
	p := sun.Plane{Tilt: 45, Azimuth: 195}
	fmt.Printf("incidence %.0f degrees, ratio %.2f\n", math.Acos(p.CosIncidence(h.Sun()))*180/math.Pi, h.BeamRatio(p))
	// Output: incidence 35 degrees, ratio 1.66
}
