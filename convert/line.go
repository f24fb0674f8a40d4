package convert

import "math"

// Link is one piece of the charge line between vehicle and bank: fuse, cable pair, plug.
type Link struct {
	Name   string
	Ohms   float64 // resistance there and back [Ω], 0 to 10
	RatedA float64 // lasting current it may carry, for a fuse its rating [A]; zero: not given
}

// Line is the charge line, a chain of links. Make it with NewLine.
type Line struct {
	links   []Link
	ohms    float64
	weakest int
}

// NewLine checks the links and returns the line, or every fault found. A line without links has no resistance.
func NewLine(links []Link) (Line, error) {
	l := Line{links: append([]Link(nil), links...), weakest: -1}
	var f faults
	for i, k := range l.links {
		f.place = placed("charge line", k.Name)
		f.within("resistance", k.Ohms, 0, 10, "ohm")
		f.optional("rating", k.RatedA, 0.1, 2000, "A")
		l.ohms += k.Ohms
		if k.RatedA > 0 && (l.weakest < 0 || k.RatedA < l.links[l.weakest].RatedA) {
			l.weakest = i
		}
	}
	if err := f.err(); err != nil {
		return Line{}, err
	}
	return l, nil
}

// Ohms returns the resistance of the whole line, there and back [Ω].
func (l Line) Ohms() float64 { return l.ohms }

// Links returns a copy of the links, in order.
func (l Line) Links() []Link { return append([]Link(nil), l.links...) }

// Weakest returns the number of the link with the lowest rating, from zero, and that rating [A]; -1 and Unlimited when no link has one.
func (l Line) Weakest() (link int, ratedA float64) {
	if l.weakest < 0 {
		return -1, Unlimited
	}
	return l.weakest, l.links[l.weakest].RatedA
}

// criticalW returns the most power that a line of loopOhm [Ω] can deliver from sourceV [V], reached with half the voltage lost:
// Vs²/4R [W]; Unlimited without resistance. Source: ours, the vertex of P = (Vs - R·I)·I.
func criticalW(sourceV, loopOhm float64) float64 {
	if loopOhm <= 0 {
		return Unlimited
	}
	return sourceV * sourceV / (4 * loopOhm)
}

// constantPower returns voltage [V] and current [A] at the far end of a line that feeds a constant power, and false when there is no
// such point.
//
//	V = (Vs + √(Vs² - 4·R·P))/2, I = P/V
//
// The upper of the two roots is the one a unit starting from nothing arrives at. Source: ours, from V = Vs - R·I and P = V·I.
func constantPower(sourceV, loopOhm, watts float64) (volts, amps float64, ok bool) {
	if !(sourceV > 0) {
		return 0, 0, watts == 0
	}
	d := sourceV*sourceV - 4*loopOhm*watts
	if d < 0 && d > -1e-12*sourceV*sourceV {
		d = 0 // the critical power itself, off by rounding
	}
	if !(d >= 0) {
		return 0, 0, false
	}
	volts = (sourceV + math.Sqrt(d)) / 2
	return volts, watts / volts, true
}
