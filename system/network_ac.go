package system

import (
	"math"
	"slices"

	"campwright/rig"
)

// This file is the AC side as currents: what each leg carries, and the neutral, in each way the panel is fed. A service of 50 A has two legs of 120 V
// whose currents cancel in the neutral; a generator or inverter that feeds both legs in phase has one current, and all of it comes back there. It is
// arithmetic at nominal voltage, by volt-amperes; unlike power factors on two legs are added as if they were alike, which is on the safe side for a
// leg and within a few per cent for the neutral.

// Range is a number with the ends between which it may lie.
type Range struct{ Low, Nominal, High float64 }

// ACFeed is one way in which the panel is fed.
type ACFeed struct {
	Name    string // "shore", "shore" with the post, "generator", "inverter"
	Words   string
	Split   bool // two legs whose currents cancel in the neutral
	Legs    []ACLeg
	Neutral Range    // its current with everything on [A]; at its high end with one leg on alone
	Untold  []string // what hangs on a leg that the file does not tell
	Left    []string // what cannot run on this feed: 240 V between legs that are in phase
}

// ACLeg is one leg of a feed.
type ACLeg struct {
	Name     string  // "L1", "L2", or "L" where there is one
	On       Range   // with everything on, through the source's breaker [A]
	Hours    Range   // of it, what runs for hours [A]
	MadeUpA  float64 // what the inverter gives beside the source, at nominal [A]
	BreakerA float64 // of a hookup, or what a generator or inverter gives for as long as asked [A]
	LastsA   float64 // what it may give for hours [A]: four fifths of a breaker, all of what a generator or inverter is rated for
}

// legLoad is one user of AC.
type legLoad struct {
	name string
	leg  string // "L1", "L2", "both" or empty
	va   float64
	long bool // runs for hours
	unit bool // a charger of the bank, which can give way
}

// OnShore tells whether an appliance takes AC when the rig is plugged in.
func OnShore(a *rig.Appliance) bool {
	return a.Runs == "ac" || a.Runs == "propane" && (a.TakesAC == "always" || a.TakesAC == "shore only")
}

// onInverter tells whether it takes AC when only the inverter gives any.
func onInverter(a *rig.Appliance) bool {
	return a.Runs == "ac" && a.TakesAC != "shore only" || a.Runs == "propane" && a.TakesAC == "always"
}

// ElementOf returns what an appliance takes on AC: the electric side of one that burns propane too, else its power.
func ElementOf(a *rig.Appliance) rig.Draw {
	if a.Kind == "absorption refrigerator" || a.Kind == "water heater" || a.Electric.Rate.Known() {
		return a.Electric
	}
	return a.Power
}

// lastingH is how long a load must run in a day to count as lasting [h]: NEC article 100, continuous load, three hours.
const lastingH = 3

// Lasting tells whether an appliance on AC runs for hours by itself.
func Lasting(a *rig.Appliance) bool {
	switch a.Kind {
	case "air conditioner", "absorption refrigerator", "compressor refrigerator", "water heater":
		return true
	}
	if a.PerDay.Known() {
		return a.PerDay.Quantity.Base >= lastingH
	}
	return a.On.Word == "always" || a.On.Minutes() >= 60*lastingH
}

// TwoLegs tells whether the rig's panel has two legs.
func (n *Network) TwoLegs() bool { return n.Sys.Supply.HasInlet && n.Sys.Supply.Inlet.Legs == 2 }

// legLoads returns the users of AC on a feed.
func (n *Network) legLoads(takes func(*rig.Appliance) bool, chargers bool) []legLoad {
	var list []legLoad
	volts := outletV(n.Doc.Book)
	for i := range n.Doc.Appliances {
		a := &n.Doc.Appliances[i]
		if take, ok := ACTakeOf(a, n.TwoLegs()); ok && takes(a) {
			list = append(list, legLoad{name: a.Name, leg: told(a.Leg), va: take.VA(volts), long: Lasting(a)})
		}
	}
	if !chargers || n.Doc.Shore == nil {
		return list
	}
	for i := range n.Sys.Supply.Chargers {
		c := &n.Sys.Supply.Chargers[i]
		list = append(list, legLoad{name: "charger " + c.Name, leg: told(n.Doc.Shore.Chargers[i].Leg), va: c.Unit.InputVA(c.Unit.MostW(c.V)), long: true, unit: true})
	}
	return list
}

func told(leg string) string {
	if leg == "unknown" {
		return ""
	}
	return leg
}

// draw is what is asked on one leg [A]: of appliances and of chargers, and of both what stands between leg and neutral.
type draw struct{ loads, chargers, neutral float64 }

// on adds up one leg. share is how much of what nobody told hangs on it.
func on(list []legLoad, leg string, share, volts float64, hours bool) draw {
	var d draw
	for _, l := range list {
		if hours && !l.long {
			continue
		}
		amps, neutral := 0.0, true
		switch l.leg {
		case leg:
			amps = l.va / volts
		case "":
			amps = share * l.va / volts
		case "both":
			amps, neutral = l.va/(2*volts), false
		}
		if l.unit {
			d.chargers += amps
		} else {
			d.loads += amps
		}
		if neutral {
			d.neutral += amps
		}
	}
	return d
}

// all adds everything up as on one leg: a service with one, or two in phase.
func all(list []legLoad, volts float64, hours, phases bool) (d draw, left []string) {
	for _, l := range list {
		switch {
		case phases && l.leg == "both":
			left = append(left, l.name)
		case hours && !l.long:
		case l.unit:
			d.chargers += l.va / volts
		default:
			d.loads += l.va / volts
		}
	}
	d.neutral = d.loads + d.chargers
	return d, left
}

// breakerAfter returns the smallest breaker or fuse in the run that leads from a terminal of the AC side towards the panel [A]; zero where none is.
func (n *Network) breakerAfter(terminal string) float64 {
	least := 0.0
	for i := range n.Runs {
		r := &n.Runs[i]
		if r.From != terminal || r.To != "transfer" && r.To != "ac panel" {
			continue
		}
		for _, d := range r.Devices {
			if q := &n.Devices[d]; q.Protects() && q.RatingA > 0 && (least == 0 || q.RatingA < least) {
				least = q.RatingA
			}
		}
	}
	return least
}

// behind puts a source behind a breaker, which bears four fifths of its rating for hours. [NEC-210] 210.20(A).
func (s *source) behind(breakerA float64) {
	if breakerA <= 0 {
		return
	}
	lasts := math.Min(s.continuous*s.breakerA, breakerShare*breakerA)
	s.breakerA = math.Min(s.breakerA, breakerA)
	s.continuous = lasts / s.breakerA
}

// breakerShare is the share of a breaker that may be drawn for hours. [NEC-210] 210.20(A).
const breakerShare = 0.8

// source is what stands behind a feed.
type source struct {
	name, words string
	split       bool
	breakerA    float64 // each leg
	continuous  float64 // share of it that may be drawn for hours
	limitA      float64 // shore limit that is kept on each leg; zero for none
	makeUpA     [2]float64
	phases      bool // a panel of two legs fed in phase
}

// give returns what a source's leg carries of what is asked, and what the inverter makes up [A]: with a limit chargers give way first, then the bank
// makes up the rest where it can.
func (s *source) give(d draw, leg int) (carried, madeUp float64) {
	if s.limitA <= 0 || d.loads+d.chargers <= s.limitA {
		return d.loads + d.chargers, 0
	}
	if d.loads <= s.limitA {
		return s.limitA, 0
	}
	madeUp = math.Min(d.loads-s.limitA, s.makeUpA[leg])
	return d.loads - madeUp, madeUp
}

// feed works a feed out.
func (s *source) feed(list []legLoad, volts float64) ACFeed {
	f := ACFeed{Name: s.name, Words: s.words, Split: s.split}
	if !s.split {
		most, left := all(list, volts, false, s.phases)
		long, _ := all(list, volts, true, s.phases)
		leg := ACLeg{Name: "L", BreakerA: s.breakerA, LastsA: s.continuous * s.breakerA}
		if s.phases {
			leg.Name = "L1 and L2"
		}
		on, madeUp := s.give(most, 0)
		hours, _ := s.give(long, 0)
		leg.On, leg.Hours, leg.MadeUpA = Range{on, on, on}, Range{hours, hours, hours}, madeUp
		f.Legs, f.Left, f.Neutral = []ACLeg{leg}, left, leg.On
		return f
	}
	for _, l := range list {
		if l.leg == "" {
			f.Untold = append(f.Untold, l.name)
		}
	}
	var ends [3][2]float64 // between leg and neutral, through the source, with none, half and all of what nobody told on the first leg
	for k, leg := range []string{"L1", "L2"} {
		out := ACLeg{Name: leg, BreakerA: s.breakerA, LastsA: s.continuous * s.breakerA}
		for i, share := range []float64{0, 0.5, 1} {
			if k == 1 {
				share = 1 - share
			}
			d := on(list, leg, share, volts, false)
			amps, madeUp := s.give(d, k)
			hours, _ := s.give(on(list, leg, share, volts, true), k)
			if i == 1 {
				out.On.Nominal, out.Hours.Nominal, out.MadeUpA = amps, hours, madeUp
			}
			if i == 0 || amps < out.On.Low {
				out.On.Low = amps
			}
			if i == 0 || hours < out.Hours.Low {
				out.Hours.Low = hours
			}
			out.On.High, out.Hours.High = math.Max(out.On.High, amps), math.Max(out.Hours.High, hours)
			if asked := d.loads + d.chargers; asked > 0 {
				ends[i][k] = d.neutral * amps / asked
			}
		}
		f.Legs = append(f.Legs, out)
	}
	a, b := ends[0][0]-ends[0][1], ends[2][0]-ends[2][1]
	f.Neutral = Range{Low: math.Min(math.Abs(a), math.Abs(b)), Nominal: math.Abs(ends[1][0] - ends[1][1])}
	for _, e := range ends { // one leg on alone has nothing that cancels it
		f.Neutral.High = math.Max(f.Neutral.High, math.Max(e[0], e[1]))
	}
	if a*b < 0 {
		f.Neutral.Low = 0
	}
	return f
}

// ACFeeds returns the currents of the AC side with everything on at once: from shore at the rig's inlet, kept within the shore limit with what the
// battery makes up, and at the widest post that the file names where that is narrower; from the generator; and from the inverter.
func (n *Network) ACFeeds() []ACFeed {
	volts := outletV(n.Doc.Book)
	two := n.TwoLegs()
	var list []ACFeed
	supply := &n.Sys.Supply
	if supply.HasInlet {
		list = append(list, n.shore(supply.Inlet, supply.LimitA).feed(n.legLoads(OnShore, true), supply.Inlet.Volts))
		if post, named := n.post(); named {
			list = append(list, n.shore(post, supply.LimitA).feed(n.legLoads(OnShore, true), supply.Inlet.Volts))
		}
	}
	if g := supply.Generator; g != nil {
		legs := n.Doc.Generators[0].Legs
		s := source{name: "generator", words: "everything on at once, from the generator, at sea level", split: two && legs == "split", phases: two && legs != "split", breakerA: g.Params().RatedW / volts, continuous: 1}
		if s.split {
			s.breakerA /= 2
		}
		s.behind(n.breakerAfter("generator " + n.Doc.Generators[0].Name))
		list = append(list, s.feed(n.legLoads(OnShore, true), volts))
	}
	if len(n.Sys.Inverters) > 0 {
		list = append(list, n.inverterFeed(volts, two))
	}
	return list
}

// inverterFeed is the panel on the inverter alone. One that feeds a single leg leaves the other dark.
func (n *Network) inverterFeed(volts float64, two bool) ACFeed {
	loads := n.legLoads(onInverter, false)
	legs := n.Doc.Inverters[0].Legs
	s := source{name: "inverter", words: "everything on at once, from the inverters", split: two && legs == "split", phases: two && legs != "split", breakerA: n.ratedACW() / volts, continuous: 1}
	if s.split {
		s.breakerA /= 2
	}
	if len(n.Sys.Inverters) == 1 {
		s.behind(n.breakerAfter("inverter " + n.Sys.Inverters[0].Name + " ac"))
	}
	var dark []string
	if two && (legs == "L1" || legs == "L2") {
		s.phases = false
		loads = slices.DeleteFunc(loads, func(l legLoad) bool {
			off := l.leg != "" && l.leg != legs
			if off {
				dark = append(dark, l.name)
			}
			return off
		})
	}
	f := s.feed(loads, volts)
	if two && (legs == "L1" || legs == "L2") {
		f.Legs[0].Name = legs
		for _, l := range loads {
			if l.leg == "" {
				f.Untold = append(f.Untold, l.name)
			}
		}
		if len(f.Untold) > 0 {
			told, _ := all(slices.DeleteFunc(slices.Clone(loads), func(l legLoad) bool { return l.leg == "" }), volts, false, false)
			long, _ := all(slices.DeleteFunc(slices.Clone(loads), func(l legLoad) bool { return l.leg == "" }), volts, true, false)
			f.Legs[0].On.Low, f.Legs[0].Hours.Low, f.Neutral.Low = told.loads, long.loads, told.loads
		}
	}
	f.Left = append(f.Left, dark...)
	return f
}

// ForHours tells how a leg stands: over for hours whatever hangs where, over only where what nobody told hangs on it, or over its breaker while
// everything is on at once. cordA is what a conductor of its cord may carry [A], zero for none.
func (l *ACLeg) ForHours(cordA float64) (over, may, atOnce bool) {
	limit := l.LastsA
	if cordA > 0 {
		limit = math.Min(limit, cordA)
	}
	return l.Hours.Low > limit, l.Hours.High > limit, l.On.Nominal > l.BreakerA
}
