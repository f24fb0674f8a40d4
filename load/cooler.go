package load

// CoolerParams describe a box that keeps cold and whose running time follows the air around it: a compressor refrigerator or freezer, or
// an absorption refrigerator on either of its heats.
type CoolerParams struct {
	InsideC    float64 // what it keeps, mean of the box [C], -30..15
	ReferenceC float64 // air temperature at which ReferenceDuty is known, at least 1 K above InsideC, up to 60
	Duty       float64 // share of time it runs at ReferenceC, doors and food of ordinary use included, 0..1
	RunningW   float64 // while it runs [W]: electric, or heat of propane
	AlwaysW    float64 // besides, day and night [W]: control board, frame heater
}

// Cooler is a cold box. It is made by NewCooler and never changes.
type Cooler struct {
	p        CoolerParams
	dutyPerK float64
}

// NewCooler returns the box that p describes, or an error naming every field out of range.
func NewCooler(p CoolerParams) (Cooler, error) {
	err := check([]limit{
		{"inside temperature", p.InsideC, -30, 15, " C"},
		{"reference temperature", p.ReferenceC, p.InsideC + 1, 60, " C"},
		{"duty", p.Duty, 0, 1, ""},
		{"running power", p.RunningW, 0, 1e4, " W"},
		{"standing power", p.AlwaysW, 0, 500, " W"},
	})
	if err != nil {
		return Cooler{}, err
	}
	return Cooler{p, p.Duty / (p.ReferenceC - p.InsideC)}, nil
}

// Duty returns the share of time for which the box runs in air of tC [C], 0..1, and whether it can keep its temperature.
//
// Heat comes in with the difference between air and box, so duty is in proportion to it, through the known point; ours. Held to 0 below
// InsideC and to 1 where the box can do no more. The worse efficiency in hot air is left out: against published daily energies at 70
// and 100 F, and duties at 25 and 38 C, the plain proportion is within their ranges.
func (c Cooler) Duty(tC float64) (duty float64, keeps bool) {
	duty = (tC - c.p.InsideC) * c.dutyPerK
	if !(duty > 0) {
		return 0, true
	}
	if duty > 1 {
		return 1, false
	}
	return duty, true
}

// MeanW returns the mean power in air of tC [C]: RunningW by duty, and AlwaysW.
func (c Cooler) MeanW(tC float64) float64 {
	duty, _ := c.Duty(tC)
	return duty*c.p.RunningW + c.p.AlwaysW
}
