package battery

import "math"

const (
	least   = 1e-9 // power [W] below which a step is taken as rest, so that no division meets a vanishing current
	briefly = 1e-9 // shortest and longest step [h] that is worked with
	endless = 1e6
)

// Limits returns the largest powers at the terminals that the bank can take and give over one step [W], both zero or positive.
//
//	s    the bank at the start of the step; SoC is held to 0..1
//	tC   temperature of the cells [C]
//	dtH  length of the step [h], 1e-9 to 1e6; else both are zero
//
// They keep to the current limits, the windows of temperature, neither the mean voltage over the step nor the rest voltage after it above
// the ceiling or below the floor of the state, and the state of charge inside its ends at the end of the step; for lead-acid also to
// what can be had at the current and temperature. A power at or below them passes Step whole.
func (m Model) Limits(s State, tC, dtH float64) (maxChargeW, maxDischargeW float64) {
	if !sane(tC, dtH) {
		return 0, 0
	}
	var charge, discharge travel
	m.b.solve(&charge, &m.b.charge, s, math.Inf(1), tC, dtH)
	m.b.solve(&discharge, &m.b.discharge, s, math.Inf(1), tC, dtH)
	perH := 1 / dtH
	return m.b.charge.meanW(&charge, perH), m.b.discharge.meanW(&discharge, perH)
}

// Step returns the bank after one step and what happened in it.
//
//	s       the bank at the start; SoC is held to 0..1
//	powerW  mean power at the terminals over the step [W], + charging; beyond the limits it is cut, and Flow says to what and why
//	tC      temperature of the cells [C]
//	dtH     length of the step [h], 1e-9 to 1e6
//
// The current is constant over the step. Energy closes to rounding: see Flow. A power or temperature that is no number, or a step out of
// its range, leaves the bank as it was, with an empty Flow.
func (m Model) Step(s State, powerW, tC, dtH float64) (State, Flow) {
	b := m.b
	c := &b.charge
	want := powerW
	if powerW < 0 {
		c, want = &b.discharge, -powerW
	}
	// The common step is done here: it stays inside one leg and meets no limit. Anything else is left to careful, which a test holds equal.
	if !(want >= least && want <= c.limitW && tC >= c.aboveC && tC <= c.belowC && dtH >= briefly && dtH <= endless && s.SoC > 0 && s.SoC < 1) {
		return b.careful(c, s, powerW, tC, dtH)
	}
	l := &c.legs[c.of[int(s.SoC*bins)]]
	into := (s.SoC - l.soc) * l.ahPerSoC
	v := l.v + l.dv*into
	perH := 1 / dtH
	warm := c.warm(tC)
	ohm := c.fixed + warm.heat*l.ohm
	// want = (c1 + c2 y) y / dt: see the top of travel.go.
	c1 := v + c.sign*c.polV
	c2 := l.dv/2 + c.sign*ohm*perH
	root := c1*c1 + 4*c2*want*dtH
	if !(root > 0) {
		return b.careful(c, s, powerW, tC, dtH)
	}
	y := 2 * want * dtH / (c1 + math.Sqrt(root))
	currentA := y * perH
	end := into + y
	terminalV := c1 + c2*y
	soc := l.soc + end*l.socPerAh
	self := b.selfPerHour * dtH
	back := end - self*l.ahPerSoC
	if !(end < l.ah && l.before+end < c.endAh && back > 0 && back < l.ah && currentA <= c.limitA && soc >= warm.reserve) ||
		max(c.sign*terminalV, c.sign*(c1+l.dv*y)) > c.sign*s.bound(c) {
		return b.careful(c, s, powerW, tC, dtH)
	}
	open := currentA * (v + l.dv*y/2)
	s.SoC = soc - self
	return s, Flow{
		PowerW:            powerW,
		CurrentA:          c.sign * currentA,
		TerminalV:         terminalV,
		ResistiveLossW:    currentA * currentA * ohm,
		PolarisationLossW: currentA * c.polV,
		CoulombicLossW:    open * l.lost,
		StoredW:           c.sign * open * l.eff,
		SelfDischargeW:    self * b.capacityAh * perH * (v + l.dv*((end+back)/2-into)),
	}
}

// careful is Step for every case.
func (b *bank) careful(c *course, s State, powerW, tC, dtH float64) (State, Flow) {
	if !sane(tC, dtH) || math.IsNaN(powerW) {
		return s, Flow{}
	}
	s.SoC = clamp01(s.SoC)
	var f Flow
	var t travel
	perH := 1 / dtH
	if want := math.Abs(powerW); want >= least {
		f.Limit = b.solve(&t, c, s, want, tC, dtH)
		if t.ah > 0 {
			currentA := t.ah * perH
			f.TerminalV = c.meanV(&t, perH)
			f.CurrentA = c.sign * currentA
			f.PowerW = powerW
			if f.Limit != None {
				f.PowerW = f.CurrentA * f.TerminalV
			}
			f.ResistiveLossW = currentA * t.ohmAh * perH
			f.PolarisationLossW = currentA * c.polV
			f.CoulombicLossW = t.lost * perH
			f.StoredW = c.sign * t.store * perH
			s.SoC = clamp01(c.socAt(&t))
			if f.Limit == SoCEnd {
				s.SoC = c.end
			}
		}
	}
	if !(t.ah > 0) {
		f.TerminalV = b.voc(s.SoC)
	}
	if b.selfPerHour > 0 {
		s.SoC, f.SelfDischargeW = b.leak(s.SoC, dtH, perH)
	}
	return s, f
}

// ByVoltage returns the mean power [W] and current [A] over one step, both + charging, that hold the terminals at a mean voltage: the
// step of constant-voltage charging, and the answer of the bank to the voltage of its bus. Both rise with holdV and are zero between the
// rest voltage less and plus polarisation.
//
//	s      the bank at the start; its own ceiling and floor are not looked at
//	holdV  voltage to hold [V], zero or more
//	tC     temperature of the cells [C]
//	dtH    length of the step [h], 1e-9 to 1e6; else both are zero
//
// Current, temperature and state of charge limit it as they do Step, and Step with this power gives this current.
func (m Model) ByVoltage(s State, holdV, tC, dtH float64) (powerW, currentA float64) {
	if !sane(tC, dtH) || !(holdV >= 0) {
		return 0, 0
	}
	b := m.b
	s.CeilingV, s.FloorV = holdV, holdV
	c := &b.charge
	if holdV < b.voc(clamp01(s.SoC)) {
		c = &b.discharge
	}
	var t travel
	b.solve(&t, c, s, math.Inf(1), tC, dtH)
	return c.sign * c.meanW(&t, 1/dtH), c.sign * t.ah / dtH
}

// VoltageAt returns the voltage at the terminals [V] the moment a power is drawn or fed.
//
//	s       the bank; SoC is held to 0..1
//	powerW  at the terminals [W], + charging
//	tC      temperature of the cells [C]
//
// No limit of current, temperature or voltage is looked at: it is what a meter would read if the bank obeyed. A discharge beyond what the
// resistance lets through reads the voltage at that most, half the rest voltage. Without power it is the rest voltage.
func (m Model) VoltageAt(s State, powerW, tC float64) float64 {
	b := m.b
	soc := clamp01(s.SoC)
	c := &b.charge
	if powerW < 0 {
		c = &b.discharge
	}
	k, into := c.place(soc)
	l := &c.legs[k]
	open := l.v + l.dv*into
	want := math.Abs(powerW)
	if !(want >= least) || math.IsInf(want, 1) {
		return open
	}
	ohm := c.fixed + l.ohm*c.warm(tC).heat
	moving := open + c.sign*c.polV
	root := moving*moving + 4*c.sign*ohm*want
	if root <= 0 {
		return moving / 2
	}
	return (moving + math.Sqrt(root)) / 2
}

// sane tells whether a temperature and a step can be worked with.
func sane(tC, dtH float64) bool {
	return dtH >= briefly && dtH <= endless && !math.IsNaN(tC)
}

// solve finds how far a step travels on a course for a wanted power [W], zero or positive, and what held it below that. An endless power
// gives the most that can be had.
func (b *bank) solve(t *travel, c *course, s State, want, tC, dtH float64) Limit {
	t.ah = 0
	if tC < c.aboveC || tC > c.belowC {
		return Temperature
	}
	limit := None
	if want > c.limitW {
		want, limit = c.limitW, Power
	}
	soc := clamp01(s.SoC)
	k, into := c.place(soc)
	warm := c.warm(tC)
	heat, perH := warm.heat, 1/dtH
	most, why := c.left(k, into), SoCEnd
	if byCurrent := c.limitA * dtH; byCurrent < most {
		most, why = byCurrent, Current
	}
	if most <= 0 {
		return why
	}
	if math.IsInf(want, 1) {
		c.run(t, k, into, byAh, most, perH, heat)
		limit = why
		if c.sign < 0 && c.pastPeak(t, perH, heat) {
			c.run(t, k, into, byEnergy, math.MaxFloat64, perH, heat)
			limit = Power
		}
	} else {
		c.run(t, k, into, byEnergy, want*dtH, perH, heat)
		switch {
		case t.ah >= most:
			c.run(t, k, into, byAh, most, perH, heat)
			limit = why
		case t.short:
			limit = Power
		case t.ended:
			limit = SoCEnd
		}
	}
	if c.sign < 0 && soc-t.ah/b.capacityAh < warm.reserve {
		if ah := b.rateAh(soc, t.ah, tC, dtH); ah < t.ah {
			c.run(t, k, into, byAh, ah, perH, heat)
			limit = RateEnd
		}
	}
	bound := s.bound(c)
	if t.ah > 0 && c.sign*(c.meanV(t, perH)-bound) > 0 {
		c.run(t, k, into, byVoltage, bound, perH, heat)
		limit = Voltage
	}
	if t.ah > 0 && c.sign*(c.restV(t)-bound) > 0 {
		c.run(t, k, into, byRest, bound, perH, heat)
		limit = Voltage
	}
	return limit
}

// bound returns the voltage that a course may not pass: the state's own, or the bank's where it names none.
func (s State) bound(c *course) float64 {
	own := s.FloorV
	if c.sign > 0 {
		own = s.CeilingV
	}
	if own > 0 && !c.flat {
		return own
	}
	return c.holdV
}

// meanW returns the mean power at the terminals of a travel [W], zero or positive.
func (c *course) meanW(t *travel, perH float64) float64 {
	if !(t.ah > 0) {
		return 0
	}
	return max(0, c.meanV(t, perH)*t.ah*perH)
}

// leak returns the state of charge after a step of self-discharge, and the power that was lost [W]. It stops at empty.
func (b *bank) leak(soc, dtH, perH float64) (float64, float64) {
	c := &b.discharge
	k, into := c.place(soc)
	self := min(b.selfPerHour*dtH, soc)
	ah, wh := self*b.capacityAh, 0.0
	for {
		l := &c.legs[k]
		y := ah
		if room := l.ah - into; y > room && k < len(c.legs)-1 {
			y = max(0, room)
		}
		wh += y * (l.v + l.dv*(into+y/2))
		ah -= y
		if ah <= 0 || k == len(c.legs)-1 {
			return soc - self, wh * perH
		}
		k++
		into = 0
	}
}

// rateAh returns how many of the given ampere-hours a discharge may take in one step, so that its end still holds what cannot be had at
// this current and temperature: ours, the rate effect and the cold as a floor under the state of charge, so that a discharge at constant
// current from full ends where [PEUKERT] puts it and what was held back can still be had slowly or warm.
//
//	soc   at the start
//	ah    wanted [Ah], zero or positive
func (b *bank) rateAh(soc, ah, tC, dtH float64) float64 {
	share := b.share.at(tC)
	after := func(x float64) float64 { return soc - x/b.capacityAh - 1 }
	had := func(x float64) float64 { return min(1, share*b.rateShare(x/dtH)) }
	if after(ah)+had(ah) >= 0 {
		return ah
	}
	// What is left after x, less what must be left, falls with x. Newton's steps, kept inside the bracket.
	low, high := max(0, min(b.ratedA*dtH, b.capacityAh*(after(0)+had(0)))), ah
	if low <= 0 {
		return 0
	}
	x := low
	for range 60 {
		rate := b.rateShare(x / dtH)
		over := after(x) + min(1, share*rate)
		if over >= 0 {
			low = x
		} else {
			high = x
		}
		slope := 1 / b.capacityAh
		if share*rate < 1 && rate < 1 {
			slope += share * rate * b.exponentLess1 / x
		}
		step := over / slope
		if math.Abs(step) <= 1e-13*x {
			break
		}
		if x += step; !(x > low && x < high) {
			x = (low + high) / 2
		}
	}
	return min(x, ah)
}

// rateShare returns the share of the rated capacity to be had at a current [A]: 1 up to the rated current, and by [PEUKERT] above.
func (b *bank) rateShare(currentA float64) float64 {
	if b.exponentLess1 == 0 || currentA <= b.ratedA {
		return 1
	}
	return math.Pow(b.ratedA/currentA, b.exponentLess1)
}

// SoCAtVoltage returns the state of charge at which a lasting load brings the terminals down to a voltage: where an inverter's or a
// battery's cut-off ends the day. It is 0 where even an empty bank stays above, and 1 where a full one lies below.
//
//	loadW  power drawn at the terminals [W], zero or positive
//	v      cut-off [V]
//	tC     temperature of the cells [C]
//
// Found by halving to 1e-9; the voltage under load rises with charge.
func (m Model) SoCAtVoltage(loadW, v, tC float64) float64 {
	under := func(soc float64) float64 { return m.VoltageAt(State{SoC: soc}, -max(0, loadW), tC) }
	if under(0) >= v {
		return 0
	}
	if !(under(1) > v) {
		return 1
	}
	low, high := 0.0, 1.0
	for high-low > 1e-9 {
		mid := (low + high) / 2
		if under(mid) >= v {
			high = mid
		} else {
			low = mid
		}
	}
	return high
}
