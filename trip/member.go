package trip

import (
	"campwright/climate"
	"campwright/convert"
	"campwright/sun"
	"campwright/system"
)

// columns are what a member's sun and air come to along the course.
type columns struct {
	potW  []float32 // what the controllers could give the bus [W]
	alsoW []float32 // of it, from the controller in the charge line's unit; nil without one
	airC  []float32
}

// light makes a member's weather and what the controllers could give the bus in it.
func (w *worker) light(sys *system.System, m int, draws map[string][]float64) (columns, error) {
	f := w.f
	c := f.course
	if w.offers == nil {
		w.grow(sys)
	}
	pot, air := make([]float32, c.N), make([]float32, c.N)
	var also []float32
	if sys.Supply.Also >= 0 {
		also = make([]float32, c.N)
	}
	for s := range f.places {
		if err := w.weather(s, m, draws); err != nil {
			return columns{}, err
		}
		w.offersAt(sys, s, m, draws)
		lead := c.Spans[s].Lead - c.From[s]
		for i := c.From[s]; i < c.From[s+1]; i++ {
			air[i] = float32(w.air[s][i+lead])
		}
	}
	w.potential(sys, pot, also)
	return columns{pot, also, air}, nil
}

// grow makes the worker's memory.
func (w *worker) grow(sys *system.System) {
	c := w.f.course
	for s := range w.f.places {
		n := c.Spans[s].Sun.Len()
		w.lights = append(w.lights, sun.NewLight(n))
		w.air = append(w.air, make([]float64, n))
	}
	for range sys.Arrays {
		w.offers = append(w.offers, offer{powerW: make([]float64, c.N), volts: make([]float64, c.N), cableW: make([]float64, c.N)})
	}
	w.inputs = make([]convert.Input, len(sys.Controllers))
}

// weather makes up a member's weather over the whole civil days of a site, and takes away what stands in the way of the sky.
func (w *worker) weather(s, m int, draws map[string][]float64) error {
	place, span := &w.f.places[s], &w.f.course.Spans[s]
	if cap(w.days) < len(span.Civil) {
		w.days = make([]climate.Day, len(span.Civil))
	}
	days := w.days[:len(span.Civil)]
	place.days.Days(m, climate.DayNumber(span.Civil[0].Date), days)
	beam, sky := 1.0, 1.0
	if place.shaded {
		beam, sky = place.shade.At(levelOf(draws, sitePath(s), m))
	}
	for d, civil := range span.Civil {
		l := slice(w.lights[s], civil.First, civil.First+civil.Steps)
		if err := place.skies[d].Fill(days[d], l, w.air[s][civil.First:civil.First+civil.Steps]); err != nil {
			return err
		}
		if place.veils != nil {
			if err := place.veils[d].Apply(beam, sky, l); err != nil {
				return err
			}
		}
	}
	return nil
}

// slice is part of a series of light.
func slice(l sun.Light, from, to int) sun.Light {
	return sun.Light{GHI: l.GHI[from:to], DNI: l.DNI[from:to], DHI: l.DHI[from:to]}
}

// offersAt fills what each array gives at one site.
func (w *worker) offersAt(sys *system.System, s, m int, draws map[string][]float64) {
	f := w.f
	c := f.course
	light := siteLight{Light: w.lights[s], up: c.Spans[s].Sun.Up, air: w.air[s], windMS: w.f.places[s].climate.Wind}
	for a := range sys.Arrays {
		shift := c.Spans[s].Lead - c.From[s]
		sky := overArray(&sys.Arrays[a], c.Sites[s].Sky, levelOf(draws, sitePath(s), m), levelOf(draws, arrayPath(sys.Arrays[a].Name), m))
		arrayAlong(&sys.Arrays[a], f.kept.planes.of[s][a], f.kept.planes.glass, light, sky, shift, shift, c.From[s], c.From[s+1], &w.offers[a])
	}
}

// potential adds up what the controllers could give the bus at one bus voltage in each step [W].
func (w *worker) potential(sys *system.System, pot, also []float32) {
	volts := sys.Bank.Model.Voc(midSoC) * chargingAbove
	for i := range pot {
		for k := range w.inputs {
			w.inputs[k].MPPW, w.inputs[k].MPPV = 0, 0
		}
		sum := 0.0
		for a := range sys.Arrays {
			p := w.offers[a].powerW[i]
			if p <= 0 {
				continue
			}
			in := &w.inputs[sys.Arrays[a].Controller]
			if in.MPPV == 0 || p > in.MPPW {
				in.MPPV = w.offers[a].volts[i]
				in.OpenV = in.MPPV * sys.Arrays[a].OpenRatio
			}
			in.MPPW += p
			sum += p
		}
		if sum <= 0 {
			pot[i] = 0
			continue
		}
		bus := 0.0
		for k := range w.inputs {
			if in := &w.inputs[k]; in.MPPW > 0 {
				in.BusV, in.Ran = volts, true
				one := sys.Controllers[k].Unit.Deliver(*in).BusW
				if bus += one; k == sys.Supply.Also && also != nil {
					also[i] = float32(one)
				}
			}
		}
		pot[i] = float32(bus)
	}
}

// The bus voltage at which a swift run takes the controllers' output: that of a bank rather full, a little above its rest voltage because
// it is being charged. It matters only to limits of current and to controllers that do not track.
const (
	midSoC        = 0.7
	chargingAbove = 1.02
)
