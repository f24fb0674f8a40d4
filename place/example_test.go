package place_test

import (
	"fmt"

	"campwright/place"
)

func ExampleFind() {
	for _, ask := range []string{"Moab UT", "halifax, CA", "12 mi N of Moab, UT", "quartzite"} {
		found, near, err := place.Find(ask)
		switch {
		case err != nil:
			fmt.Println(err)
		case len(found) > 0:
			p := found[0]
			fmt.Printf("%s: %.2f, %.2f, %.0f m, %s\n", p, p.Latitude, p.Longitude, p.Elevation, p.Zone)
		case len(near) > 0:
			fmt.Printf("no %s; did you mean %s?\n", ask, near[0])
		}
	}
	// Output:
	// Moab, UT, US: 38.57, -109.55, 1230 m, America/Denver
	// Halifax, NS, CA: 44.64, -63.58, 60 m, America/Halifax
	// 12 mi N of Moab, UT, US: 38.75, -109.55, 1230 m, America/Denver
	// no quartzite; did you mean Quartzsite, AZ, US?
}

func ExampleNearest() {
	p, km, bearing, err := place.Nearest(38.75, -109.6)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f km from %s at %.0f degrees\n", km, p, bearing)
	// Output: 20 km from Moab, UT, US at 348 degrees
}
