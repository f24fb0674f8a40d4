package trip

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strings"
	"unicode"

	"campwright/figure"
	"campwright/rig"
)

// candidate is one switch to try.
type candidate struct {
	Switch
	apply func(*rig.Rig) rig.Rig
}

// leastSaving is the share of a day's use below which a switch is not worth naming.
const leastSaving = 0.01

// switches tries what could be switched so that the battery lasts longer, by what it saves.
func (t *trial) switches(ctx context.Context) ([]Switch, error) {
	members := t.standing(t.f.storeDays("battery", t.runs))
	runs, err := t.try(ctx, t.doc, members, change{})
	if err != nil {
		return nil, err
	}
	base := t.tally(runs)
	list := []Switch{}
	for _, c := range t.candidates() {
		changed := c.apply(t.doc)
		runs, err := t.try(ctx, &changed, members, change{})
		if err != nil {
			return nil, err
		}
		got, s := t.tally(runs), c.Switch
		s.SavesWh, s.CostsKg = base.loadWh-got.loadWh, got.gasKg-base.gasKg
		if s.SavesWh < math.Max(1, leastSaving*base.loadWh) {
			continue
		}
		e := t.end("battery", runs)
		s.Battery, s.Text, s.DarkShare = e.Lasts, e.Text, got.dark
		list = append(list, s)
	}
	slices.SortStableFunc(list, func(x, y Switch) int { return cmp.Compare(y.SavesWh, x.SavesWh) })
	return list, nil
}

// candidates are the switches worth trying: everything electric to propane that can burn it, then what people can do without, and inverters while nothing runs on them or
// in the hours in which nobody needs them. What must never lose power is not among them.
func (t *trial) candidates() []candidate {
	var list []candidate
	for i := range t.doc.Appliances {
		a := &t.doc.Appliances[i]
		if a.Runs == "off" || slices.Contains(t.doc.Aims.NeverLose, a.Name) || guards(a.Name) {
			continue
		}
		to, words := "off", "off"
		canBurn := a.Kind == "absorption refrigerator" || a.Kind == "water heater"
		switch {
		case canBurn && (a.Runs == "ac" || a.Runs == "dc") && t.sys.Propane.KgFull > 0:
			to, words = "propane", "to propane"
		case canBurn, a.Kind == "furnace", a.Kind == "compressor refrigerator", a.Runs == "propane", serves(a.Name):
			continue // heat, cold, water and boards are not for switching off
		}
		list = append(list, candidate{
			Switch: Switch{Appliance: a.Name, Words: words, Edits: []rig.Edit{{Path: "appliances/" + a.Name + "/runs on", Old: a.Runs, New: to}}},
			apply: func(doc *rig.Rig) rig.Rig {
				out := *doc
				out.Appliances = slices.Clone(doc.Appliances)
				out.Appliances[i].Runs = to
				return out
			},
		})
	}
	for i := range t.doc.Inverters {
		v := &t.doc.Inverters[i]
		if v.On.Word != "always" {
			continue
		}
		on := t.needed(i)
		if on.Minutes() > 23*60 {
			continue
		}
		set := func(on rig.Hours, words string) {
			old := v.On.Text() // empty where the file says nothing
			list = append(list, candidate{
				Switch: Switch{Appliance: called("inverter", v.Name), Words: words, Edits: []rig.Edit{{Path: "inverters/" + v.Name + "/on", Old: old, New: on.Text()}}},
				apply: func(doc *rig.Rig) rig.Rig {
					out := *doc
					out.Inverters = slices.Clone(doc.Inverters)
					out.Inverters[i].On = on
					return out
				},
			})
		}
		set(rig.Hours{Word: "when used", State: figure.Plain}, "off when nothing runs on it")
		if on.Minutes() > 0 {
			set(on, "on "+on.Text()+" only, when something needs it")
		}
	}
	return list
}

// Waking hours, in which people use what has no hours of its own [min]. Common practice, no source.
const (
	wakes  = 7 * 60
	sleeps = 22 * 60
	slot   = 30 // inverters are switched at whole and half hours [min]
)

// needed returns the hours in which something on an inverter is to run: an appliance's own hours, all day for what runs all day or must not be lost,
// and the waking hours for what runs for some minutes at no set time. Empty when that is all day, or nothing.
func (t *trial) needed(inverter int) rig.Hours {
	var busy [24 * 60 / slot]bool
	mark := func(from, until int) {
		for m := from; m < until; m++ {
			busy[m/slot%len(busy)] = true
		}
	}
	some := false
	for i := range t.doc.Appliances {
		a := &t.doc.Appliances[i]
		fed := a.Runs == "ac" && a.TakesAC != "shore only" || a.Runs == "propane" && a.TakesAC == "always"
		if !fed || t.inverterOf(a) != inverter || a.On.Word == "never" {
			continue
		}
		some = true
		kept := slices.Contains(t.doc.Aims.NeverLose, a.Name) || guards(a.Name) || strings.Contains(a.Kind, "refrigerator")
		switch {
		case len(a.On.Spans) > 0:
			for _, s := range a.On.Spans {
				if s.Until <= s.From {
					s.Until += 24 * 60
				}
				mark(s.From, s.Until)
			}
		case a.On.Word == "night":
			mark(20*60, 31*60)
		case a.On.Word == "day", a.PerDay.Known() && !kept:
			mark(wakes, sleeps)
		default:
			mark(0, 24*60)
		}
	}
	if !some {
		return rig.Hours{}
	}
	h := rig.Hours{State: figure.Plain}
	for k := range busy {
		if !busy[k] || busy[(k+len(busy)-1)%len(busy)] {
			continue // a span begins where the slot before is free
		}
		n := 1
		for n < len(busy) && busy[(k+n)%len(busy)] {
			n++
		}
		until := (k + n) * slot
		if until > 24*60 {
			until -= 24 * 60
		}
		h.Spans = append(h.Spans, rig.Span{From: k * slot, Until: until})
	}
	return h
}

// inverterOf returns which inverter feeds an appliance: the one it names, or the first.
func (t *trial) inverterOf(a *rig.Appliance) int {
	for k := range t.doc.Inverters {
		if a.Inverter != "" && t.doc.Inverters[k].Name == a.Inverter {
			return k
		}
	}
	return 0
}

// guards tells whether an appliance's name says that it guards life, so that it is never proposed to be switched off.
func guards(name string) bool {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) })
	if slices.ContainsFunc(words, func(w string) bool { return w == "lp" || w == "lpg" || w == "co" }) {
		return true
	}
	return holds(name, "detector", "alarm", "smoke", "monoxide", "gas sensor", "propane sensor", "breathing", "oxygen", "medical", "insulin", "brake", "cpap", "c-pap", "bipap", "ventilator", "nebul",
		"dialysis", "sleep apn", "monitor")
}

// serves tells whether an appliance's name says that other things hang on it, that it keeps food cold or pipes warm, or that it cannot be switched
// off by hand: to switch it off would make no sense.
func serves(name string) bool {
	return holds(name, "memory", "control", "board", "pump", "thermostat", "fridge", "refrigerat", "freezer", "cool box", "cooler", "heat tape", "heat pad",
		"tank heat", "pipe heat", "bank heat", "igniter", "gauge", "standby")
}

// holds tells whether a name holds one of the words, in small or capital letters.
func holds(name string, words ...string) bool {
	name = strings.ToLower(name)
	return slices.ContainsFunc(words, func(word string) bool { return strings.Contains(name, word) })
}

// canTilt returns the arrays that can be tilted further than they are, and what they lie at [deg].
func canTilt(doc *rig.Rig) []int {
	var list []int
	for i := range doc.Arrays {
		if a := &doc.Arrays[i]; a.TiltsTo.Given() && a.TiltsTo.Quantity.Base > a.Tilt.Quantity.Base+1 {
			list = append(list, i)
		}
	}
	return list
}
