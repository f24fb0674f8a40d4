package battery

import "math"

// least is the power [W] below which a step is taken as rest, so that no division meets a vanishing current.
const least = 1e-9

// Limits returns the largest powers at the terminals that the bank can take and give over one step [W], both zero or positive.
//
//	s    the bank at the start of the step; SoC is held to 0..1
//	tC   temperature of the cells [C]
//	dtH  length of the step [h], above zero; else both are zero
//
// They keep to the current limits, the windows of temperature, the mean voltage over the step not above the ceiling or below the floor
// of the state, and the state of charge inside its ends at the end of the step; for lead-acid also to what can be had at the current and
// temperature. A power at or below them passes Step whole.
func (m Model) Limits(s State, tC, dtH float64) (maxChargeW, maxDischargeW float64) {
	if !sane(tC, dtH) {
		return 0, 0
	}
	charge, _ := m.b.solve(&m.b.charge, s, math.Inf(1), tC, dtH)
	discharge, _ := m.b.solve(&m.b.discharge, s, math.Inf(1), tC, dtH)
	return m.b.charge.meanW(&charge, dtH), m.b.discharge.meanW(&discharge, dtH)
}

// Step returns the bank after one step and what happened in it.
//
//	s       the bank at the start; SoC is held to 0..1
//	powerW  mean power at the terminals over the step [W], + charging; beyond the limits it is cut, and Flow says to what and why
//	tC      temperature of the cells [C]
//	dtH     length of the step [h], above zero
//
// The current is constant over the step. Energy closes to rounding: see Flow. A power, temperature or step that is no number, an endless
// step, or one not above zero, leaves the bank as it was, with an empty Flow.
func (m Model) Step(s State, powerW, tC, dtH float64) (State, Flow) {
	if !sane(tC, dtH) || math.IsNaN(powerW) {
		return s, Flow{}
	}
	b := m.b
	s.SoC = clamp01(s.SoC)
	c := &b.charge
	if powerW < 0 {
		c = &b.discharge
	}
	var f Flow
	want := math.Abs(powerW)
	if want < least {
		f.TerminalV = m.Voc(s.SoC)
	} else {
		var t travel
		t, f.Limit = b.solve(c, s, want, tC, dtH)
		if t.ah > 0 {
			f.TerminalV = c.meanV(&t, dtH)
			f.CurrentA = c.sign * t.ah / dtH
			f.PowerW = powerW
			if f.Limit != None {
				f.PowerW = f.CurrentA * f.TerminalV
			}
			f.ResistiveLossW = t.ah * t.ohmAh / (dtH * dtH)
			f.PolarisationLossW = c.polV * t.ah / dtH
			f.CoulombicLossW = t.lost / dtH
			f.StoredW = c.sign * t.store / dtH
			s.SoC = clamp01(c.socAt(&t))
			if f.Limit == SoCEnd {
				s.SoC = c.end
			}
		} else {
			f.TerminalV = m.Voc(s.SoC)
		}
	}
	if b.selfPerHour > 0 {
		s.SoC, f.SelfDischargeW = b.leak(s.SoC, dtH)
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
//	dtH    length of the step [h], above zero; else both are zero
//
// Current, temperature and state of charge limit it as they do Step, and Step with this power gives this current.
func (m Model) ByVoltage(s State, holdV, tC, dtH float64) (powerW, currentA float64) {
	if !sane(tC, dtH) || !(holdV >= 0) {
		return 0, 0
	}
	b := m.b
	s.CeilingV, s.FloorV = holdV, holdV
	c := &b.charge
	if holdV < m.Voc(clamp01(s.SoC)) {
		c = &b.discharge
	}
	t, _ := b.solve(c, s, math.Inf(1), tC, dtH)
	return c.sign * c.meanW(&t, dtH), c.sign * t.ah / dtH
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
	ohm := c.fixed + l.ohm*c.warming.at(tC)
	moving := open + c.sign*c.polV
	root := moving*moving + 4*c.sign*ohm*want
	if root <= 0 {
		return moving / 2
	}
	return (moving + math.Sqrt(root)) / 2
}

// sane tells whether a temperature and a step can be worked with.
func sane(tC, dtH float64) bool {
	return dtH > 0 && !math.IsInf(dtH, 1) && !math.IsNaN(tC)
}

// solve finds how far a step travels on a course for a wanted power [W], zero or positive, and what held it below that. An endless power
// gives the most that can be had.
func (b *bank) solve(c *course, s State, want, tC, dtH float64) (travel, Limit) {
	if tC < c.aboveC || tC > c.belowC {
		return travel{}, Temperature
	}
	limit := None
	if want > c.limitW {
		want, limit = c.limitW, Power
	}
	soc := clamp01(s.SoC)
	k, into := c.place(soc)
	heat := c.warming.at(tC)
	most, why := c.left(k, into), SoCEnd
	if byCurrent := c.limitA * dtH; byCurrent < most {
		most, why = byCurrent, Current
	}
	if most <= 0 {
		return travel{}, why
	}
	var t travel
	if math.IsInf(want, 1) {
		t, limit = c.run(k, into, byAh, most, dtH, heat), why
		if c.sign < 0 && c.pastPeak(&t, dtH, heat) {
			t, limit = c.run(k, into, byEnergy, math.MaxFloat64, dtH, heat), Power
		}
	} else {
		t = c.run(k, into, byEnergy, want*dtH, dtH, heat)
		switch {
		case t.ah >= most:
			t, limit = c.run(k, into, byAh, most, dtH, heat), why
		case t.short:
			limit = Power
		case t.ended:
			limit = SoCEnd
		}
	}
	if c.sign < 0 {
		if ah := b.rateAh(soc, t.ah, tC, dtH); ah < t.ah {
			t, limit = c.run(k, into, byAh, ah, dtH, heat), RateEnd
		}
	}
	if bound := s.bound(c); t.ah > 0 && c.sign*(c.meanV(&t, dtH)-bound) > 0 {
		t, limit = c.run(k, into, byVoltage, bound, dtH, heat), Voltage
	}
	return t, limit
}

// bound returns the voltage that a course may not pass: the state's own, or the bank's where it names none.
func (s State) bound(c *course) float64 {
	own := s.FloorV
	if c.sign > 0 {
		own = s.CeilingV
	}
	if own > 0 {
		return own
	}
	return c.holdV
}

// meanW returns the mean power at the terminals of a travel [W], zero or positive.
func (c *course) meanW(t *travel, dtH float64) float64 {
	if !(t.ah > 0) {
		return 0
	}
	return math.Max(0, c.meanV(t, dtH)*t.ah/dtH)
}

// leak returns the state of charge after a step of self-discharge, and the power that was lost [W]. It stops at empty.
func (b *bank) leak(soc, dtH float64) (float64, float64) {
	c := &b.discharge
	k, into := c.place(soc)
	ah := math.Min(b.selfPerHour*dtH*b.capacityAh, soc*b.capacityAh)
	after := math.Max(0, soc-ah/b.capacityAh)
	wh := 0.0
	for {
		l := &c.legs[k]
		y := ah
		if room := l.ah - into; y > room && k < len(c.legs)-1 {
			y = math.Max(0, room)
		}
		wh += y * (l.v + l.dv*(into+y/2))
		ah -= y
		if ah <= 0 || k == len(c.legs)-1 {
			return after, wh / dtH
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
	if share >= 1 && b.exponentLess1 == 0 || ah <= 0 {
		return ah
	}
	after := func(x float64) float64 { return soc - x/b.capacityAh - 1 }
	if after(ah)+math.Min(1, share*b.leastShare) >= 0 {
		return ah
	}
	had := func(x float64) float64 { return math.Min(1, share*b.rateShare(x/dtH)) }
	if after(ah)+had(ah) >= 0 {
		return ah
	}
	// What is left after x, less what must be left, falls with x. Newton's steps, kept inside the bracket.
	low, high := math.Max(0, math.Min(b.ratedA*dtH, b.capacityAh*(after(0)+had(0)))), ah
	if low <= 0 {
		return 0
	}
	x := low
	for range 60 {
		rate := b.rateShare(x / dtH)
		over := after(x) + math.Min(1, share*rate)
		if over >= 0 {
			low = x
		} else {
			high = x
		}
		slope := 1 / b.capacityAh
		if share*rate < 1 && rate < 1 {
			slope += share * rate * b.exponentLess1 / x
		}
		next := x + over/slope
		if !(next > low && next < high) {
			if math.Abs(next-x) <= 1e-12*x || high-low <= 1e-12*high {
				break
			}
			next = (low + high) / 2
		}
		if math.Abs(next-x) <= 1e-12*x {
			break
		}
		x = next
	}
	return math.Min(low, ah)
}

// rateShare returns the share of the rated capacity to be had at a current [A]: 1 up to the rated current, and by [PEUKERT] above.
func (b *bank) rateShare(currentA float64) float64 {
	if b.exponentLess1 == 0 || currentA <= b.ratedA {
		return 1
	}
	return math.Pow(b.ratedA/currentA, b.exponentLess1)
}
