package convert

// Service is what a pedestal or house outlet offers: one or two legs of one voltage behind one breaker.
type Service struct {
	Name       string  // as the rig file writes it
	Volts      float64 // each leg to neutral [V]
	Amps       float64 // of the breaker, each leg [A]
	Legs       int     // 1 or 2
	Continuous float64 // share of the breaker that may be drawn for hours [1]
	Plug       string  // plug pattern
}

// continuousShare is the share of a breaker's rating that a load lasting three hours or more may use. [NEC-210] 210.20(A), as 210.19(A)
// for the conductors, ask for 125 % of the continuous load, of which 0.8 is the inverse. Outside North America no such rule is known to
// us; it is kept there for the warm and worn sockets of posts, as common practice, no source.
const continuousShare = 0.8

// Services returns every service known, in the order of the rig file. The 50 A service has two legs of 120 V, each behind 50 A.
// Source: receptacle ratings of [NEC-210] 551.71, IEC 60309 plugs; from memory, checked against a table made from memory too.
func Services() []Service {
	return []Service{
		{Name: "15 A", Volts: 120, Amps: 15, Legs: 1, Continuous: continuousShare, Plug: "NEMA 5-15"},
		{Name: "20 A", Volts: 120, Amps: 20, Legs: 1, Continuous: continuousShare, Plug: "NEMA 5-20"},
		{Name: "30 A", Volts: 120, Amps: 30, Legs: 1, Continuous: continuousShare, Plug: "NEMA TT-30"},
		{Name: "50 A", Volts: 120, Amps: 50, Legs: 2, Continuous: continuousShare, Plug: "NEMA 14-50"},
		{Name: "6 A 230 V", Volts: 230, Amps: 6, Legs: 1, Continuous: continuousShare, Plug: "IEC 60309 16 A"},
		{Name: "10 A 230 V", Volts: 230, Amps: 10, Legs: 1, Continuous: continuousShare, Plug: "IEC 60309 16 A"},
		{Name: "16 A 230 V", Volts: 230, Amps: 16, Legs: 1, Continuous: continuousShare, Plug: "IEC 60309 16 A"},
	}
}

// ServiceNamed returns the service that the rig file writes so, and false for a word that is none.
func ServiceNamed(name string) (Service, bool) {
	for _, s := range Services() {
		if s.Name == name {
			return s, true
		}
	}
	return Service{}, false
}

// VA returns what the breakers of all legs carry together [VA].
func (s Service) VA() float64 { return s.Volts * s.Amps * float64(s.Legs) }

// ContinuousVA returns what may be drawn for hours on all legs together [VA].
func (s Service) ContinuousVA() float64 { return s.VA() * s.Continuous }

// Narrower returns the service that is left when a rig's inlet is joined by adapters to a post: the smaller breaker, the fewer legs.
// Voltages must agree; it returns false when they do not.
func (s Service) Narrower(post Service) (Service, bool) {
	if s.Volts != post.Volts {
		return Service{}, false
	}
	out := s
	if post.Amps < s.Amps {
		out = post
	}
	out.Legs = min(s.Legs, post.Legs)
	return out, true
}

// Hookup is a rig on a service over one step, each leg for itself, in volt-amperes added as if all loads had one power factor: a sum
// that is never too small.
type Hookup struct {
	Service    Service
	LimitA     float64    // shore limit that the inverter/charger keeps on each leg [A]; zero: the service's continuous share
	LoadVA     [2]float64 // loads of each leg [VA]; with one leg, both are fed from it, as an adapter does
	ChargerVA  float64    // what the charger would like [VA]
	ChargerLeg int        // the leg that feeds it, 0 or 1; anything else counts as 0
	MakeUpVA   [2]float64 // the most the battery can add on each leg through the inverter [VA]; zero: no make-up there
}

// HookupShare is how a hookup is shared. On each leg load + charger = shore + make-up + shed.
type HookupShare struct {
	LimitVA        float64    // kept on each leg
	ShoreVA        [2]float64 // drawn from the service
	ChargerVA      float64    // what the charger gets
	MakeUpVA       [2]float64 // what the battery adds through the inverter
	ShedVA         [2]float64 // what is not served: to be switched off, or the breaker opens
	OverContinuous bool       // a leg draws more than the continuous share, because the limit is set above it
}

// ShareHookup shares a service between loads and charger. Loads come first; the charger yields first and gets what they leave below the
// limit; above the limit the battery makes up the rest where it can; what is left is shed. A limit above the breaker counts as the
// breaker. Loads below zero or no number count as zero. Source: common practice, no source.
func ShareHookup(h Hookup) HookupShare {
	s := h.Service
	out := HookupShare{LimitVA: s.Volts * s.Amps * s.Continuous}
	if l := positive(h.LimitA); l > 0 {
		out.LimitVA = s.Volts * min(l, s.Amps)
	}
	loads, makeUp, chargerLeg := h.LoadVA, h.MakeUpVA, h.ChargerLeg
	if chargerLeg != 1 {
		chargerLeg = 0
	}
	if s.Legs < 2 {
		loads = [2]float64{positive(loads[0]) + positive(loads[1]), 0}
		makeUp = [2]float64{positive(makeUp[0]) + positive(makeUp[1]), 0}
		chargerLeg = 0
	}
	for leg := range min(max(s.Legs, 0), 2) {
		load := positive(loads[leg])
		fromShore := min(load, out.LimitVA)
		above := load - fromShore
		out.MakeUpVA[leg] = min(above, positive(makeUp[leg]))
		out.ShedVA[leg] = above - out.MakeUpVA[leg]
		out.ShoreVA[leg] = fromShore
		if leg == chargerLeg {
			out.ChargerVA = min(positive(h.ChargerVA), out.LimitVA-fromShore)
			out.ShoreVA[leg] += out.ChargerVA
		}
		if out.ShoreVA[leg] > s.Volts*s.Amps*s.Continuous*(1+1e-12) {
			out.OverContinuous = true
		}
	}
	return out
}

// Cord is a cord from post to inlet, or any feeder seen as one resistance.
type Cord struct {
	PostV   float64 // voltage at the post [V]
	LoopOhm float64 // resistance there and back [Ω]; reactance is left out, small up to 50 A and 60 Hz
}

// InletV returns the voltage at the inlet [V] while amps [A] are drawn, not below zero. Source: Ohm's law.
func (c Cord) InletV(amps float64) float64 {
	return max(0, positive(c.PostV)-positive(amps)*positive(c.LoopOhm))
}

// InletAt returns voltage [V] and current [A] at the inlet when the loads there draw watts [W] whatever the voltage, as motors under load
// and electronic supplies do, and false when the cord cannot carry that power at all. Source: ours, as SolveLine.
func (c Cord) InletAt(watts float64) (volts, amps float64, ok bool) {
	return constantPower(positive(c.PostV), positive(c.LoopOhm), positive(watts))
}
