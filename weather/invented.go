package weather

import (
	"bytes"
	"compress/gzip"
	_ "embed"
	"fmt"
)

// inventedTable is a plain table of an invented year, one of the independent reference's files: computed with general-purpose tools,
// two implementations agreeing, and free to copy.
//
//go:embed invented_high_plateau.csv.gz
var inventedTable []byte

// InventedSite is where the invented year is laid.
var InventedSite = Site{Name: "invented high plateau", Latitude: 39.1, Longitude: -111.2, ElevationM: 1900, UTCOffsetH: -7}

// Invented returns a year of weather made by formula for a place that does not exist, in the dry west of North America. It is for
// demonstrations and tests; it says nothing about any real place.
func Invented() Year {
	r, err := gzip.NewReader(bytes.NewReader(inventedTable))
	if err != nil {
		panic(fmt.Sprintf("weather: internal error: %v", err))
	}
	y, err := ReadAt(r, "invented year", InventedSite)
	if err != nil {
		panic(fmt.Sprintf("weather: internal error: %v", err))
	}
	y.Notes = append([]string{"invented by formula; not a real place"}, y.Notes...)
	return y
}
