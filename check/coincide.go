package check

import (
	"math"

	"campwright/figure"
	"campwright/quantity"
)

// Source is one charger of the bank at its full current.
type Source struct {
	Name   string
	Path   string // of its current in the document
	Symbol string
	Amps   figure.Term
}

// Together is a set of chargers that can work at the same time.
type Together struct {
	When    string // "on the road", "plugged in"
	Sources []Source
}

// Coincident returns the sets of chargers that can charge the bank at the same time: the sun with the engine on the road, and the sun with the
// shore chargers when plugged in or on the generator. Engine and shore do not come together. A set of one charger is one too.
func (c Case) Coincident() []Together {
	sun := c.suns()
	var list []Together
	if engine, ok := c.engine(); ok {
		list = append(list, Together{When: "on the road", Sources: append(append([]Source(nil), sun...), engine)})
	}
	if shore := c.shores(); len(shore) > 0 {
		list = append(list, Together{When: "plugged in", Sources: append(append([]Source(nil), sun...), shore...)})
	}
	if len(list) == 0 && len(sun) > 0 {
		list = append(list, Together{When: "in the sun", Sources: sun})
	}
	return list
}

// suns returns each controller at its limit, or at what its arrays can give where that is less.
func (c Case) suns() []Source {
	var list []Source
	unit, _, _ := c.Unit()
	for i := range c.Doc.Controllers {
		k := &c.Doc.Controllers[i]
		watts := 0.0
		for _, a := range c.ArraysOn(k.Name) {
			if m := c.Module(a.Module); m != nil {
				watts += m.Power.Quantity.Base * a.InSeries.Quantity.Base * a.Strings.Quantity.Base
			}
		}
		if watts == 0 || !k.Output.Stands() || unit != nil && unit.Controller == k.Name && unit.Shares != "sum" {
			continue // a combined unit is told with the engine
		}
		term := Known("Isun"+letter(len(list)), "controller "+k.Name, k.Output)
		if most := watts / c.ChargingV(); most < term.Figure.Low {
			term.Figure = figure.Figure{Name: "array of " + k.Name + " at its label", Value: most, Low: most, High: most, Kind: quantity.Current, State: figure.Plain, Source: "arrays"}
		}
		list = append(list, Source{Name: k.Name, Path: "controllers/" + k.Name + "/output", Symbol: term.Symbol, Amps: term})
	}
	return list
}

// engine returns the charge from the vehicle.
func (c Case) engine() (Source, bool) {
	unit, _, path := c.Unit()
	if unit == nil {
		return Source{}, false
	}
	term := Known("Iengine", "dc-dc unit", unit.Output)
	if !unit.Output.Stands() {
		amps := unit.Power.Quantity.Base / math.Max(1, c.ChargingV())
		term = Number("Iengine", "dc-dc unit", quantity.Current, amps, "its power at the bank's charging voltage")
	}
	return Source{Name: "dc-dc unit", Path: path + "/output", Symbol: "Iengine", Amps: term}, true
}

// shores returns the shore chargers.
func (c Case) shores() []Source {
	if c.Doc.Shore == nil {
		return nil
	}
	var list []Source
	for i := range c.Doc.Shore.Chargers {
		k := &c.Doc.Shore.Chargers[i]
		if !k.Output.Stands() {
			continue
		}
		term := Known("Ishore"+letter(len(list)), "charger "+k.Name, k.Output)
		list = append(list, Source{Name: k.Name, Path: "shore/chargers/" + k.Name + "/output", Symbol: term.Symbol, Amps: term})
	}
	return list
}

// letter numbers like symbols: none for the first, then b, c, ...
func letter(i int) string {
	if i == 0 {
		return ""
	}
	return string(rune('a' + i))
}
