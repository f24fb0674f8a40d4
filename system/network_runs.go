package system

import (
	"fmt"
	"math"
	"slices"

	"campwright/circuit"
	"campwright/conductor"
	"campwright/figure"
	"campwright/rig"
)

// Resistance of a lug or terminal that nobody measured, least, usual and most [Ω]: on heavy cable, and on thin wire. Common practice, no
// source: a good heavy joint is under 0.1 mΩ, which is 10 mV at 100 A.
var (
	lugOhm      = [3]float64{0.00001, 0.00003, 0.0001}
	thinLugOhm  = [3]float64{0.0001, 0.0003, 0.001}
	heavyFromMM = 12.0 // section from which a joint counts as heavy [mm²]
)

// wires makes the runs that the wiring has.
func (b *builder) wires() {
	for i, path := range b.doc.RunPaths() {
		w := b.w.Runs[i]
		from, err := b.doc.Terminal(w.From)
		if err != nil {
			b.fail("%s/from: %w", path, err)
			continue
		}
		to, err := b.doc.Terminal(w.To)
		if err != nil {
			b.fail("%s/to: %w", path, err)
			continue
		}
		r := Run{Path: path, Name: w.Name, Side: b.side(from, to), Route: w.Route, Sheathed: w.Sheathed == "yes", Wire: &b.w.Runs[i]}
		r.Volts = b.volts(r.Side, from, to)
		r.From, r.To = unsigned(from), unsigned(to)
		b.fillWire(&w, &r, from, to)
		ends := [2][2]int{{-1, -1}, {-1, -1}} // from and to, plus and minus
		for core, sign := range [2]string{"+", "-"} {
			if b.has(from, to, sign) {
				ends[0][core], ends[1][core] = b.terminal(from, sign), b.terminal(to, sign)
			}
		}
		if w.Return == "chassis" && ends[0][1] >= 0 {
			r.Chassis = true
			b.net.inside(ends[0][1], b.chassis(), bondOhm)
			b.net.inside(ends[1][1], b.chassis(), bondOhm)
			ends[0][1], ends[1][1] = -1, -1
		}
		b.run(&r, &w, ends[0], ends[1], w.DevicePaths(path))
		if to.Part == "appliance" {
			b.net.Loads = append(b.net.Loads, b.load(to.Name, []string{to.Name}, b.terminal(to, "+"), b.terminal(to, "-")))
		}
	}
}

func unsigned(t rig.Terminal) string {
	t.Sign = ""
	return t.String()
}

// has tells whether a run has the conductor of a sign.
func (b *builder) has(from, to rig.Terminal, sign string) bool {
	for _, t := range []rig.Terminal{from, to} {
		if t.Mains() {
			return sign == "+"
		}
		if t.Sign != "" && t.Sign != sign {
			return false
		}
		if bar := b.bar(t); bar != nil && (bar.Rails == "plus" && sign == "-" || bar.Rails == "minus" && sign == "+") {
			return false
		}
	}
	return true
}

// side tells by which table of the book a run is judged.
func (b *builder) side(from, to rig.Terminal) conductor.Side {
	for _, t := range []rig.Terminal{from, to} {
		switch {
		case t.Mains():
			return conductor.Mains
		case t.Part == "array", t.Part == "combiner", t.Port == "pv":
			return conductor.Photovoltaic
		case t.Part == "vehicle", t.Port == "in":
			return conductor.Vehicle
		}
	}
	return conductor.Battery
}

// volts is the nominal voltage of a run's circuit [V].
func (b *builder) volts(side conductor.Side, ends ...rig.Terminal) float64 {
	switch side {
	case conductor.Mains:
		return outletV(b.doc.Book)
	case conductor.Vehicle:
		if v := b.sys.Supply.Vehicle; v != nil {
			return v.Params().Volts
		}
		return 13.8
	case conductor.Photovoltaic:
		for _, t := range ends {
			for i := range b.sys.Arrays {
				if a := &b.sys.Arrays[i]; b.joins(t, a) {
					return a.Unit.Rated().V * a.Series
				}
			}
		}
	}
	return b.net.BankV
}

// joins tells whether a terminal belongs to an array: its own, its combiner's, its controller's PV side.
func (b *builder) joins(t rig.Terminal, a *Array) bool {
	switch {
	case t.Part == "array":
		return t.Name == a.Name
	case t.Part == "controller" && t.Port == "pv":
		return a.Controller >= 0 && b.doc.Controllers[a.Controller].Name == t.Name
	case t.Part == "combiner":
		return b.combines(t.Name, a.Name)
	}
	return false
}

// combines tells whether an array joins in a combiner.
func (b *builder) combines(combiner, array string) bool {
	for i := range b.w.Combiners {
		if b.w.Combiners[i].Name == combiner && slices.Contains(b.w.Combiners[i].Arrays, array) {
			return true
		}
	}
	return false
}

// fillWire gives a run the size and length that it lacks, from elsewhere in the document, from where its ends sit, or as a guess.
func (b *builder) fillWire(w *rig.Wire, r *Run, from, to rig.Terminal) {
	if r.Side == conductor.Photovoltaic && to.Port == "pv" {
		for i := range b.doc.Arrays {
			a := &b.doc.Arrays[i]
			own := from.Part == "array" && from.Name == a.Name
			if a.Run == nil || !own && !(from.Part == "combiner" && b.combines(from.Name, a.Name)) {
				continue
			}
			if w.Gauge.State == figure.Absent && (own || a.Run.Gauge.Given()) {
				w.Gauge = a.Run.Gauge
			}
			if w.Length.State == figure.Absent && (own || a.Run.Length.Given()) {
				w.Length = a.Run.Length
			}
		}
	}
	if !w.Length.Given() && w.Length.State != figure.Default {
		unknown := w.Length.State == figure.Unknown
		w.Length = RunLength(b.doc, from, to)
		w.Length.At.Path = r.Path + "/length"
		if unknown {
			w.Length.State = figure.Unknown
		}
	}
}

// run makes the edges of a run: lugs, conductors, devices.
func (b *builder) run(r *Run, w *rig.Wire, from, to [2]int, devices []string) {
	n := b.net
	k := len(n.Runs)
	r.Length, r.LengthM = w.Length, b.ohmsEnd(w.Length, true)
	if !w.Length.Known() && !IsGuess(w.Length) {
		guessed := lengthGuess("branch", "")
		w.Length, r.Length = guessed, guessed
		r.LengthM = b.ohmsEnd(guessed, true)
	}
	b.use(r, w)
	gauge := b.gauge(r, w)
	r.Use.Gauge = gauge
	for i := range r.Core {
		r.Core[i] = Core{Gauge: gauge, From: from[i], To: to[i]}
	}
	if w.ReturnSize.Given() && r.Pair() {
		r.Core[1].Gauge = gaugeOf(w.ReturnSize)
	}
	b.noteGuesses(r, w)
	loop, metered := b.metered(r, w)
	first := len(n.Devices)
	for i := range w.Devices {
		d := b.device(&w.Devices[i], devices[i])
		d.Run = k
		n.Devices = append(n.Devices, d)
		r.Devices = append(r.Devices, first+i)
	}
	for i := range r.Core {
		if c := &r.Core[i]; c.From >= 0 {
			b.core(r, w, k, i, loop, metered)
		}
	}
	n.Runs = append(n.Runs, *r)
}

// metered returns the resistance that a reading shows for the whole run, there and back [Ω].
func (b *builder) metered(r *Run, w *rig.Wire) (loop float64, ok bool) {
	switch {
	case w.Reading != nil:
		line, err := meterLine(w.Reading)
		if err != nil {
			b.fail("%s/reading: %w", r.Path, err)
			return 0, false
		}
		r.FromMeter = true
		return [...]float64{line.Low, line.Ohms, line.High}[b.lean+1], true
	case w.Ohms.Given():
		r.FromMeter = w.Ohms.State == figure.Measured
		return 2 * b.ohmsEnd(w.Ohms, true), true
	}
	return 0, false
}

// meterLine returns the resistance that a reading of a whole run shows.
func meterLine(r *rig.Reading) (circuit.Line, error) {
	amps := r.Current.Quantity.Base
	return circuit.Readings{SourceVolts: r.Start.Quantity.Base, LoadVolts: r.End.Quantity.Base, Amps: amps, VoltsOff: MeterOffV, AmpsOff: MeterOffShare * amps}.Line()
}

// How far a reading may be off: a hand-held meter on its 20 V range, and a clamp. Common practice, no source.
const (
	MeterOffV     = 0.01
	MeterOffShare = 0.02
)

// core makes the edges of one conductor.
func (b *builder) core(r *Run, w *rig.Wire, run, core int, loop float64, metered bool) {
	n, c := b.net, &r.Core[core]
	total := r.LengthM * c.Gauge.OhmsPerMetre(b.conductorC(r))
	lug := lugOhm[b.lean+1]
	if c.Gauge.Section() < heavyFromMM {
		lug = thinLugOhm[b.lean+1]
	}
	ends := [2]float64{lug, lug}
	if metered {
		total, ends = loop, [2]float64{}
		if w.Reading != nil {
			total = math.Max(0, loop-joints(w)) // a reading of the whole run has its joints in it
		}
		if r.Pair() || r.Chassis {
			total /= 2
		} else if w.Ohms.Given() && w.Reading == nil {
			total /= 2
		}
	}
	if r.Side == conductor.Mains {
		total *= 2 // there and back in one cable
	}
	c.Ohms = total
	rail := [2]Rail{Plus, Minus}[core]
	if r.Side == conductor.Mains {
		rail = Mains
	}
	at, inner, done := c.From, 0, 0.0
	next := func() int {
		inner++
		return n.node(fmt.Sprintf("%s %c %d", r.Path, "+-"[core], inner), rig.Terminal{}, rail)
	}
	add := func(to int, ohms float64, device int, joint bool) {
		c.Edges = append(c.Edges, n.edge(Edge{A: at, B: to, Ohms: ohms, Run: run, Device: device, Joint: joint, OneWay: r.Side == conductor.Mains}))
		at = to
	}
	if j := w.Start; j != nil && core == 0 {
		add(next(), joint(j), -1, true)
		ends[0] = 0
	}
	within := b.inCore(r, w, core)
	for i, d := range within {
		spot := (float64(i) + 1) / float64(len(within)+1)
		if at := n.Devices[d].AtM; !math.IsNaN(at) && r.LengthM > 0 {
			spot = math.Max(done, math.Min(1, at/r.LengthM))
		}
		add(next(), ends[0]+total*(spot-done), -1, false)
		ends[0], done = 0, spot
		to := c.To
		if i+1 < len(within) || spot < 1 || w.End != nil {
			to = next()
		}
		ohms := b.deviceOhm(n.Devices[d].Kind, n.Devices[d].RatingA)
		if v := n.Devices[d].Doc.Ohms; v.Given() {
			ohms = b.ohmsEnd(v, true)
		}
		if metered && w.Reading != nil {
			ohms = 0
		}
		if n.Devices[d].Kind == "plug" && n.Devices[d].RatingA == 0 {
			ohms = plugOhm
		}
		add(to, ohms, d, false)
		n.Devices[d].Edges = append(n.Devices[d].Edges, c.Edges[len(c.Edges)-1])
	}
	last := ends[0] + total*(1-done) + ends[1]
	switch {
	case w.End != nil && core == 0:
		add(next(), last-ends[1], -1, false)
		add(c.To, joint(w.End), -1, true)
	case at != c.To:
		add(c.To, last, -1, false)
	}
}

// joint returns the resistance that a reading across a lug shows [Ω].
func joint(j *rig.Joint) float64 {
	return j.Drop.Quantity.Base / math.Max(j.Current.Quantity.Base, 1e-3)
}

// joints returns the resistance of the lugs of a run that were read by themselves [Ω].
func joints(w *rig.Wire) float64 {
	sum := 0.0
	for _, j := range []*rig.Joint{w.Start, w.End} {
		if j != nil {
			sum += joint(j)
		}
	}
	return sum
}

// inCore returns the devices of the run that sit in one of its conductors.
func (b *builder) inCore(r *Run, w *rig.Wire, core int) []int {
	var list []int
	for i, d := range r.Devices {
		in := w.Devices[i].In
		switch {
		case !r.Pair():
			in = "both"
		case in == "" && w.Devices[i].Kind == "shunt":
			in = "minus"
		case in == "" && w.Devices[i].Kind == "plug":
			in = "both"
		case in == "":
			in = "plus"
		}
		if in == "both" || in == "plus" && core == 0 || in == "minus" && core == 1 {
			list = append(list, d)
		}
	}
	return list
}

// noteGuesses lists what in a run is not firm.
func (b *builder) noteGuesses(r *Run, w *rig.Wire) {
	for _, g := range []struct {
		key string
		v   rig.Value
	}{{"gauge", r.Gauge}, {"length", r.Length}} {
		if guess(g.v) && !r.FromMeter && !w.Ohms.Given() && w.Reading == nil {
			r.Guessed = append(r.Guessed, r.Path+"/"+g.key)
		}
	}
}
