package system

import (
	"math"

	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// lengths are guesses of how long a run is between two parts, low, likely and high [m], where nothing says. Common practice, no source.
var lengths = []struct {
	a, b              string
	low, likely, high float64
}{
	{"block", "block", 0.2, 0.3, 0.6},
	{"block", "bus bar", 0.3, 0.6, 1.5},
	{"bank", "bus bar", 0.3, 0.6, 1.5},
	{"bus bar", "bus bar", 0.2, 0.5, 1.2},
	{"bus bar", "inverter", 0.5, 1.2, 2.4},
	{"block", "inverter", 0.5, 1.5, 3},
	{"bus bar", "controller", 0.5, 1.8, 4},
	{"bus bar", "charger", 0.5, 1.5, 4},
	{"bus bar", "dc-dc", 0.5, 1.5, 4},
	{"bus bar", "relay", 0.5, 1.5, 4},
	{"bus bar", "fuse block", 0.3, 1.8, 5},
	{"array", "controller", 4, 8, 13},
	{"combiner", "controller", 3, 7, 12},
	{"vehicle", "dc-dc", 5, 7, 10},
	{"branch", "", 2, 5, 9},
}

// lengthGuess returns the guess for a run between two parts.
func lengthGuess(a, b string) rig.Value {
	low, likely, high := 0.5, 2.0, 6.0
	for _, l := range lengths {
		if l.a == a && l.b == b || l.a == b && l.b == a {
			low, likely, high = l.low, l.likely, l.high
		}
	}
	return lengthValue(low, likely, high, "a usual length between such parts; measure it along its way")
}

func lengthValue(low, likely, high float64, why string) rig.Value {
	return rig.Value{Quantity: quantity.Quantity{Base: likely, Kind: quantity.Length, Unit: "m"}, State: figure.Default, Low: low, High: high, Why: why}
}

// How a cable's way is longer than the distance along the three directions: detours, and slack for two lugs [m]. Common practice, no source.
const (
	detour     = 1.1
	mostDetour = 1.3
	slackM     = 0.3
)

// RunLength returns how long a run between two terminals is: worked out from the bays in which they sit, otherwise a guess; a default with
// its ends and its reason.
func RunLength(doc *rig.Rig, from, to rig.Terminal) rig.Value {
	a, b := bayOf(doc, unsigned(from)), bayOf(doc, unsigned(to))
	switch {
	case a == nil || b == nil:
		return lengthGuess(from.Part, to.Part)
	case a == b:
		return lengthValue(0.3, 0.6, 1.2, "both ends sit in "+a.Name)
	}
	along, square := 0.0, 0.0
	for _, d := range [][2]rig.Value{{a.Aft, b.Aft}, {a.Left, b.Left}, {a.Up, b.Up}} {
		if !d[0].Given() || !d[1].Given() {
			continue
		}
		x := math.Abs(d[0].Quantity.Base - d[1].Quantity.Base)
		along += x
		square += x * x
	}
	if along == 0 {
		return lengthGuess(from.Part, to.Part)
	}
	return lengthValue(math.Sqrt(square), detour*along+slackM, mostDetour*along+2*slackM, "along the three directions from "+a.Name+" to "+b.Name+", with a tenth and two lugs to spare")
}

// bayOf returns the bay in which a part sits, by a terminal without sign; nil when none holds it.
func bayOf(doc *rig.Rig, terminal string) *rig.Bay {
	if doc.Wiring == nil || len(doc.Wiring.Bays) == 0 {
		return nil
	}
	t, err := doc.Terminal(terminal)
	if err != nil {
		return nil
	}
	for i := range doc.Wiring.Bays {
		for _, name := range doc.Wiring.Bays[i].Holds {
			if doc.SamePart(name, t) {
				return &doc.Wiring.Bays[i]
			}
		}
	}
	return nil
}

// BayHottest returns the hottest air of the bay in which a part sits [°C]; false where no bay holds it or it does not say.
func BayHottest(doc *rig.Rig, t rig.Terminal) (float64, bool) {
	b := bayOf(doc, unsigned(t))
	if b == nil || !b.Hottest.Given() {
		return 0, false
	}
	return b.Hottest.Quantity.Base, true
}
