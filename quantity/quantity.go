// Package quantity holds values with units as people write them, and converts between what people read (AWG, °F, feet, BTU/h) and
// what formulas use. Formulas see plain float64 in the base unit of a kind; only the edge of the program converts.
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
	Unit string // as written, such as "AWG" or "BTU/h"; empty means the base unit
}
