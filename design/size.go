package design

import (
	"errors"
	"fmt"
	"math"

	"campwright/conductor"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// ask is a run to be proposed.
type ask struct {
	name     string
	from, to string // terminals; a sign on either makes it one conductor
	lasting  float64
	share    float64 // of the circuit's voltage that may be lost in it, there and back
	fuse     float64 // of the device before it; zero for none to be chosen here
	least    conductor.Gauge
	route    string
	devices  []rig.Device
	dropA    float64 // current for the drop, lasting where zero
	reason   string  // of the current, in words
}

// Conductor temperature at which drops are judged [°C].
const dropC = 75

// Sizes that the trade does not stock everywhere, so that a proposal takes the next thicker. Common practice, no source.
var seldomAWG = map[int]bool{3: true, 1: true, -2: true}

func seldom(g conductor.Gauge) bool {
	n, ok := g.Number()
	return ok && seldomAWG[n]
}

// thinnest is the thinnest conductor that a proposal uses, so that it bears being pulled and crimped. Common practice, no source.
func (p *plan) thinnest() conductor.Gauge {
	var g conductor.Gauge
	if p.sizes == conductor.Metric {
		g, _ = conductor.OfMetric(2.5)
	} else {
		g, _ = conductor.OfAWG(14)
	}
	return g
}

// side tells by which table a run between terminals is judged.
func (p *plan) side(from, to rig.Terminal) conductor.Side {
	for _, t := range []rig.Terminal{from, to} {
		switch {
		case t.Mains():
			return conductor.Mains
		case t.Part == "array" || t.Part == "combiner" || t.Port == "pv":
			return conductor.Photovoltaic
		case t.Part == "vehicle" || t.Port == "in":
			return conductor.Vehicle
		}
	}
	return conductor.Battery
}

// surroundings returns how a run between two terminals is judged, as the network will judge it once it is written.
func (p *plan) surroundings(side conductor.Side, from, to, route string) conductor.Use {
	u := conductor.Use{Book: p.book, Side: side, InsulationC: 105, AmbientC: system.InsideAirC, Together: 2, TerminalC: 75}
	if side == conductor.Mains || side == conductor.Photovoltaic || p.book == conductor.USBuilding {
		u.InsulationC = 90
	}
	u.EngineSpace, u.SunlitRoof = route == "engine bay", route == "roof"
	if side == conductor.Photovoltaic && route == "" {
		u.AmbientC = system.RoofAirC
	}
	hot, known := math.Inf(-1), false
	for _, text := range []string{from, to} {
		if t, err := p.work.Terminal(text); err == nil {
			if c, ok := system.BayHottest(&p.work, t); ok {
				hot, known = math.Max(hot, c), true
			}
		}
	}
	if known {
		u.AmbientC = hot
	}
	return u
}

// terminal reads a terminal of our own making.
func (p *plan) terminal(text string) rig.Terminal {
	t, err := p.work.Terminal(text)
	if err != nil {
		panic("design: internal error: " + err.Error())
	}
	return t
}

// run sizes a run and adds it to the wiring. It returns the size and whether there is one.
func (p *plan) run(a ask) (conductor.Gauge, bool) {
	p.refresh()
	from, to := p.terminal(a.from), p.terminal(a.to)
	length := p.trade(system.RunLength(&p.work, from, to))
	w := rig.Wire{Name: a.name, From: a.from, To: a.to, Route: a.route, Devices: a.devices, Length: p.guessed(length)}
	side := p.side(from, to)
	n := p.need(a, side, length)
	path := "wiring/runs/" + a.name
	g, choice, ok := p.size(n, a, path, w.Length)
	if !ok {
		return g, false
	}
	w.Gauge = gaugeValue(g)
	p.w.Runs = append(p.w.Runs, w)
	p.choices = append(p.choices, choice)
	p.sized = append(p.sized, sized{run: len(p.w.Runs) - 1, gauge: g, side: side, choice: len(p.choices) - 1, rating: a.fuse})
	return g, true
}

// unsizable lays a run for which no single cable does, its size not known, so that what hangs on it is not left in the air. Why none does stands
// among the problems.
func (p *plan) unsizable(a ask) {
	p.refresh()
	length := p.trade(system.RunLength(&p.work, p.terminal(a.from), p.terminal(a.to)))
	w := rig.Wire{Name: a.name, From: a.from, To: a.to, Route: a.route, Devices: a.devices, Length: p.guessed(length)}
	w.Gauge.State = figure.Unknown
	p.w.Runs = append(p.w.Runs, w)
}

// need is what a run has to do.
func (p *plan) need(a ask, side conductor.Side, length rig.Value) conductor.Need {
	n := conductor.Need{
		Use: p.surroundings(side, a.from, a.to, a.route), System: p.sizes, Lasting: a.lasting, Fuse: a.fuse, OneWayM: math.Max(length.Quantity.Base, 0.05),
		Volts: p.net.BankV, DropAmps: a.lasting, DropShare: a.share, DropC: dropC,
	}
	if a.dropA > 0 {
		n.DropAmps = a.dropA
	}
	switch side {
	case conductor.Mains:
		n.Volts = p.mainsV()
	case conductor.Vehicle:
		n.Volts = 13
	}
	return n
}

// size finds the size for a need at its likely length, and at both ends of a guessed one.
func (p *plan) size(n conductor.Need, a ask, path string, length rig.Value) (conductor.Gauge, Choice, bool) {
	c, err := conductor.Size(n)
	if err != nil {
		p.problem("%s: %s", a.name, noSize(n, c, err))
		return conductor.Gauge{}, Choice{}, false
	}
	g := p.stocked(c.Gauge, a.least)
	out := Choice{Path: path, Part: a.name, Chosen: g.String(), Final: true, Book: c.Rating.Origin.String()}
	out.Why, out.Relax = p.reasons(n, c, g, a, length)
	if length.State == figure.About && length.High > length.Low {
		at := func(m float64) string {
			n := n
			n.OneWayM = math.Max(m, 0.05)
			if c, err := conductor.Size(n); err == nil {
				return p.stocked(c.Gauge, a.least).String()
			}
			return "no single size"
		}
		out.Short, out.Long = at(length.Low), at(length.High)
		out.Final = out.Short == out.Long
	}
	return g, out, true
}

// noSize tells why no size does, and what would help.
func noSize(n conductor.Need, c conductor.Choice, err error) string {
	if !errors.Is(err, conductor.ErrNoSize) || len(c.Thinner) == 0 {
		return err.Error()
	}
	last := c.Thinner[len(c.Thinner)-1]
	text := fmt.Sprintf("no single cable does: %s", limitText(n, last))
	if n.Volts < 20 {
		text += "; a bank of twice the voltage halves the current"
	}
	return text
}

// stocked returns the size to buy: not below what is asked for, and one that is stocked.
func (p *plan) stocked(g, least conductor.Gauge) conductor.Gauge {
	if t := p.thinnest(); g.Section() < t.Section() {
		g = t
	}
	if least.Valid() && g.Section() < least.Section() {
		g = least
	}
	if !seldom(g) {
		return g
	}
	for _, next := range conductor.Gauges(g.System()) {
		if next.Section() > g.Section() && !seldom(next) {
			return next
		}
	}
	return g
}

// limitText tells what stands against a size.
func limitText(n conductor.Need, t conductor.Trial) string {
	switch t.Against {
	case conductor.ByAmpacity:
		return fmt.Sprintf("%s may carry %.0f A, and %.0f A flow for hours", t.Gauge, t.Rating.Amps, n.Lasting)
	case conductor.ByFuse:
		return fmt.Sprintf("%s may stand behind at most %.0f A, and its fuse is %.0f A", t.Gauge, math.Floor(t.Limit.Amps), n.Fuse)
	case conductor.ByDrop:
		return fmt.Sprintf("%s would lose %.1f %% at %.0f A, and its part of the allowance is %.1f %%", t.Gauge, 100*t.DropShare, n.DropAmps, 100*n.DropShare)
	}
	return fmt.Sprintf("the book's table has no value for %s", t.Gauge)
}

// reasons tells the limit that forced a size and what relaxing it would allow.
func (p *plan) reasons(n conductor.Need, c conductor.Choice, g conductor.Gauge, a ask, length rig.Value) (why, relax string) {
	if len(c.Thinner) == 0 {
		why = "the thinnest of all sizes would do"
	} else {
		t := c.Thinner[len(c.Thinner)-1]
		why = limitText(n, t)
		switch t.Against {
		case conductor.ByAmpacity:
			relax = fmt.Sprintf("with at most %.0f A, %s would do", t.Rating.Amps, t.Gauge)
		case conductor.ByFuse:
			relax = fmt.Sprintf("with a fuse of at most %.0f A, %s would do", math.Floor(t.Limit.Amps), t.Gauge)
		case conductor.ByDrop:
			if m := n.OneWayM * n.DropShare / t.DropShare; m > 0 {
				relax = fmt.Sprintf("up to %s long, or with %.1f %% lost, %s would do", p.length(m), 100*t.DropShare, t.Gauge)
			}
		}
	}
	if a.reason != "" {
		why += "; " + a.reason
	}
	switch {
	case g == c.Gauge:
	case c.Gauge.Section() < p.thinnest().Section() && g == p.thinnest():
		why += fmt.Sprintf("; nothing thinner than %s is laid, so that it bears being pulled", g)
	case a.least.Valid() && g == a.least && n.Use.Side == conductor.Mains:
		why += fmt.Sprintf("; nothing below %s behind %g A, as terminals that are not marked for more are taken at 60 C", g, a.fuse)
	case a.least.Valid() && g == a.least && n.Use.Side == conductor.Photovoltaic:
		why += fmt.Sprintf("; %s is what the roof is cabled with as a rule, and the way may be longer than taken", g)
	case a.least.Valid() && g == a.least:
		why += fmt.Sprintf("; %s to match what it joins", g)
	default:
		why += fmt.Sprintf("; %s would do and is seldom stocked", c.Gauge)
	}
	return why, relax
}

// Families of fuse by preference: what stands first from a bank, and what stands behind a main fuse that limits current.
var (
	firstFamilies  = []string{"terminal-mount block fuse", "class T fuse", "class J fuse"}
	behindFamilies = []string{"terminal-mount block fuse", "class T fuse", "class J fuse"}
)

// limits tells whether a family cuts a fault short before it reaches its peak, so that what stands behind it has an easier life.
func limits(family string) bool { return family == "class T fuse" || family == "class J fuse" }

// fuse chooses a device for a lasting current.
//
//	run      in which it stands
//	name     of the device
//	lasting  current [A]; the rating is 125 % of it or more
//	faultA   that it must be able to stop; zero where a fuse before it limits the current
//	at       distance along its run [m]
func (p *plan) fuse(run, name string, lasting, faultA, at float64) (rig.Device, float64, bool) {
	need, origin := conductor.SmallestFuse(lasting)
	list := firstFamilies
	if faultA == 0 {
		list = behindFamilies
	}
	var family conductor.Family
	rating, found := 0.0, false
	for pass := 0; pass < 2 && !found; pass++ {
		for _, fname := range list {
			f, _ := conductor.FamilyNamed(fname)
			r, ok := conductor.Next(f.Ratings, need)
			i, holds := f.InterruptAt(p.maxV)
			if !ok || !holds || faultA > i.Amps && (pass == 0 || !limits(fname)) {
				continue
			}
			// The first family that does is taken, unless a later one has a rating of half its size: a small lead asks for a small fuse.
			if !found || 2*r <= rating {
				family, rating, found = f, r, true
			}
		}
	}
	if !found {
		p.problem("%s: no fuse here carries %.0f A and holds %.0f V", name, lasting, p.maxV)
		return rig.Device{}, 0, false
	}
	d := rig.Device{Name: name, Kind: "fuse", Family: family.Name, Rating: amps(rating), At: value(p.spot(at), quantity.Length)}
	c := Choice{Path: "wiring/runs/" + run + "/devices/" + name, Part: name, Chosen: fmt.Sprintf("%g A %s", rating, family.Name), Book: origin.String(), fuse: &family}
	c.base = fmt.Sprintf("%.0f A for hours ask for %.0f A or more", lasting, need)
	if faultA == 0 {
		c.base += "; the main fuse before it limits a fault"
		c.fuse = nil
	}
	c.stops(faultA, p.maxV)
	p.choices = append(p.choices, c)
	return d, rating, true
}

// stops completes the reason of a fuse that stands first with the fault current that it meets [A] at a bank voltage [V].
func (c *Choice) stops(faultA, volts float64) {
	c.Why, c.Final = c.base, true
	if c.fuse == nil {
		return
	}
	i, _ := c.fuse.InterruptAt(volts)
	if faultA <= i.Amps {
		c.Why += fmt.Sprintf("; a bolted short could drive %.1f kA, and this family stops %.0f kA at %.0f V", faultA/1000, i.Amps/1000, i.Volts)
		return
	}
	c.Why += fmt.Sprintf("; a bolted short could drive %.1f kA and it is marked for %.0f kA at up to %.0f V: boat builders accept 20 kA at 125 V for lithium; ask its maker for the figure at %.0f V", faultA/1000, i.Amps/1000, i.Volts, volts)
	c.Final = false
}

// firstAt is where the first device of a run that begins at a battery stands: within every book's distance [m].
const firstAt = 0.15
