package system

import (
	"math"
	"strings"

	"campwright/conductor"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// use sets in what surroundings a run is judged.
func (b *builder) use(r *Run, w *rig.Wire) {
	u := conductor.Use{Book: b.net.Book, Side: r.Side, InsulationC: 105, AmbientC: InsideAirC, Together: 2, TerminalC: 75}
	if r.Side == conductor.Mains || r.Side == conductor.Photovoltaic || b.net.Book == conductor.USBuilding {
		u.InsulationC = 90
	}
	if w.Insulation.Given() {
		u.InsulationC = int(math.Round(b.d.Of(w.Insulation)))
	}
	if w.Bundled.Given() {
		u.Together = int(math.Round(b.d.Of(w.Bundled)))
	}
	if w.Terminals.Given() {
		u.TerminalC = int(math.Round(b.d.Of(w.Terminals)))
	}
	switch {
	case r.Route == "engine bay":
		u.EngineSpace = true
	case r.Route == "roof":
		u.SunlitRoof = true
	case r.Side == conductor.Photovoltaic && r.Route != "inside":
		u.AmbientC = RoofAirC
	}
	r.HotC = hotConductorC
	c, told := b.hottest(r)
	if w.Ambient.Given() {
		c, told = b.d.Of(w.Ambient), true
	}
	if told {
		u.AmbientC = c
		r.HotC = LoadedC(c, u.InsulationC)
	}
	r.Use = u
}

// LoadedC is the temperature of a loaded conductor in air of a temperature, for its resistance [°C]: as far above the air as the handbook's drop tables
// have it, 75 °C in air of 30, and not above what its insulation bears [°C]. Without a word about the air it is those 75 °C.
func LoadedC(airC float64, insulationC int) float64 {
	return math.Max(airC, math.Min(airC+hotConductorC-tableAirC, float64(insulationC)))
}

// tableAirC is the air for which the handbook's ampacities stand [°C]: [NEC] table 310.16.
const tableAirC = 30

// InsideAirC is the air at its hottest in a closed compartment of a rig in summer, where nothing is said [°C]; it lies between 30 and 50.
// Common practice, no source.
const InsideAirC = 40

// RoofAirC is the air at its hottest around a cable that runs over a sunlit roof in free air and down inside, where its route is not written
// [°C]. A route written as roof lies close to it, and the book adds its own. Common practice, no source.
const RoofAirC = 53

// hottest returns the hottest air of the bays in which the ends of a run sit [°C].
func (b *builder) hottest(r *Run) (float64, bool) {
	hot, known := math.Inf(-1), false
	for _, text := range []string{r.From, r.To} {
		if bay := bayOf(b.doc, text); bay != nil && bay.Hottest.Given() {
			hot, known = math.Max(hot, b.d.Of(bay.Hottest)), true
		}
	}
	return hot, known
}

// gathers tells whether a terminal is of the bank or of a bus bar.
func gathers(terminal string) bool {
	return terminal == "bank" || strings.HasPrefix(terminal, "block ") || strings.HasPrefix(terminal, "bus bar ")
}

// gauge returns the size of a run, or a stand-in for an unknown one: the smallest that its fuse allows, and two sizes to either side. Where it has
// none and joins bars or the bank, through which everything goes, it is the thickest.
func (b *builder) gauge(r *Run, w *rig.Wire) conductor.Gauge {
	r.Gauge = w.Gauge
	if w.Gauge.Given() || w.Gauge.State == figure.Default {
		mm2 := b.ohmsEnd(w.Gauge, false)
		return gaugeOf(rig.Value{Quantity: quantity.Quantity{Base: mm2, Kind: quantity.Section}})
	}
	if r.Gauge.State == figure.Absent && (w.Ohms.Given() || w.Reading != nil) {
		r.Gauge.State = figure.Unknown
	}
	r.Unknown = true
	r.Gauge.State = figure.Unknown
	fuse := 0.0
	for i := range w.Devices {
		if a := b.numberOf(w.Devices[i].Rating); a > 0 && (w.Devices[i].Kind == "fuse" || w.Devices[i].Kind == "breaker") && (fuse == 0 || a < fuse) {
			fuse = a
		}
	}
	sizes := conductor.Gauges(conductor.AWG)
	at := 4 // 10 AWG
	if fuse > 0 {
		for at = 0; at < len(sizes)-1; at++ {
			u := r.Use
			u.Gauge = sizes[at]
			if rating, err := conductor.Ampacity(u); err == nil && rating.Amps >= fuse {
				break
			}
		}
	}
	if fuse == 0 && gathers(r.From) && gathers(r.To) {
		at = len(sizes) - 1
	}
	at = min(max(at-2*int(b.lean), 0), len(sizes)-1)
	return sizes[at]
}
