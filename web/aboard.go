package web

import (
	"strconv"
	"strings"

	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// What is aboard, in one sentence and as a small total beside each kind of part. Nothing is worked out here: ratings of like parts are
// added up, as an owner would say them. A part of which a rating is not known is counted, and the total says so by being "about".

// sum adds ratings up.
type sum struct {
	base  float64
	kind  quantity.Kind
	about bool // something in it is an estimate, or missing
	n     int  // that were known
}

func (s *sum) add(v rig.Value, times float64) {
	switch v.State {
	case figure.Plain, figure.Measured:
	default:
		s.about = true
	}
	if v.State == figure.Absent || v.Quantity.Kind == quantity.None {
		return
	}
	s.base, s.kind, s.n = s.base+v.Quantity.Base*times, v.Quantity.Kind, s.n+1
}

// text is the total in both systems of units; empty where nothing of it is known.
func (s *sum) text() Both {
	if s.n == 0 {
		return Both{}
	}
	b := of(s.base, s.kind)
	if s.about {
		b = Both{US: "about " + b.US, Metric: "about " + b.Metric}
	}
	return b
}

// with writes a text in both systems of units around a figure.
func (b Both) with(before, after string) Both {
	if b.US == "" {
		return b
	}
	return Both{US: before + b.US + after, Metric: before + b.Metric + after}
}

// countOf is a count, one where none is said.
func countOf(v rig.Value) float64 {
	if v.State == figure.Absent || v.Quantity.Base < 1 {
		return 1
	}
	return v.Quantity.Base
}

// solar is the rated power of all arrays.
func solar(r *rig.Rig) sum {
	var s sum
	for i := range r.Arrays {
		a := &r.Arrays[i]
		var power rig.Value
		for k := range r.Modules {
			if r.Modules[k].Name == a.Module {
				power = r.Modules[k].Power
			}
		}
		s.add(power, countOf(a.InSeries)*countOf(a.Strings))
	}
	return s
}

// bankSize is the rated capacity of the bank in amp-hours and in energy, at its nominal voltage; empty where it is not known.
func bankSize(b *rig.Bank) (charge, energy, volts Both) {
	if b == nil {
		return
	}
	c, v := b.Block.Capacity, b.Block.Voltage
	if c.State == figure.Absent || v.State == figure.Absent || !(v.Quantity.Base > 0) {
		return
	}
	var ah, wh sum
	side, row := countOf(b.Blocks), countOf(b.InSeries)
	ah.add(c, side)
	wh.add(c, side*row)
	if c.Quantity.Kind == quantity.Energy {
		ah.base /= v.Quantity.Base
	} else {
		wh.base *= v.Quantity.Base
	}
	ah.kind, wh.kind = quantity.Charge, quantity.Energy
	return ah.text(), wh.text(), of(v.Quantity.Base*row, quantity.Voltage)
}

// outputs adds up a rating of parts.
func outputs[T any](parts []T, rating func(*T) rig.Value) Both {
	var s sum
	for i := range parts {
		s.add(rating(&parts[i]), 1)
	}
	return s.text()
}

// propaneText is the propane that all cylinders hold.
func propaneText(s *rig.Stores) Both {
	var p sum
	if s != nil && s.Propane.Count.State != figure.Absent {
		p.add(s.Propane.Each, countOf(s.Propane.Count))
	}
	return p.text()
}

// aboard tells a completed rig in one sentence of trade words.
func aboard(r *rig.Rig) Both {
	var has []Both
	if len(r.Arrays) > 0 {
		power := solar(r)
		words := power.text().with("", " of solar")
		if words.US == "" {
			words = alike("solar of unknown power")
		}
		has = append(has, words.with("", " on "+counted(max(len(r.Controllers), 1), "controller")))
	}
	if r.Bank != nil {
		charge, energy, _ := bankSize(r.Bank)
		words := charge.with("", " ("+strings.TrimPrefix(energy.US, "about ")+") of "+chemistry(r.Bank.Chemistry))
		if words.US == "" {
			words = alike(chemistry(r.Bank.Chemistry) + " bank of unknown size")
		}
		has = append(has, words)
	}
	if len(r.Inverters) > 0 {
		words := outputs(r.Inverters, func(v *rig.Inverter) rig.Value { return v.Power }).with("", " of inverter")
		if words.US == "" {
			words = alike("an inverter")
		}
		if n := len(r.Inverters); n > 1 {
			words = words.with(strconv.Itoa(n)+" inverters, ", "")
			words = Both{strings.TrimSuffix(words.US, " of inverter"), strings.TrimSuffix(words.Metric, " of inverter")}
		}
		has = append(has, words)
	}
	if ways := chargedBy(r); len(ways) > 0 && r.Bank != nil {
		has = append(has, alike("charging from "+figure.List(ways)))
	}
	if stores := carried(r.Stores); stores.US != "" {
		has = append(has, stores)
	}
	if len(has) == 0 {
		return alike("Nothing is known yet of what this " + kindOr(r.Kind) + " carries.")
	}
	us, metric := make([]string, len(has)), make([]string, len(has))
	for i, h := range has {
		us[i], metric[i] = h.US, h.Metric
	}
	return Both{figure.Sentence(strings.Join(us, ", ") + "."), figure.Sentence(strings.Join(metric, ", ") + ".")}
}

func kindOr(kind string) string {
	if kind == "" {
		return "rig"
	}
	return kind
}

// chemistry is a kind of battery in the words of the trade.
func chemistry(word string) string {
	switch word {
	case "LFP", "AGM":
		return word
	case "":
		return "battery"
	}
	return word + " lead-acid"
}

// chargedBy names what charges the bank.
func chargedBy(r *rig.Rig) []string {
	var ways []string
	if len(r.Arrays) > 0 {
		ways = append(ways, "sun")
	}
	for _, l := range r.ChargeLine {
		if l.DCDC != nil || l.Relay != nil {
			ways = append(ways, "engine")
			break
		}
	}
	if r.Shore != nil && len(r.Shore.Chargers) > 0 {
		ways = append(ways, "shore")
		if len(r.Generators) > 0 {
			ways = append(ways, "generator")
		}
	}
	return ways
}

// carried tells what is carried besides charge.
func carried(s *rig.Stores) Both {
	if s == nil {
		return Both{}
	}
	var us, metric []string
	add := func(b Both) {
		if b.US != "" {
			us, metric = append(us, b.US), append(metric, b.Metric)
		}
	}
	add(propaneText(s).with("", " of propane"))
	var water sum
	if s.Fresh.State != figure.Absent {
		water.add(s.Fresh, 1)
	}
	add(water.text().with("", " of water"))
	return Both{figure.List(us), figure.List(metric)}
}

// totals are the small figures beside the headings of kinds of parts.
func totals(r *rig.Rig) map[string]Both {
	power := solar(r)
	all := map[string]Both{
		"arrays":      power.text(),
		"controllers": outputs(r.Controllers, func(c *rig.Controller) rig.Value { return c.Output }),
		"inverters":   outputs(r.Inverters, func(v *rig.Inverter) rig.Value { return v.Power }),
		"generators":  outputs(r.Generators, func(g *rig.Generator) rig.Value { return g.Power }),
	}
	_, all["bank"], _ = bankSize(r.Bank)
	if r.Shore != nil {
		all["shore"] = outputs(r.Shore.Chargers, func(c *rig.Charger) rig.Value { return c.Output })
	}
	for _, l := range r.ChargeLine {
		if l.DCDC != nil {
			var s sum
			s.add(l.DCDC.Output, 1)
			all["charge line"] = s.text()
		}
	}
	if n := len(r.Appliances); n > 0 {
		all["appliances"] = alike(strconv.Itoa(n))
	}
	nights := 0.0
	for _, stop := range r.Trip {
		if stop.Nights.State != figure.Absent {
			nights += stop.Nights.Quantity.Base
		}
	}
	if nights > 0 {
		all["trip"] = alike(counted(int(nights), "night"))
	}
	return all
}
