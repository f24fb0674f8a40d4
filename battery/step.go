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
	perH := 1 / dtH
	var t travel
	limit := None
	if want := math.Abs(powerW); want >= least {
		limit = b.solve(&t, c, s, want, tC, dtH)
	}
	if !(t.ah > 0) {
		terminalV := b.voc(s.SoC)
		var leakW float64
		s.SoC, leakW = b.leak(s.SoC, dtH, perH)
		return s, Flow{TerminalV: terminalV, SelfDischargeW: leakW, Limit: limit}
	}
	currentA, terminalV := t.ah*perH, c.meanV(&t, perH)
	if limit != None {
		powerW = c.sign * currentA * terminalV
	}
	s.SoC = clamp01(c.socAt(&t))
	if limit == SoCEnd {
		s.SoC = c.end
	}
	var leakW float64
	s.SoC, leakW = b.leak(s.SoC, dtH, perH)
	return s, Flow{
		PowerW:            powerW,
		CurrentA:          c.sign * currentA,
		TerminalV:         terminalV,
		ResistiveLossW:    currentA * t.ohmAh * perH,
		PolarisationLossW: currentA * c.polV,
		CoulombicLossW:    t.lost * perH,
		StoredW:           c.sign * t.store * perH,
		SelfDischargeW:    leakW,
		Limit:             limit,
	}
}

// sane tells whether a temperature and a step can be worked with.
func sane(tC, dtH float64) bool {
	return dtH >= briefly && dtH <= endless && !math.IsNaN(tC)
}

// leak returns the state of charge after a step of self-discharge, and the power that was lost [W]. It stops at empty.
func (b *bank) leak(soc, dtH, perH float64) (float64, float64) {
	if b.selfPerHour == 0 {
		return soc, 0
	}
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
