package load

// AirConditionerParams describe an air conditioner and the body that it cools.
type AirConditionerParams struct {
	KeepsC     float64 // thermostat [C], 10..40
	HeatLossWK float64 // heat that comes in for each kelvin [W/K], 1..2000
	FreeHeatW  float64 // heat of sun through walls and windows, people and appliances [W], 0..20000
	CoolingW   float64 // heat it removes while it runs, at 35 C outside [W], 100..30000
	RunningW   float64 // electric, while it runs, at 35 C outside [W], 50..10000
}

// AirConditioner is an air conditioner in its rig. It is made by NewAirConditioner and never changes.
type AirConditioner struct{ p AirConditionerParams }

// NewAirConditioner returns the one that p describes, or an error naming every field out of range.
func NewAirConditioner(p AirConditionerParams) (AirConditioner, error) {
	err := check([]limit{
		{"thermostat", p.KeepsC, 10, 40, " C"},
		{"heat gain", p.HeatLossWK, 1, 2000, " W/K"},
		{"free heat", p.FreeHeatW, 0, 20000, " W"},
		{"cooling", p.CoolingW, 100, 30000, " W"},
		{"running power", p.RunningW, 50, 10000, " W"},
	})
	if err != nil {
		return AirConditioner{}, err
	}
	return AirConditioner{p}, nil
}

// Away from the rating point of 35 C an air conditioner removes less heat and draws more as the outside gets hotter. Common practice, no
// source: 0.8 % and 1.2 % for each kelvin, held between 15 and 55 C.
const (
	coolingPerK = -0.008
	runningPerK = 0.012
)

// Duty returns the share of time for which it runs with outside air of tC [C], 0..1, and whether it keeps its temperature: the heat that
// comes in over the heat it removes at that temperature. Steady state.
//
//	sunW  heat of the sun besides FreeHeatW [W], zero or positive
func (a AirConditioner) Duty(tC, sunW float64) (duty float64, keeps bool) {
	duty = (a.p.HeatLossWK*(tC-a.p.KeepsC) + a.p.FreeHeatW + sunW) / (a.p.CoolingW * (1 + coolingPerK*off(tC)))
	if !(duty > 0) {
		return 0, true
	}
	if duty > 1 {
		return 1, false
	}
	return duty, true
}

// RunningW returns the electric power while it runs with outside air of tC [C].
func (a AirConditioner) RunningW(tC float64) float64 { return a.p.RunningW * (1 + runningPerK*off(tC)) }

// MeanW returns the mean electric power; arguments as Duty.
func (a AirConditioner) MeanW(tC, sunW float64) float64 {
	duty, _ := a.Duty(tC, sunW)
	return duty * a.RunningW(tC)
}

// off returns the distance from the rating point [K], held to -20..20.
func off(tC float64) float64 { return min(20, max(-20, tC-35)) }
