package convert

// Sharing is how a unit that charges from sun and vehicle divides its output.
type Sharing uint8

// The ways to share. SharingUnknown is the zero value: a caller then computes each of KnownSharings.
const (
	SharingUnknown Sharing = iota
	SharingSplit           // each source gets half of the output while both are there
	SharingSolar           // solar first, the vehicle fills up
	SharingSum             // two units in one case: the outputs add
)

var sharingNames = [...]string{"unknown", "split", "solar first", "sum"}

// String returns the sharing as the rig file writes it.
func (s Sharing) String() string {
	if int(s) < len(sharingNames) {
		return sharingNames[s]
	}
	return ""
}

// ParseSharing returns the sharing that is written so, and false for a word that is none.
func ParseSharing(word string) (Sharing, bool) {
	for i, n := range sharingNames {
		if n == word {
			return Sharing(i), true
		}
	}
	return SharingUnknown, false
}

// KnownSharings returns the ways a combined unit can share, for a caller that does not know which and computes them all.
func KnownSharings() [3]Sharing { return [3]Sharing{SharingSplit, SharingSolar, SharingSum} }

// Both is a combined unit with both sources at work, each figure at the bus [W].
type Both struct {
	Sharing  Sharing
	SolarW   float64 // what the solar side could put out alone
	VehicleW float64 // what the vehicle side could put out alone
	LimitW   float64 // output limit of the unit; no part of SharingSum
}

// BothGive is what each side puts out and what is lost to the sharing: SolarW + SolarCutW is what was offered, and so for the vehicle.
type BothGive struct {
	SolarW, VehicleW       float64
	SolarCutW, VehicleCutW float64
}

// Share returns what each side of a combined unit puts out. Where the sharing is unknown it returns false and nothing.
// Figures below zero or no number count as zero. Source: common practice, no source.
func (b Both) Share() (give BothGive, known bool) {
	solar, vehicle, limit := positive(b.SolarW), positive(b.VehicleW), positive(b.LimitW)
	switch b.Sharing {
	case SharingSplit:
		half := limit
		if solar > 0 && vehicle > 0 {
			half = limit / 2
		}
		give.SolarW, give.VehicleW = min(solar, half), min(vehicle, half)
	case SharingSolar:
		give.SolarW = min(solar, limit)
		give.VehicleW = min(vehicle, limit-give.SolarW)
	case SharingSum:
		give.SolarW, give.VehicleW = solar, vehicle
	default:
		return BothGive{}, false
	}
	give.SolarCutW, give.VehicleCutW = solar-give.SolarW, vehicle-give.VehicleW
	return give, true
}
