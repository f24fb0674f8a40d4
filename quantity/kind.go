package quantity

import "strings"

// kindFacts is what the program says about a kind: its name in the tags of the document, and how it is asked for in an error.
type kindFacts struct {
	name   string // as in the tags of the rig document
	asked  string // "a voltage"
	sample string // "12.8 V"
}

// kinds is indexed by Kind.
var kinds = [...]kindFacts{
	None:             {"none", "nothing", ""},
	Count:            {"count", "a plain number", "3"},
	Voltage:          {"voltage", "a voltage", "12.8 V"},
	Current:          {"current", "a current", "7.2 A"},
	Power:            {"power", "a power", "65 W"},
	Energy:           {"energy", "an energy", "1.5 kWh"},
	Charge:           {"charge", "a charge", "100 Ah"},
	Resistance:       {"resistance", "a resistance", "3 mohm"},
	Length:           {"length", "a length", "12 ft"},
	Section:          {"section", "a conductor size", "6 AWG"},
	Area:             {"area", "an area", "20 ft2"},
	Temperature:      {"temperature", "a temperature", "64 F"},
	TempDifference:   {"temperature difference", "a temperature difference", "5 K"},
	Mass:             {"mass", "a mass", "26 lb"},
	Volume:           {"volume", "a volume", "50 gal"},
	Angle:            {"angle", "an angle", "45 deg"},
	Share:            {"share", "a share", "90 %"},
	PerDegree:        {"per degree", "a change per degree", "-0.29 %/C"},
	VoltagePerDegree: {"voltage per degree", "a voltage per degree", "-65 mV/C"},
	CurrentPerDegree: {"current per degree", "a current per degree", "4 mA/C"},
	Duration:         {"duration", "a time", "1 h 30 min"},
	Frequency:        {"frequency", "a frequency", "60 Hz"},
	Flow:             {"flow", "a flow", "0.5 gal/h"},
	FlowPerDay:       {"flow per day", "a daily use", "4 gal/d"},
	HeatLoss:         {"heat loss", "a heat loss per degree", "90 W/K"},
	Speed:            {"speed", "a speed", "15 mph"},
	Irradiance:       {"irradiance", "an irradiance", "800 W/m2"},
	Irradiation:      {"irradiation", "an irradiation", "5 kWh/m2"},
	Money:            {"money", "a sum of money", "$120"},
	Pressure:         {"pressure", "a pressure", "30 psi"},
}

// Kinds returns all kinds that measure something, in their order.
func Kinds() []Kind {
	all := make([]Kind, 0, len(kinds)-1)
	for k := Count; int(k) < len(kinds); k++ {
		all = append(all, k)
	}
	return all
}

// String returns the name of the kind as the tags of the document write it, such as "voltage per degree".
func (k Kind) String() string {
	if int(k) < len(kinds) {
		return kinds[k].name
	}
	return "no kind"
}

// ParseKind is the reverse of String.
func ParseKind(name string) (Kind, bool) {
	for k := range kinds {
		if kinds[k].name == name {
			return Kind(k), true
		}
	}
	return None, false
}

// Asked says what is expected where this kind is, with an example: "a voltage such as 12.8 V".
func (k Kind) Asked() string {
	if int(k) >= len(kinds) || k == None {
		return "nothing"
	}
	return kinds[k].asked + " such as " + kinds[k].sample
}

// Noun returns the kind with its article: "a voltage", "an energy".
func (k Kind) Noun() string {
	if int(k) >= len(kinds) {
		return "nothing"
	}
	return kinds[k].asked
}

// asked joins what several kinds expect.
func asked(allowed []Kind) string {
	parts := make([]string, len(allowed))
	for i, k := range allowed {
		parts[i] = k.Asked()
	}
	return strings.Join(parts, " or ")
}

// expected is the hint of an error where any of the kinds would do; empty when every kind would.
func expected(allowed []Kind) string {
	if len(allowed) == 0 {
		return ""
	}
	return "expected " + asked(allowed)
}
