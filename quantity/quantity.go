// Package quantity holds values with units as people write them, and converts between what people read (AWG, °F, feet, BTU/h) and
// what formulas use. Formulas see plain float64 in the base unit of a kind; only the edge of the program converts.
//
// Parse reads one value, String writes it back so that Parse finds the same value again, and Format shows it to a person in the
// units of one system with as many digits as make sense. Numbers are written with a decimal point; a comma only separates thousands,
// because a comma that meant two things would one day size a fuse wrongly.
//
// Left out: currencies other than dollars, the imperial gallon, absolute temperatures in kelvin, prefixes nobody in the trade uses.
// Factors are exact definitions where there are any; see [NIST-811] and [ASTM-B258].
package quantity

// Kind says what a quantity measures. Its base unit is the one formulas use.
type Kind uint8

// The kinds, each with its base unit.
const (
	None             Kind = iota
	Count                 // a plain number
	Voltage               // V
	Current               // A
	Power                 // W, heat rates included
	Energy                // Wh
	Charge                // Ah
	Resistance            // Ω
	Length                // m
	Section               // mm², cross-section of a conductor
	Area                  // m²
	Temperature           // °C
	TempDifference        // K
	Mass                  // kg
	Volume                // L
	Angle                 // degrees
	Share                 // 1, written in per cent
	PerDegree             // 1/K, relative change
	VoltagePerDegree      // V/K
	CurrentPerDegree      // A/K
	Duration              // h
	Frequency             // Hz
	Flow                  // L/h
	FlowPerDay            // L/d
	HeatLoss              // W/K
	Speed                 // m/s
	Irradiance            // W/m²
	Irradiation           // kWh/m²
	Money                 // dollars
	Pressure              // Pa
)

// Quantity is a number in the base unit of its kind, with the unit it was written in.
type Quantity struct {
	Base float64
	Kind Kind
	Unit string // as written, such as "AWG" or "BTU/h", "ft in" for feet and inches; empty means the base unit
}

// System is a choice of units.
type System uint8

// The systems of units.
const (
	AsWritten System = iota // the unit in which the value was written
	US                      // AWG, °F, ft, lb, gal
	Metric                  // mm², °C, m, kg, L
)

// System returns the system of the unit that the value was written in: AsWritten for a unit that both use, and for none.
func (q Quantity) System() System {
	if q.Kind == Section && q.Unit == gaugeUnit {
		return US
	}
	if us := unitsOf(q.Kind, q.Unit); len(us) > 0 {
		return us[0].system
	}
	return AsWritten
}

// Error says why a text is not the value that was asked for.
type Error struct {
	Text    string // the text in question
	Problem string // what is wrong with it
	Hint    string // what to write; may be empty
}

// Error joins the parts into one line.
func (e *Error) Error() string {
	s := "\"" + e.Text + "\": " + e.Problem
	if e.Hint != "" {
		s += "; " + e.Hint
	}
	return s
}
