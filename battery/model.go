package battery

import (
	"math"
)

// bins is the number of equal parts of the state of charge in the look-up of legs; every knot of a curve lies on a border of one.
const bins = 200

// hoursPerMonth is a twelfth of 365.25 days.
const hoursPerMonth = 730.5

// leg is a piece of the curve as it is travelled in one direction, between two neighbouring knots. Ampere-hours in it are those at the
// terminals.
type leg struct {
	soc      float64 // where it begins
	v        float64 // open-circuit volts of the bank there
	dv       float64 // change of these volts for each ampere-hour of travel
	ah       float64 // its length
	before   float64 // ampere-hours of travel from the start of the curve to here
	ohm      float64 // resistance that follows temperature, at 25 C
	eff      float64 // stored for each ampere-hour at the terminals
	lost     float64 // made into gas or heat for each ampere-hour at the terminals, 0 or positive
	socPerAh float64 // change of state of charge for each ampere-hour, with sign
	ahPerSoC float64 // its inverse
}

// course is all the legs of one direction of travel, charging or discharging.
type course struct {
	legs    []leg
	sign    float64 // +1 charging, -1 discharging
	of      [bins + 1]uint8
	limitA  float64
	limitW  float64
	end     float64 // state of charge at which it ends
	endAh   float64 // ampere-hours of travel up to there
	aboveC  float64 // blocked below this
	belowC  float64 // blocked above this
	polV    float64 // polarisation of the bank
	fixed   float64 // resistance that does not follow temperature
	flat    bool    // an ideal bank, which looks at no voltage of the state
	holdV   float64 // voltage of the bank not to pass when the state names none: a ceiling, or 0 for no floor
	warming [degrees]warmth
}

// warmth is what a temperature does to a course.
type warmth struct {
	heat    float64 // factor on the resistance of the cells
	reserve float64 // state of charge above which neither cold nor rate holds back any current inside its limit
}

// Model is a bank ready to be stepped. It is made by New or NewIdeal, never changes, and may be copied and shared.
type Model struct{ b *bank }

// bank is what a Model points to.
type bank struct {
	charge, discharge course
	chemistry         Chemistry
	capacityAh        float64 // present
	nominalV          float64
	ratedA            float64 // current at which the rated capacity is given, with present capacity
	exponentLess1     float64 // rate exponent less one
	leastShare        float64 // share of capacity to be had at the current limit, at factor 1
	absorptionV       float64
	floatV            float64
	selfPerHour       float64 // state of charge lost in an hour
	resistance        byDegree
	share             byDegree  // share of the capacity to be had at rated current
	energy            []float64 // Wh stored below each charging leg, and last below full
}

// New returns the model of the bank that p describes. The error names every field out of its range.
func New(p Params) (Model, error) {
	if err := p.check(); err != nil {
		return Model{}, err
	}
	series, parallel := float64(p.Series), float64(p.Parallel)
	cells := series * float64(p.Cells)
	b := &bank{
		chemistry:     p.Chemistry,
		capacityAh:    p.CapacityAh * p.Health * parallel,
		nominalV:      cells * p.Chemistry.NominalCellV(),
		exponentLess1: p.RateExponent - 1,
		absorptionV:   p.AbsorptionV * series,
		floatV:        p.FloatV * series,
		selfPerHour:   p.SelfPerMonth / hoursPerMonth,
	}
	b.ratedA = b.capacityAh / p.RatedHours
	for i := range b.resistance {
		t := float64(i + coldestC)
		b.resistance[i] = ResistanceFactor(p.Chemistry, t)
		b.share[i] = CapacityShare(p.Chemistry, t)
	}
	curve := leadRest
	if p.Chemistry == LFP {
		curve = lfpRest
	}
	pieces := make([]piece, 0, bins)
	taper := 0.0
	if p.TaperHours > 0 {
		// A current of capacity times (1 - soc) / TaperHours at absorption voltage: the exponential decline of the trade.
		taper = (b.absorptionV - cells*(curve[len(curve)-1].v+p.PolarisationV)) * p.TaperHours / b.capacityAh
	}
	cellOhm := p.CellOhm * series / parallel
	for _, half := range borders(p.Chemistry, curve) {
		pieces = append(pieces, piece{half: half, v: cells * restAt(curve, half)})
	}
	for i := range pieces[:len(pieces)-1] {
		mid := float64(pieces[i].half+pieces[i+1].half) / (2 * bins)
		pieces[i].chargeOhm, pieces[i].dischargeOhm = cellOhm+taper/(1-mid), cellOhm
		pieces[i].chargeEff, pieces[i].dischargeEff = p.Efficiency.at(mid), 1
	}
	b.lay(pieces, 0, 1)
	fixed := (p.ResistanceOhm - p.CellOhm) * series / parallel
	c, d := &b.charge, &b.discharge
	c.limitA, d.limitA = p.ChargeLimitA*parallel, p.DischargeLimitA*parallel
	c.limitW, d.limitW = math.Inf(1), math.Inf(1)
	c.aboveC, c.belowC, d.aboveC, d.belowC = p.ChargeAboveC, p.ChargeBelowC, p.DischargeAboveC, p.DischargeBelowC
	c.polV, d.polV = p.PolarisationV*cells, p.PolarisationV*cells
	c.fixed, d.fixed = fixed, fixed
	c.holdV = b.absorptionV
	b.leastShare = b.rateShare(d.limitA)
	b.weather()
	return Model{b}, nil
}

// NewIdeal returns the model of a bank without voltage effects: see IdealParams. Its absorption voltage is its nominal voltage, and the
// ceiling and floor of a State are not looked at.
func NewIdeal(p IdealParams) (Model, error) {
	if err := p.check(); err != nil {
		return Model{}, err
	}
	b := &bank{capacityAh: p.CapacityAh, nominalV: p.NominalV, absorptionV: p.NominalV, floatV: p.NominalV, ratedA: p.CapacityAh, leastShare: 1}
	for i := range b.resistance {
		b.resistance[i], b.share[i] = 1, 1
	}
	b.lay([]piece{{half: 0, v: p.NominalV, chargeEff: p.ChargeEff, dischargeEff: p.DischargeEff}, {half: bins, v: p.NominalV}}, p.SoCMin, p.SoCMax)
	for _, c := range []*course{&b.charge, &b.discharge} {
		c.limitA, c.aboveC, c.belowC, c.flat = math.Inf(1), math.Inf(-1), math.Inf(1), true
	}
	b.charge.limitW, b.discharge.limitW = p.MaxChargeW, p.MaxDischargeW
	b.charge.holdV = math.Inf(1)
	b.weather()
	return Model{b}, nil
}

// piece is the curve between one knot and the next, for both directions.
type piece struct {
	half                    int     // where it begins, in half per cent
	v                       float64 // open-circuit volts of the bank there
	chargeOhm, dischargeOhm float64
	chargeEff, dischargeEff float64
}

// borders returns the knots of a bank's curve in half per cent, rising from 0 to 200: those of the rest voltage, of the bands of
// efficiency, and for lead-acid a finer mesh towards full, where its resistance to charge climbs.
func borders(c Chemistry, curve []knot) []int {
	on := [bins + 1]bool{160: true, 180: true}
	for _, k := range curve {
		on[k.half] = true
	}
	if c.LeadAcid() {
		for half := 0; half <= bins; half++ {
			if half%10 == 0 || half >= 180 && half%2 == 0 || half >= 194 {
				on[half] = true
			}
		}
	}
	var list []int
	for half, is := range on {
		if is {
			list = append(list, half)
		}
	}
	return list
}

// lay builds both courses and the table of stored energy from the pieces, whose last holds only its voltage.
func (b *bank) lay(pieces []piece, low, high float64) {
	n := len(pieces) - 1
	up, down := &b.charge, &b.discharge
	up.sign, down.sign = 1, -1
	up.end, down.end = high, low
	b.energy = make([]float64, n+1)
	before := 0.0
	for i := range n {
		lo, hi := pieces[i], pieces[i+1]
		q := b.capacityAh * float64(hi.half-lo.half) / bins
		b.energy[i+1] = b.energy[i] + q*(lo.v+hi.v)/2
		ah := q / lo.chargeEff
		up.legs = append(up.legs, leg{soc: float64(lo.half) / bins, v: lo.v, dv: (hi.v - lo.v) / ah, ah: ah, before: before,
			ohm: lo.chargeOhm, eff: lo.chargeEff, lost: 1 - lo.chargeEff, socPerAh: q / b.capacityAh / ah, ahPerSoC: ah * b.capacityAh / q})
		for half := lo.half; half < hi.half; half++ {
			up.of[half] = uint8(i)
			down.of[half] = uint8(n - 1 - i)
		}
		before += ah
	}
	up.of[bins], down.of[bins] = uint8(n-1), 0
	before = 0
	for i := n - 1; i >= 0; i-- {
		lo, hi := pieces[i], pieces[i+1]
		q := b.capacityAh * float64(hi.half-lo.half) / bins
		ah := q * lo.dischargeEff
		down.legs = append(down.legs, leg{soc: float64(hi.half) / bins, v: hi.v, dv: (lo.v - hi.v) / ah, ah: ah, before: before,
			ohm: lo.dischargeOhm, eff: 1 / lo.dischargeEff, lost: 1/lo.dischargeEff - 1, socPerAh: -q / b.capacityAh / ah, ahPerSoC: -ah * b.capacityAh / q})
		before += ah
	}
	for _, c := range []*course{up, down} {
		k, into := c.place(c.end)
		c.endAh = c.legs[k].before + into
	}
}

// weather fills the table of temperature of both courses.
func (b *bank) weather() {
	for i := range degrees {
		b.charge.warming[i].heat = b.resistance[i]
		b.discharge.warming[i] = warmth{b.resistance[i], max(0, 1-b.share[i]*b.leastShare)}
	}
}

// warm returns what a temperature [C] does to a course; below -40 and above 60 C the end values are held.
func (c *course) warm(tC float64) warmth {
	d := tC - coldestC
	if !(d > 0) {
		d = 0 // what is no number counts as coldest
	}
	d = min(d, degrees-1-1e-9)
	i := int(d)
	a, b, part := &c.warming[i], &c.warming[i+1], d-float64(i)
	return warmth{a.heat + (b.heat-a.heat)*part, a.reserve + (b.reserve-a.reserve)*part}
}

// at returns the efficiency of the band that holds a state of charge.
func (c Coulombic) at(soc float64) float64 {
	switch {
	case soc < 0.8:
		return c.Bulk
	case soc < 0.9:
		return c.Late
	}
	return c.Full
}

// CapacityAh returns the present capacity of the bank [Ah], health included, at 25 C and rated discharge time.
func (m Model) CapacityAh() float64 { return m.b.capacityAh }

// NominalV returns the nominal voltage of the bank [V].
func (m Model) NominalV() float64 { return m.b.nominalV }

// AbsorptionV returns the charging voltage of the bank [V].
func (m Model) AbsorptionV() float64 { return m.b.absorptionV }

// FloatV returns the resting voltage of the bank under charge [V].
func (m Model) FloatV() float64 { return m.b.floatV }

// Energy returns the energy stored at a state of charge [Wh], 0..1 (held outside): the integral of the open-circuit voltage over the
// charge below it. Exact for the piecewise linear curve.
func (m Model) Energy(soc float64) float64 {
	b := m.b
	soc = clamp01(soc)
	k, into := b.charge.place(soc)
	l := &b.charge.legs[k]
	return b.energy[k] + l.eff*into*(l.v+l.dv*into/2)
}

// Voc returns the open-circuit voltage of the bank at rest [V] at a state of charge, 0..1 (held outside). It does not depend on
// temperature: see the package comment.
func (m Model) Voc(soc float64) float64 { return m.b.voc(clamp01(soc)) }

// voc is Voc for a state of charge already inside 0..1.
func (b *bank) voc(soc float64) float64 {
	k, into := b.charge.place(soc)
	l := &b.charge.legs[k]
	return l.v + l.dv*into
}

// Resistance returns the resistance of the bank [ohm] at a state of charge, 0..1 (held outside), and a cell temperature [C]. For
// lead-acid it rises towards full when charging: that is what makes the current taper.
func (m Model) Resistance(soc, tC float64, charging bool) float64 {
	c := &m.b.discharge
	if charging {
		c = &m.b.charge
	}
	k, _ := c.place(clamp01(soc))
	return c.fixed + c.legs[k].ohm*c.warm(tC).heat
}

// place finds a state of charge, 0..1, on the course: the leg and the ampere-hours travelled in it.
func (c *course) place(soc float64) (k int, into float64) {
	k = int(c.of[int(soc*bins)])
	l := &c.legs[k]
	return k, (soc - l.soc) * l.ahPerSoC
}

// clamp01 holds a share to 0..1; a value that is no number becomes 0.
func clamp01(share float64) float64 {
	if share > 0 {
		return min(share, 1)
	}
	return 0
}

// SoCAtRest returns the state of charge at which the bank rests at a voltage [V]: 0 below the curve, 1 above it. Over most of an LFP
// curve it means little: from 30 to 90 % the voltage of a cell changes by 55 mV, the hysteresis alone is 36.
func (m Model) SoCAtRest(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	legs := m.b.charge.legs
	for i := range legs {
		l := &legs[i]
		if top := l.v + l.dv*l.ah; v <= top {
			if v <= l.v {
				return l.soc
			}
			return min(1, l.soc+(v-l.v)/l.dv*l.socPerAh)
		}
	}
	return 1
}
