package trip

import (
	"math"
	"slices"

	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// moreCylinders proposes one cylinder more of the size that is carried.
func (w *wayfinder) moreCylinders() {
	p := w.doc.Stores.Propane
	count := math.Round(math.Max(1, p.Count.Quantity.Base))
	if !p.Each.Given() || !w.sys.Propane.Boils {
		return // a fixed tank
	}
	doc := *w.doc
	stores := *w.doc.Stores
	doc.Stores = &stores
	more := p
	more.Count = rig.Value{Quantity: quantity.Quantity{Base: count + 1, Kind: quantity.Count}, State: figure.Plain, At: p.Count.At}
	stores.Propane = more
	words := say("one more cylinder of %s: %.0f in place of %.0f", of(p.Each.Quantity.Base, p.Each.Quantity.Kind), count+1, count)
	w.attempt(words, &doc, change{}, []rig.Edit{{Path: "stores/propane", Old: p.Text(), New: more.Text()}}, figure.Figure{Kind: quantity.Mass})
}

// moreFuel proposes the fuel that the itinerary's generator hours burn.
func (w *wayfinder) moreFuel() {
	need := w.sys.Supply.FuelL * w.f.stay() / math.Max(w.end.Lasts.Value/24, 1e-9)
	if len(w.doc.Generators) == 0 || w.sys.Supply.FuelL <= 0 || need <= w.sys.Supply.FuelL {
		return
	}
	days := w.f.stay()
	unit, by := "L", 1.0
	if w.doc.Units() == quantity.US {
		unit, by = "gal", litresPerGallon
	}
	q, err := quantity.Of(math.Ceil(10*need/by-1e-9)/10, quantity.Volume, unit)
	if err != nil {
		return
	}
	need = q.Base
	words := say("carry %s of fuel, in place of %s, or fetch some on the way", of(need, quantity.Volume), of(w.sys.Supply.FuelL, quantity.Volume))
	g := &w.doc.Generators[0]
	w.list = append(w.list, Way{
		Store: w.end.Store, Words: words.metric, wordsIn: words, Edits: []rig.Edit{{Path: "generators/" + g.Name + "/fuel", Old: system.AsWritten(g.Fuel), New: q.String()}},
		Saves: figure.Figure{Kind: quantity.Volume}, Costs: []string{}, Lasts: figure.Exact("generator fuel lasts", 24*days, quantity.Duration), Text: dayCount(days),
		Next: w.nextWords(w.now[0]),
	})
}

// otherSource proposes to run what can burn propane or take electricity on the inverter.
func (w *wayfinder) otherSource() {
	if len(w.doc.Inverters) == 0 {
		return
	}
	for i := range w.doc.Appliances {
		a := &w.doc.Appliances[i]
		if a.Runs != "propane" || a.Kind != "absorption refrigerator" && a.Kind != "water heater" || slices.Contains(w.doc.Aims.NeverLose, a.Name) || !w.bears(w.inverterOf(a), a) {
			continue
		}
		if a.Kind == "absorption refrigerator" && 24*w.watts(a.Electric)*a.Electric.Duty.Quantity.Base > coldShare*w.sys.Bank.CapacityAh*w.sys.Bank.Model.NominalV() {
			continue
		}
		doc := *w.doc
		doc.Appliances, doc.Inverters = slices.Clone(w.doc.Appliances), slices.Clone(w.doc.Inverters)
		doc.Appliances[i].Runs = "ac"
		path := "appliances/" + a.Name
		edits := []rig.Edit{{Path: path + "/runs on", Old: a.Runs, New: "ac"}}
		if a.TakesAC == "shore only" {
			doc.Appliances[i].TakesAC = "always"
			edits = append(edits, rig.Edit{Path: path + "/takes AC", Old: a.TakesAC, New: "always"})
		}
		words := a.Name + " on AC through the inverter"
		if v := &doc.Inverters[w.inverterOf(a)]; a.PerDay.State == figure.Absent && v.On.Word != "always" && v.On.Word != "when used" {
			edits = append(edits, rig.Edit{Path: "inverters/" + v.Name + "/on", Old: v.On.Text(), New: "always"})
			v.On = rig.Hours{Word: "always", State: figure.Plain}
			words += ", which then stays on"
		}
		w.attempt(same(words), &doc, change{}, edits, figure.Figure{})
	}
}

// coldShare is the most of a bank that a day of an absorption refrigerator on the inverter may take for it to be proposed: it runs day and night and
// empties smaller banks. Common practice, no source.
const coldShare = 0.2

// watts returns what an appliance takes from AC while it runs [W].
func (w *wayfinder) watts(d rig.Draw) float64 {
	if d.Rate.Quantity.Kind == quantity.Current {
		return d.Rate.Quantity.Base * system.OutletV(w.doc.Book)
	}
	return d.Rate.Quantity.Base
}

// bears tells whether an inverter carries an appliance's element beside the other AC loads on it, all of them at once.
func (w *wayfinder) bears(inverter int, a *rig.Appliance) bool {
	unit := w.sys.Inverters[inverter].Unit.Params()
	sum := w.watts(a.Electric)
	for i := range w.sys.Loads {
		if l := &w.sys.Loads[i]; l.Bus == system.AC && l.Inverter == inverter && l.Name != a.Name {
			sum += l.RunW
		}
	}
	return sum <= unit.RatedW
}

// How far a thermostat is proposed to be lowered for good, and set back at night: 4 °F and 10 °F, which people put up with, and never below what keeps
// pipes and people safe. Common practice, no source.
const (
	coolerK  = 4 / 1.8
	setBackK = 10 / 1.8
	coldestC = 8
)

// coolerRoom proposes a lower thermostat and a set-back at night for the furnaces that follow the weather.
func (w *wayfinder) coolerRoom() {
	for i := range w.doc.Appliances {
		a := &w.doc.Appliances[i]
		if a.Kind != "furnace" || a.Runs == "off" || a.Propane.Duty.Given() || a.PerDay.Given() {
			continue
		}
		lower := func(from *rig.Value, by float64) rig.Value {
			said := rig.Value{State: figure.Plain, At: from.At}
			unit, number := "C", math.Round(a.Keeps.Quantity.Base-by)
			if w.doc.Units() == quantity.US {
				unit, number = "F", math.Round((a.Keeps.Quantity.Base-by)*1.8+32)
			}
			if q, err := quantity.Of(number, quantity.Temperature, unit); err == nil {
				said.Quantity = q
			}
			return said
		}
		try := func(words string, key string, v *rig.Value, to rig.Value) {
			if to.Quantity.Base < coldestC {
				return
			}
			doc := *w.doc
			doc.Appliances = slices.Clone(w.doc.Appliances)
			if key == "keeps" {
				doc.Appliances[i].Keeps = to
			} else {
				doc.Appliances[i].KeepsNight = to
			}
			edits := []rig.Edit{{Path: "appliances/" + a.Name + "/" + key, Old: system.AsWritten(*v), New: to.Text()}}
			w.attempt(say(words, a.Name, of(to.Quantity.Base, quantity.Temperature), of(a.Keeps.Quantity.Base, quantity.Temperature)), &doc, change{}, edits, figure.Figure{})
		}
		if !a.KeepsNight.Known() {
			try("%s set back to %s at night, from 22:00 to 06:00, in place of %s", "keeps at night", &a.KeepsNight, lower(&a.KeepsNight, setBackK))
		}
		try("%s set to %s in place of %s", "keeps", &a.Keeps, lower(&a.Keeps, coolerK))
	}
}
