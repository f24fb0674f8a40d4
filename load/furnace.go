package load

// FurnaceParams describe a furnace with its blower and the body that it heats.
type FurnaceParams struct {
	KeepsC     float64 // thermostat [C], -10..40
	HeatLossWK float64 // heat that the rig loses for each kelvin [W/K], 1..2000
	FreeHeatW  float64 // heat of people, lamps and appliances inside [W], 0..5000
	InputW     float64 // what it burns while it burns [W], 100..50000
	Efficiency float64 // share of it that heats the rig, 0.2..1
	BlowerW    float64 // electric, while the blower runs [W], 0..1000
	ControlW   float64 // electric, day and night [W], 0..100
	PurgeMin   float64 // how long the blower runs before and after each burn, together [min], 0..10
	CyclesPerH float64 // burns in an hour at half duty, the most there are, 0..20
}

// Furnace is a furnace in its rig. It is made by NewFurnace and never changes.
type Furnace struct {
	p       FurnaceParams
	perWatt float64
}

// NewFurnace returns the furnace that p describes, or an error naming every field out of range.
func NewFurnace(p FurnaceParams) (Furnace, error) {
	err := check([]limit{
		{"thermostat", p.KeepsC, -10, 40, " C"},
		{"heat loss", p.HeatLossWK, 1, 2000, " W/K"},
		{"free heat", p.FreeHeatW, 0, 5000, " W"},
		{"furnace input", p.InputW, 100, 50000, " W"},
		{"furnace efficiency", p.Efficiency, 0.2, 1, ""},
		{"blower", p.BlowerW, 0, 1000, " W"},
		{"control", p.ControlW, 0, 100, " W"},
		{"purge", p.PurgeMin, 0, 10, " min"},
		{"cycles in an hour", p.CyclesPerH, 0, 20, ""},
	})
	if err != nil {
		return Furnace{}, err
	}
	return Furnace{p, 1 / (p.InputW * p.Efficiency)}, nil
}

// Duty returns the share of time for which the furnace burns with outside air of tC [C], 0..1, and whether it keeps its temperature: the
// heat lost less the free heat, over what the furnace gives. Steady state; ours, the balance of heat.
func (f Furnace) Duty(tC float64) (duty float64, keeps bool) {
	duty = (f.p.HeatLossWK*(f.p.KeepsC-tC) - f.p.FreeHeatW) * f.perWatt
	if !(duty > 0) {
		return 0, true
	}
	if duty > 1 {
		return 1, false
	}
	return duty, true
}

// BlowerShare returns the share of time for which the blower runs at a burning duty, 0..1: the duty and the purges of its cycles. A
// thermostat cycles most at half duty and not at all at none or full: 4 n d (1-d) burns in an hour, n the most; the parabola is the
// thermostat makers' rule [NEMA-DC3], from memory.
func (f Furnace) BlowerShare(duty float64) float64 {
	if !(duty > 0) {
		return 0
	}
	duty = min(duty, 1)
	return min(1, duty+4*f.p.CyclesPerH*duty*(1-duty)*f.p.PurgeMin/60)
}

// ElectricW returns the mean electric power with outside air of tC [C]: blower and control.
func (f Furnace) ElectricW(tC float64) float64 {
	duty, _ := f.Duty(tC)
	return f.p.ControlW + f.p.BlowerW*f.BlowerShare(duty)
}

// PropaneW returns the mean heat of the propane burned with outside air of tC [C].
func (f Furnace) PropaneW(tC float64) float64 {
	duty, _ := f.Duty(tC)
	return f.p.InputW * duty
}

// InsideC returns the temperature that the rig comes to with outside air of tC [C] when the furnace cannot keep its thermostat: burning
// without rest. Where it keeps it, that is the thermostat's, or higher where free heat and air alone are warmer.
func (f Furnace) InsideC(tC float64) float64 {
	duty, _ := f.Duty(tC)
	return tC + (f.p.FreeHeatW+duty*f.p.InputW*f.p.Efficiency)/f.p.HeatLossWK
}
