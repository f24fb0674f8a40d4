package catalogue

// Body is the usual usable inside of a kind of rig, for one whose roof is not given [m]. Common practice, no source.
func Body(kind string) (length, width float64) {
	switch kind {
	case "motorhome":
		return 8.0, 2.4
	case "travel trailer":
		return 7.0, 2.4
	case "fifth wheel":
		return 10.0, 2.4
	case "van":
		return 4.5, 1.8
	case "truck camper":
		return 3.2, 2.2
	}
	return 7.0, 2.4
}

// bodyHeight is the height of the heated part [m]. Common practice, no source.
const bodyHeight = 2.0

// Envelope returns the area of floor, walls and roof [m²] of a body of a length and width [m].
func Envelope(length, width float64) float64 {
	return 2 * (length*width + bodyHeight*(length+width))
}
