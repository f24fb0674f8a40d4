package pv

import "fmt"

// Mounting says how a module sits on the roof, which decides how warm it gets.
type Mounting uint8

// The mountings, coolest first.
const (
	Raised Mounting = iota + 1 // on feet or tilted, air can pass freely behind it
	Close                      // on low brackets, a gap of a few centimetres
	Bonded                     // glued flat to the roof, no air behind it
)

// Coefficients of Ross by mounting [K·m²/W], for those who want one by name.
//
// Source: [SKOPLAKI-2008], table of coefficients.
const (
	RossFreeStanding     = 0.0208
	RossFlatRoof         = 0.0260 // flat roof, ventilated
	RossPoorlyVentilated = 0.0342 // sloped roof, little air behind the modules
)

// DefaultWind is the wind to assume where none is known [m/s]. It is a guess, and whoever uses it says so. Common practice, no source.
const DefaultWind = 1.5

var mountings = [...]struct {
	name, source string
	model        CellTemperature
}{
	Raised: {"raised", "Faiman, 25 + 6.84·v W/m²K [FAIMAN-2008]", Faiman{U0: 25, U1: 6.84}},
	// Of the coefficients for roofs the flat ventilated one, 0.026, is cooler than a raised module in a light wind. Modules a few
	// centimetres above a roof are not, so the next one is taken.
	Close: {"close", "Ross, 0.0342 K·m²/W, poorly ventilated [SKOPLAKI-2008]", Ross{K: RossPoorlyVentilated}},
	// The same as 0.056 K·m²/W in a wind of 1.5 m/s.
	Bonded: {"bonded", "SAPM, polymer back insulated, -2.81 and -0.0455 [KING-2004]", SAPM{A: -2.81, B: -0.0455}},
}

// String returns the name of the mounting as the rig file writes it.
func (m Mounting) String() string {
	if m < Raised || m > Bonded {
		return fmt.Sprintf("mounting %d", uint8(m))
	}
	return mountings[m].name
}

// Model returns the model of cell temperature for the mounting and where its coefficients come from, or an error for an unknown mounting.
func (m Mounting) Model() (model CellTemperature, source string, err error) {
	if m < Raised || m > Bonded {
		return nil, "", fmt.Errorf("mounting: %d unknown, wanted raised, close or bonded", uint8(m))
	}
	return mountings[m].model, mountings[m].source, nil
}
