package quantity

import "strings"

// unit is one way of writing a kind. A number x in the unit is (x + shift) * num / den in the base unit.
type unit struct {
	kind     Kind
	name     string // as String writes it, in plain ASCII
	shown    string // as Format shows it to people
	num, den float64
	shift    float64
	system   System // US or Metric for a unit of one system; AsWritten for one that both use
	exact    bool   // its letters' case carries meaning, as in mV
	also     string // other spellings, separated by spaces
}

// Exact by definition: the international foot is 0.3048 m and the pound 0.45359237 kg [NIST-811]; the US gallon is 231 in³. BTU is
// the international table one, 1055.05585262 J, which makes 1 BTU/h = 0.29307107 W [NIST-811].
const (
	btuWh     = 1055.05585262 / 3600 // Wh
	poundKg   = 0.45359237           // kg
	gallonL   = 3.785411784          // L
	kcmilMM2  = 0.506707479097       // mm²: a circle of 0.001 in across is π/4 × 0.0254² mm²
	psiPa     = 6894.757293168       // Pa
	horseW    = 745.69987158         // W, 550 ft·lbf/s
	mileMetre = 1609.344             // m
)

// units lists every unit. The first of a kind is its base unit.
var units = []unit{
	{kind: Voltage, name: "V", num: 1, den: 1, also: "volt volts VDC VAC Vdc Vac"},
	{kind: Voltage, name: "mV", num: 1, den: 1000, exact: true, also: "millivolt millivolts"},
	{kind: Voltage, name: "kV", num: 1000, den: 1},

	{kind: Current, name: "A", num: 1, den: 1, also: "amp amps ampere amperes ADC AAC"},
	{kind: Current, name: "kA", num: 1000, den: 1, also: "kiloamp kiloamps"},
	{kind: Current, name: "mA", num: 1, den: 1000, exact: true, also: "milliamp milliamps"},

	{kind: Power, name: "W", num: 1, den: 1, also: "watt watts"},
	{kind: Power, name: "kW", num: 1000, den: 1, also: "kilowatt kilowatts"},
	{kind: Power, name: "mW", num: 1, den: 1000, exact: true},
	{kind: Power, name: "BTU/h", num: btuWh, den: 1, system: US, also: "BTU/hr BTUh BTU/hour"},
	{kind: Power, name: "hp", num: horseW, den: 1, system: US},

	{kind: Energy, name: "Wh", num: 1, den: 1, also: "watthour watthours"},
	{kind: Energy, name: "kWh", num: 1000, den: 1},
	{kind: Energy, name: "MJ", num: 1e6, den: 3600, exact: true, system: Metric},
	{kind: Energy, name: "kJ", num: 1000, den: 3600, system: Metric},
	{kind: Energy, name: "BTU", num: btuWh, den: 1, system: US},

	{kind: Charge, name: "Ah", num: 1, den: 1, also: "A.h amphour amphours amp-hour amp-hours"},
	{kind: Charge, name: "mAh", num: 1, den: 1000, exact: true},

	{kind: Resistance, name: "ohm", shown: "Ω", num: 1, den: 1, also: "ohms"},
	{kind: Resistance, name: "mohm", shown: "mΩ", num: 1, den: 1000, exact: true, also: "milliohm milliohms mohms"},
	{kind: Resistance, name: "uohm", shown: "µΩ", num: 1, den: 1e6, exact: true, also: "µohm"},

	{kind: Length, name: "m", num: 1, den: 1, system: Metric, exact: true, also: "metre metres meter meters"},
	{kind: Length, name: "km", num: 1000, den: 1, system: Metric},
	{kind: Length, name: "cm", num: 1, den: 100, system: Metric},
	{kind: Length, name: "mm", num: 1, den: 1000, system: Metric},
	{kind: Length, name: "ft", num: 3048, den: 10000, system: US, also: "' foot feet"},
	{kind: Length, name: "in", num: 254, den: 10000, system: US, also: "\" '' inch inches"},
	{kind: Length, name: "yd", num: 9144, den: 10000, system: US, also: "yard yards"},
	{kind: Length, name: "mi", num: mileMetre, den: 1, system: US, also: "mile miles"},

	{kind: Section, name: "mm2", shown: "mm²", num: 1, den: 1, system: Metric, also: "sqmm mm^2"},
	{kind: Section, name: "kcmil", num: kcmilMM2, den: 1, system: US, also: "MCM"},

	{kind: Area, name: "m2", shown: "m²", num: 1, den: 1, system: Metric, exact: true, also: "sqm m^2"},
	{kind: Area, name: "cm2", shown: "cm²", num: 1, den: 1e4, system: Metric, also: "sqcm cm^2"},
	{kind: Area, name: "ft2", shown: "ft²", num: 0.3048 * 0.3048, den: 1, system: US, also: "sqft ft^2"},
	{kind: Area, name: "in2", shown: "in²", num: 0.0254 * 0.0254, den: 1, system: US, also: "sqin in^2"},

	{kind: Temperature, name: "C", shown: "°C", num: 1, den: 1, system: Metric, also: "°C degC celsius"},
	{kind: Temperature, name: "F", shown: "°F", num: 5, den: 9, shift: -32, system: US, also: "°F degF fahrenheit"},

	{kind: TempDifference, name: "K", num: 1, den: 1, system: Metric, also: "C °C degC kelvin"},
	{kind: TempDifference, name: "F", shown: "°F", num: 5, den: 9, system: US, also: "°F degF"},

	{kind: Mass, name: "kg", num: 1, den: 1, system: Metric},
	{kind: Mass, name: "g", num: 1, den: 1000, system: Metric},
	{kind: Mass, name: "lb", num: poundKg, den: 1, system: US, also: "lbs pound pounds"},
	{kind: Mass, name: "oz", num: poundKg, den: 16, system: US, also: "ounce ounces"},

	{kind: Volume, name: "L", num: 1, den: 1, system: Metric, also: "litre litres liter liters"},
	{kind: Volume, name: "mL", num: 1, den: 1000, system: Metric},
	{kind: Volume, name: "m3", shown: "m³", num: 1000, den: 1, system: Metric, exact: true, also: "m^3"},
	{kind: Volume, name: "gal", num: gallonL, den: 1, system: US, also: "gallon gallons USgal"},
	{kind: Volume, name: "qt", num: gallonL, den: 4, system: US, also: "quart quarts"},
	{kind: Volume, name: "ft3", shown: "ft³", num: 28.316846592, den: 1, system: US, also: "cuft ft^3"},

	{kind: Angle, name: "deg", shown: "°", num: 1, den: 1, also: "° degree degrees"},

	{kind: Share, name: "%", num: 1, den: 100, also: "percent pct"},

	{kind: PerDegree, name: "%/C", shown: "%/°C", num: 1, den: 100, also: "%/K %/°C %/degC"},
	{kind: PerDegree, name: "%/F", shown: "%/°F", num: 9, den: 500, system: US, also: "%/°F %/degF"},
	{kind: PerDegree, name: "1/K", num: 1, den: 1, also: "/K /C 1/C /°C 1/°C"},

	{kind: VoltagePerDegree, name: "V/C", shown: "V/°C", num: 1, den: 1, also: "V/K V/°C V/degC"},
	{kind: VoltagePerDegree, name: "mV/C", shown: "mV/°C", num: 1, den: 1000, exact: true, also: "mV/K mV/°C mV/degC"},
	{kind: VoltagePerDegree, name: "V/F", shown: "V/°F", num: 9, den: 5, system: US, also: "V/°F V/degF"},
	{kind: VoltagePerDegree, name: "mV/F", shown: "mV/°F", num: 9, den: 5000, exact: true, system: US, also: "mV/°F mV/degF"},

	{kind: CurrentPerDegree, name: "A/C", shown: "A/°C", num: 1, den: 1, also: "A/K A/°C A/degC"},
	{kind: CurrentPerDegree, name: "mA/C", shown: "mA/°C", num: 1, den: 1000, exact: true, also: "mA/K mA/°C mA/degC"},

	{kind: Duration, name: "h", num: 1, den: 1, also: "hr hrs hour hours"},
	{kind: Duration, name: "min", num: 1, den: 60, also: "mins minute minutes"},
	{kind: Duration, name: "s", num: 1, den: 3600, also: "sec second seconds"},
	{kind: Duration, name: "d", num: 24, den: 1, also: "day days"},
	{kind: Duration, name: "week", num: 168, den: 1, also: "weeks"},

	{kind: Frequency, name: "Hz", num: 1, den: 1},
	{kind: Frequency, name: "kHz", num: 1000, den: 1},

	{kind: Flow, name: "L/h", num: 1, den: 1, system: Metric, also: "L/hr L/hour"},
	{kind: Flow, name: "gal/h", num: gallonL, den: 1, system: US, also: "gal/hr gal/hour gph"},
	{kind: Flow, name: "gal/min", num: gallonL * 60, den: 1, system: US, also: "gpm"},
	{kind: Flow, name: "L/min", num: 60, den: 1, system: Metric},

	{kind: FlowPerDay, name: "L/d", num: 1, den: 1, system: Metric, also: "L/day"},
	{kind: FlowPerDay, name: "gal/d", num: gallonL, den: 1, system: US, also: "gal/day gpd"},

	{kind: HeatLoss, name: "W/K", num: 1, den: 1, system: Metric, also: "W/C W/°C W/degC"},
	{kind: HeatLoss, name: "BTU/h/F", shown: "BTU/h/°F", num: btuWh * 9, den: 5, system: US, also: "BTU/h/°F BTU/hr/F BTU/(hF) BTU/h/degF BTU/h.F"},

	{kind: Speed, name: "m/s", num: 1, den: 1, system: Metric},
	{kind: Speed, name: "km/h", num: 10, den: 36, system: Metric, also: "kph"},
	{kind: Speed, name: "mph", num: mileMetre, den: 3600, system: US, also: "mi/h"},

	{kind: Irradiance, name: "W/m2", shown: "W/m²", num: 1, den: 1, also: "W/m^2"},
	{kind: Irradiation, name: "kWh/m2", shown: "kWh/m²", num: 1, den: 1, also: "kWh/m^2"},
	{kind: Irradiation, name: "Wh/m2", shown: "Wh/m²", num: 1, den: 1000, also: "Wh/m^2"},

	{kind: Money, name: "$", num: 1, den: 1, also: "dollar dollars USD"},

	{kind: Pressure, name: "Pa", num: 1, den: 1, system: Metric},
	{kind: Pressure, name: "hPa", num: 100, den: 1, system: Metric, also: "mbar"},
	{kind: Pressure, name: "kPa", num: 1000, den: 1, system: Metric},
	{kind: Pressure, name: "bar", num: 1e5, den: 1, system: Metric},
	{kind: Pressure, name: "psi", num: psiPa, den: 1, system: US},
}

func (u *unit) toBase(x float64) float64   { return (x + u.shift) * u.num / u.den }
func (u *unit) fromBase(b float64) float64 { return b*u.den/u.num - u.shift }

// symbol is the unit as people are shown it.
func (u *unit) symbol() string {
	if u.shown != "" {
		return u.shown
	}
	return u.name
}

// unitTable finds units by spelling: first as written, then with letters' case ignored where that carries no meaning.
type unitTable struct {
	written map[string][]*unit
	folded  map[string][]*unit
}

var byName = func() unitTable {
	t := unitTable{map[string][]*unit{}, map[string][]*unit{}}
	for i := range units {
		u := &units[i]
		names := append([]string{u.name}, strings.Fields(u.also)...)
		if u.shown != "" {
			names = append(names, plain(u.shown))
		}
		for _, n := range names {
			t.written[n] = append(t.written[n], u)
			if f := strings.ToLower(n); !u.exact {
				t.folded[f] = append(t.folded[f], u)
			}
		}
	}
	return t
}()

// findUnit returns the unit of that spelling in one of the allowed kinds, or in any kind when allowed is empty.
func findUnit(spelled string, allowed []Kind) *unit {
	for _, found := range [][]*unit{byName.written[spelled], byName.folded[strings.ToLower(spelled)]} {
		for _, u := range found {
			if allows(allowed, u.kind) {
				return u
			}
		}
	}
	return nil
}

func allows(allowed []Kind, k Kind) bool {
	for _, a := range allowed {
		if a == k {
			return true
		}
	}
	return len(allowed) == 0
}

// Units returns the units in which a kind may be written, the base unit first, and "AWG" among those of a conductor. A plain number
// has none.
func Units(k Kind) []string {
	var names []string
	for i := range units {
		if units[i].kind == k {
			names = append(names, units[i].name)
		}
	}
	if k == Section {
		names = append(names, gaugeUnit)
	}
	return names
}

// BaseUnit returns the unit of Quantity.Base, in plain ASCII; empty for a plain number.
func (k Kind) BaseUnit() string {
	for i := range units {
		if units[i].kind == k {
			switch k {
			case Share:
				return "1"
			case PerDegree:
				return "1/K"
			}
			return units[i].name
		}
	}
	return ""
}
