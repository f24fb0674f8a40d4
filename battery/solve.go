package battery

import "math"

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
