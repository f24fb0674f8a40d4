package battery

import "math"

// A step is one constant current along the curve. With x ampere-hours moved at the terminals in a time dt, all zero or positive, and s
// the sign of travel (+1 charging, -1 discharging):
//
//	W(x) = M(x) + s (h x + x/dt B(x))     energy at the terminals
//	M(x) = integral of the open-circuit voltage over x
//	B(x) = integral of the resistance over x, so that x/dt B is current squared times resistance times time
//	h    = polarisation voltage
//
// On one leg, with y ampere-hours travelled in it and D before it, M is quadratic in y and B is linear, so W is quadratic in y: ours,
// exact, no iteration inside a leg. W, the mean voltage W/x and the current all rise with x when charging; when discharging W rises up
// to the most that the resistance lets through, and the mean voltage falls.

// travel is how far a step goes, with the integrals of what it passed.
type travel struct {
	k     int     // leg in which it ends
	into  float64 // ampere-hours travelled in that leg, from its start
	ah    float64 // x, ampere-hours at the terminals
	open  float64 // M, Wh at open-circuit voltage
	store float64 // what of M enters or leaves the store, Wh
	lost  float64 // what of M makes gas or heat, Wh
	ohmAh float64 // B, ohm-ampere-hours
	ended bool    // the curve ended first
	short bool    // the energy aimed at is more than the resistance lets through
}

// aim is what a travel stops at.
type aim uint8

const (
	byAh      aim = iota // x reaches goal [Ah]
	byEnergy             // W(x) reaches goal [Wh], or the most that can be had
	byVoltage            // W(x)/x, the mean voltage at the terminals, reaches goal [V]
	byRest               // the open-circuit voltage at the end, with polarisation, reaches goal [V]
)

// run moves from a point of the curve until the aim is reached or the curve ends.
//
//	k, into  where it starts: the leg, and the ampere-hours travelled in it
//	goal     as the aim says, zero or positive
//	perH     one over the step [1/h], above zero
//	heat     factor on the resistance of the cells
func (c *course) run(t *travel, k int, into float64, what aim, goal, perH, heat float64) {
	*t = travel{}
	for {
		l := &c.legs[k]
		room := l.ah - into
		v := l.v + l.dv*into
		ohm := c.fixed + heat*l.ohm
		y := goal - t.ah
		switch what {
		case byEnergy:
			y, t.short = c.toEnergy(t, goal, perH, v, l.dv, ohm, room)
		case byVoltage:
			y = c.toVoltage(t, goal, perH, v, l.dv, ohm)
		case byRest:
			y = max(0, c.sign*(goal-v)-c.polV) / max(c.sign*l.dv, 1e-12)
		}
		last := y <= room || k == len(c.legs)-1
		if last {
			t.ended = y > room
			y = max(0, min(y, max(0, room)))
		} else {
			y = max(0, room)
		}
		open := y * (v + l.dv*y/2)
		t.ah += y
		t.open += open
		t.store += open * l.eff
		t.lost += open * l.lost
		t.ohmAh += y * ohm
		if last {
			t.k, t.into = k, into+y
			return
		}
		k++
		into = 0
	}
}

// toEnergy returns the ampere-hours into the present leg at which the energy at the terminals reaches goal, after the travel so far; they
// may lie beyond the leg. The leg begins at v volts, changes by dv for each ampere-hour, has ohm of resistance and room ampere-hours. When
// the resistance does not let so much through, it returns those that bring the most, and true.
func (c *course) toEnergy(t *travel, goal, perH, v, dv, ohm, room float64) (float64, bool) {
	s := c.sign
	// W = c0 + c1 y + c2 y^2
	c2 := dv/2 + s*ohm*perH
	c1 := v + s*(c.polV+(t.ohmAh+ohm*t.ah)*perH)
	rest := goal - t.open - s*t.ah*(c.polV+t.ohmAh*perH)
	if rest > (c1+c2*room)*room && c1+2*c2*room > 0 {
		return room + 1, false // beyond, and still rising: no need to know where
	}
	root := c1*c1 + 4*c2*rest
	if root < 0 || c1 <= 0 {
		return max(0, -c1/(2*c2)), true
	}
	return 2 * rest / (c1 + math.Sqrt(root)), false
}

// toVoltage is toEnergy for the mean voltage at the terminals.
func (c *course) toVoltage(t *travel, goal, perH, v, dv, ohm float64) float64 {
	s := c.sign
	// Mean voltage times ampere-hours: c0 + c1 y + c2 y^2 = goal (ah + y), turned so that c2 is positive.
	c2 := s*dv/2 + ohm*perH
	c1 := s*(goal-v) - c.polV - (t.ohmAh+ohm*t.ah)*perH
	rest := s*(goal*t.ah-t.open) - t.ah*(c.polV+t.ohmAh*perH)
	if !(c2 > 0) {
		if c1 > 0 {
			return math.Inf(1)
		}
		return 0
	}
	return max(0, (c1+math.Sqrt(max(0, c1*c1+4*c2*rest)))/(2*c2))
}

// socAt returns the state of charge at which a travel ended.
func (c *course) socAt(t *travel) float64 {
	l := &c.legs[t.k]
	return l.soc + t.into*l.socPerAh
}

// left returns the ampere-hours of travel from a point of the curve to the end of the course, zero or positive.
func (c *course) left(k int, into float64) float64 {
	return max(0, c.endAh-c.legs[k].before-into)
}

// restV returns the open-circuit voltage at the end of a travel, with polarisation: what the terminals fall back to as the current dies.
func (c *course) restV(t *travel) float64 {
	l := &c.legs[t.k]
	return l.v + l.dv*t.into + c.sign*c.polV
}

// meanV returns the mean voltage at the terminals over a travel that moved something.
func (c *course) meanV(t *travel, perH float64) float64 {
	return t.open/t.ah + c.sign*(c.polV+t.ohmAh*perH)
}

// pastPeak tells whether more current would bring less energy at the terminals at the end of a travel: only when discharging.
func (c *course) pastPeak(t *travel, perH, heat float64) bool {
	l := &c.legs[t.k]
	slope := l.v + l.dv*t.into + c.sign*(c.polV+(t.ohmAh+t.ah*(c.fixed+heat*l.ohm))*perH)
	return slope < 0
}
