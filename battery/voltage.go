package battery

import "math"

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
	if ah, easy := c.easyHold(s.SoC, holdV, tC, dtH); easy {
		return c.sign * holdV * ah / dtH, c.sign * ah / dtH
	}
	return b.holdCarefully(c, s, tC, dtH)
}

// easyHold returns the ampere-hours of travel in a step that holds the terminals at a mean voltage, where the step stays inside one leg and meets no
// limit; false where it might not.
func (c *course) easyHold(soc, holdV, tC, dtH float64) (ah float64, easy bool) {
	if !(soc > 0 && soc < 1 && tC >= c.aboveC && tC <= c.belowC) || c.flat {
		return 0, false
	}
	l := &c.legs[c.of[int(soc*bins)]]
	into := (soc - l.soc) * l.ahPerSoC
	v := l.v + l.dv*into
	warm := c.warm(tC)
	perH := 1 / dtH
	ohm := c.fixed + warm.heat*l.ohm
	ah = c.toVoltage(&travel{}, holdV, perH, v, l.dv, ohm)
	end := into + ah
	if c.sign < 0 && v+l.dv*ah-c.polV-2*ah*perH*ohm < 0 {
		return 0, false // past the most that the resistance lets through
	}
	if !(end < l.ah && l.before+end < c.endAh && ah*perH <= c.limitA && holdV*ah*perH <= c.limitW && l.soc+end*l.socPerAh >= warm.reserve) ||
		c.sign*(v+l.dv*ah-holdV)+c.polV > 0 {
		return 0, ah == 0
	}
	return ah, true
}

// holdCarefully is ByVoltage for every case.
func (b *bank) holdCarefully(c *course, s State, tC, dtH float64) (powerW, currentA float64) {
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
