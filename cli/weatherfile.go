package cli

import (
	"os"
	"path/filepath"

	"campwright/sun"
	"campwright/trip"
	"campwright/weather"
)

// readYear reads a weather file, or the bundled invented year under the name "invented", and lays it out at a step.
func readYear(path string, stepMin int) (trip.Year, error) {
	year := weather.Invented()
	if path != "invented" {
		f, err := os.Open(path)
		if err != nil {
			return trip.Year{}, err
		}
		defer f.Close()
		if year, err = weather.Read(f, filepath.Base(path)); err != nil {
			return trip.Year{}, err
		}
	}
	cols, err := year.Columns(stepMin)
	if err != nil {
		return trip.Year{}, err
	}
	return trip.Year{
		Words: year.Site.Name + ", " + string(year.Format) + ": " + year.Label, Start: cols.Start, StepMin: stepMin, LeapDay: year.LeapDay,
		Site:    sun.Place{Latitude: year.Site.Latitude, Longitude: year.Site.Longitude, Elevation: year.Site.ElevationM},
		Weather: trip.Weather{GHI: cols.GHI, DNI: cols.DNI, DHI: cols.DHI, AirC: cols.AirC, WindMS: cols.WindMS},
	}, nil
}
