package trip

import (
	"math"

	"campwright/convert"
	"campwright/system"
)

// feed is what comes in besides the sun during one step, by the course alone.
type feed uint8

const (
	nothing feed = iota
	shore
	generator
)

// schedule is what comes in at each step of a course: engine, shore and generator by the itinerary.
type schedule struct {
	engine []convert.Engine
	feed   []feed
	hooks  []hook // by site, for shore
	gen    []hook // by site, for the generator

	stride  int    // steps in a stride
	strides []bool // by step: a stride may begin here
	fed     bool   // AC comes in at some step
}

// hook is AC that is offered.
type hook struct {
	service convert.Service
	limitA  float64
}

// Hours of the day at which an itinerary's engine and generator hours are put, in minutes: the engine idles in the morning, the generator
// runs so that it ends before quiet hours. Common practice, no source.
const (
	idleFrom = 9 * 60
	genUntil = 21 * 60
)

// newSchedule lays out what comes in along a course.
func newSchedule(sys *system.System, c *Course) *schedule {
	s := &schedule{engine: make([]convert.Engine, c.N), feed: make([]feed, c.N)}
	for i := range c.Sites {
		s.hooks = append(s.hooks, shoreAt(sys, &c.Sites[i]))
		s.gen = append(s.gen, generatorAt(sys, &c.Sites[i]))
	}
	for d := range c.Days {
		day := &c.Days[d]
		site := &c.Sites[day.Site]
		first := d == site.FirstDay
		for i := day.First; i < day.First+day.Steps; i++ {
			minute := int(c.Minute[i])
			since := (i - day.First) * c.StepMin
			switch {
			case first && d > 0 && float64(since) < 60*site.DriveH:
				s.engine[i] = convert.Cruising
				continue // no post and no generator on the road
			case minute >= idleFrom && float64(minute) < idleFrom+60*site.CruiseH:
				s.engine[i] = convert.Cruising
			case minute >= idleFrom && float64(minute) < idleFrom+60*site.IdleH:
				s.engine[i] = convert.Idling
			}
			if s.hooks[day.Site].service.Amps > 0 {
				s.feed[i] = shore
			} else if s.gen[day.Site].service.Amps > 0 && runs(sys, minute, site.RunH) {
				s.feed[i] = generator
			}
		}
	}
	s.mark(c)
	return s
}

// runs tells whether the generator runs at a minute of the civil day: for so many hours, ending in the evening when quiet hours begin,
// never in them.
func runs(sys *system.System, minute int, hours float64) bool {
	quiet := sys.Supply.Quiet
	if hours <= 0 || quiet != nil && quiet(minute) {
		return false
	}
	until := genUntil
	for quiet != nil && until > 0 && quiet(until-1) {
		until--
	}
	return float64(minute) >= float64(until)-60*hours && minute < until
}

// shoreAt returns what a site's hookup offers the rig: the narrower of post and inlet, held to the shore limit.
func shoreAt(sys *system.System, site *Site) hook {
	post, known := convert.ServiceNamed(site.Hookup)
	if !known {
		return hook{}
	}
	narrow, fits := sys.Supply.Inlet.Narrower(post)
	if !sys.Supply.HasInlet || !fits {
		return hook{} // no inlet, or one of another voltage: nothing is fed
	}
	return hook{service: narrow, limitA: sys.Supply.LimitA}
}

// generatorAt returns what the rig's generator offers at a site, in that height and mild air.
func generatorAt(sys *system.System, site *Site) hook {
	g := sys.Supply.Generator
	if g == nil {
		return hook{}
	}
	const volts, mildC = 120, 20
	watts := g.MostW(convert.Air{ElevationM: site.Place.Elevation, AirC: mildC})
	return hook{service: convert.Service{Name: "generator", Volts: volts, Amps: watts / volts, Legs: 1, Continuous: 1}}
}

// hookup is AC shared over one step.
type hookup struct {
	chargeW float64 // chargers into the bus, were all taken
	chargeA float64 // real power the chargers take for it [W]
	makeUpW float64 // AC that the battery adds through the inverter
	served  float64 // share of the AC loads served
	shoreW  float64 // AC loads fed from outside
}

// shareAC shares the AC of one step between loads and chargers. acW is what all loads ask; helps tells whether the battery can make up.
func shareAC(sys *system.System, h hook, acW, busV float64, helps bool) hookup {
	s := &sys.Supply
	var makeUp float64
	if helps && s.MakeUp && len(sys.Inverters) > 0 {
		makeUp = sys.Inverters[0].Unit.Params().RatedW
	}
	half := acW / float64(max(h.service.Legs, 1))
	ask := convert.Hookup{Service: h.service, LimitA: h.limitA, LoadVA: [2]float64{half, 0}, MakeUpVA: [2]float64{makeUp, 0}}
	if h.service.Legs == 2 {
		ask.LoadVA[1], ask.MakeUpVA = half, [2]float64{makeUp / 2, makeUp / 2}
	}
	ask.ChargerVA = s.ChargeVA(busV)
	share := convert.ShareHookup(ask)
	out := hookup{served: 1, makeUpW: share.MakeUpVA[0] + share.MakeUpVA[1]}
	if acW > 0 {
		out.served = 1 - (share.ShedVA[0]+share.ShedVA[1])/acW
	}
	out.shoreW = acW*out.served - out.makeUpW
	if share.ChargerVA > 0 {
		out.chargeW, out.chargeA = s.Charge(busV, share.ChargerVA)
	}
	return out
}

// merit throttles what comes in to what is taken, in the order in which an owner would have it yield: chargers on AC first, then the
// vehicle, the sun last.
func merit(over float64, chargeW, vehicleW *float64) (left float64) {
	cut := math.Min(over, *chargeW)
	*chargeW -= cut
	over -= cut
	cut = math.Min(over, *vehicleW)
	*vehicleW -= cut
	return over - cut
}

// servicesUpTo returns the hookups that a rig with an inlet may meet, weakest first: those of its own voltage.
func servicesUpTo(inlet string) []convert.Service {
	own, known := convert.ServiceNamed(inlet)
	if !known {
		return nil
	}
	var list []convert.Service
	for _, s := range convert.Services() {
		if s.Volts == own.Volts && s.VA() <= own.VA() {
			list = append(list, s)
		}
	}
	return list
}
