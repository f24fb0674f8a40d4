package load

// Water, for heating it: specific heat [Wh/kgK], and mass of a litre [kg].
const (
	waterWhPerKgK = 4186.0 / 3600
	waterKgPerL   = 1
)

// HeatWaterWh returns the heat that warms water [Wh].
//
//	litres  amount [L], zero or positive
//	riseK   by how much [K], zero or positive
//
// Taken at 1 kg/L and 4.186 kJ/kgK, within 0.5 % between 5 and 70 C.
func HeatWaterWh(litres, riseK float64) float64 { return litres * waterKgPerL * riseK * waterWhPerKgK }

// WaterHeaterParams describe a water heater with a tank, or one on demand with a tank of 0.
type WaterHeaterParams struct {
	KeepsC     float64 // thermostat [C], 30..95
	InletC     float64 // water coming in [C], 0..40
	LossWK     float64 // heat that the tank loses for each kelvin above the air around it [W/K], 0..20
	InputW     float64 // what it takes while it heats [W], electric or of propane, 100..60000
	Efficiency float64 // share of it that reaches the water, 0.2..1
	ControlW   float64 // electric, while it heats [W], 0..100
}

// WaterHeater is a water heater. It is made by NewWaterHeater and never changes.
type WaterHeater struct{ p WaterHeaterParams }

// NewWaterHeater returns the heater that p describes, or an error naming every field out of range.
func NewWaterHeater(p WaterHeaterParams) (WaterHeater, error) {
	err := check([]limit{
		{"thermostat", p.KeepsC, 30, 95, " C"},
		{"inlet", p.InletC, 0, 40, " C"},
		{"tank loss", p.LossWK, 0, 20, " W/K"},
		{"heater input", p.InputW, 100, 60000, " W"},
		{"heater efficiency", p.Efficiency, 0.2, 1, ""},
		{"control", p.ControlW, 0, 100, " W"},
	})
	if err != nil {
		return WaterHeater{}, err
	}
	return WaterHeater{p}, nil
}

// HoursPerDay returns how long the heater runs in a day [h], 0..24, and whether that suffices.
//
//	litres  hot water drawn at the thermostat's temperature in the day [L], zero or positive
//	airC    mean temperature of the air around the tank [C]
func (h WaterHeater) HoursPerDay(litres, airC float64) (hours float64, keeps bool) {
	need := HeatWaterWh(max(0, litres), h.p.KeepsC-h.p.InletC) + 24*h.p.LossWK*max(0, h.p.KeepsC-airC)
	hours = need / (h.p.InputW * h.p.Efficiency)
	if !(hours > 0) {
		return 0, true
	}
	if hours > 24 {
		return 24, false
	}
	return hours, true
}

// InputWh returns what the heater takes in a day [Wh], electric or of propane; arguments as HoursPerDay.
func (h WaterHeater) InputWh(litres, airC float64) float64 {
	hours, _ := h.HoursPerDay(litres, airC)
	return hours * h.p.InputW
}

// ControlWh returns what its control draws in a day [Wh]; arguments as HoursPerDay.
func (h WaterHeater) ControlWh(litres, airC float64) float64 {
	hours, _ := h.HoursPerDay(litres, airC)
	return hours * h.p.ControlW
}
