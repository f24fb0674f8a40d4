package trip

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"campwright/battery"
	"campwright/figure"
	"campwright/quantity"
	"campwright/system"
)

// darkOf says what went wrong on a day, in a few words; what the cut-offs mean is said once, by emptying.
func darkOf(d RunDay) []string {
	var list []string
	if d.Cut {
		list = append(list, "inverter cut off")
	}
	if d.LoadsCut {
		list = append(list, "loads cut off")
	}
	if d.Open {
		list = append(list, "battery opened")
	}
	if d.Overload {
		list = append(list, "overload")
	}
	if d.Dark {
		list = append(list, fmt.Sprintf("%.0f Wh short", d.UnmetWh))
	}
	if d.StarvedH >= atLeastH {
		list = append(list, "propane too cold")
	}
	if d.NoGasH >= atLeastH {
		list = append(list, noPropane)
	}
	if d.NoHeatH >= atLeastH {
		list = append(list, fmt.Sprintf("%.1f h without heat", d.NoHeatH))
	}
	if d.OffWh >= 1 {
		list = append(list, fmt.Sprintf("%.0f Wh asked while the inverter is off", d.OffWh))
	}
	if d.ColdBlock {
		list = append(list, tooCold)
	}
	if d.FrozenH > 0 {
		list = append(list, "the battery freezes")
	}
	return list
}

// atLeastH is for how many hours of a day something must go wrong to be told, and noPropane how a day is marked on which propane was asked for in vain.
const (
	atLeastH  = 0.5
	noPropane = "propane at 0 %"
)

// wrongOf counts the nights of a run on which something went wrong, what happened on most of them first.
func wrongOf(run *Run) []Wrong {
	list := []Wrong{}
	for _, kind := range []struct {
		what string
		is   func(*RunDay) bool
	}{
		{"something asked for was not served", func(d *RunDay) bool { return d.Dark }},
		{"asked while the inverter is switched off, or there is none", func(d *RunDay) bool { return d.OffWh >= 1 }},
		{"inverter cut off by low voltage", func(d *RunDay) bool { return d.Cut }},
		{"loads cut off by low voltage", func(d *RunDay) bool { return d.LoadsCut }},
		{"battery opened", func(d *RunDay) bool { return d.Open }},
		{"overload", func(d *RunDay) bool { return d.Overload }},
		{"no propane left", func(d *RunDay) bool { return d.NoGasH >= atLeastH }},
		{"propane too cold to feed the flame", func(d *RunDay) bool { return d.StarvedH >= atLeastH }},
		{"furnace without propane or without power for its blower", func(d *RunDay) bool { return d.NoHeatH >= atLeastH }},
		{"battery too cold to charge for a time", func(d *RunDay) bool { return d.ColdBlock }},
		{"battery colder than its acid freezes", func(d *RunDay) bool { return d.FrozenH > 0 }},
	} {
		w := Wrong{What: kind.what, Of: len(run.Days)}
		for d := range run.Days {
			if kind.is(&run.Days[d]) {
				w.Nights++
			}
		}
		if w.Nights > 0 {
			w.Words = fmt.Sprintf("%s of %d: %s", plural(w.Nights, "night"), w.Of, w.What)
			list = append(list, w)
		}
	}
	slices.SortStableFunc(list, func(x, y Wrong) int { return cmp.Compare(y.Nights, x.Nights) })
	return list
}

// emptying tells in which order things stop as the bank empties, and what goes dark with them, when any of it happened in a run.
func emptying(run *Run) []text {
	if !slices.ContainsFunc(run.Days, func(d RunDay) bool { return d.Cut || d.LoadsCut || d.Open }) {
		return nil
	}
	b := &run.System.Bank
	type stop struct {
		volts float64
		words string
	}
	var stops []stop
	if len(run.System.Inverters) > 0 && b.InverterOffV > 0 {
		stops = append(stops, stop{b.InverterOffV, "the inverter stops at %.1f V"})
	}
	dark := dies(run)
	if b.LoadsOffV > 0 {
		stops = append(stops, stop{b.LoadsOffV, "the loads are cut off at %.1f V" + dark})
		dark = ""
	}
	if b.OpensV > 0 {
		stops = append(stops, stop{b.OpensV, "the battery's own electronics open at %.1f V and everything is dark" + dark})
	}
	slices.SortStableFunc(stops, func(x, y stop) int { return cmp.Compare(y.volts, x.volts) })
	words := make([]string, len(stops))
	for i, s := range stops {
		words[i] = fmt.Sprintf(s.words, s.volts)
	}
	return []text{same("As the bank empties: " + figure.List(words) + ".")}
}

// chartedKg is the size of cylinder whose cold draw was charted [kg]: 100 lb.
const chartedKg = 45.359237

// starved tells of nights on which cold kept a cylinder from feeding the flame.
func starved(run *Run) []text {
	nights := 0
	for _, d := range run.Days {
		if d.StarvedH >= 0.5 {
			nights++
		}
	}
	if nights == 0 {
		return nil
	}
	return []text{say("On %s the cylinder in use is too cold, or too empty for the cold, to feed %s as vapour (sizes other than %s are good to 30 %%): keep it full, change it early, or use a larger one.",
		plural(nights, "night"), quantity.Quantity{Base: run.StarvedW, Kind: quantity.Power, Unit: "BTU/h"}, of(chartedKg, quantity.Mass))}
}

// frozen tells of nights on which the acid of a lead-acid bank would freeze.
func frozen(run *Run) []text {
	nights := 0
	var worst *RunDay
	for i := range run.Days {
		d := &run.Days[i]
		if d.FrozenH <= 0 {
			continue
		}
		nights++
		if worst == nil || battery.FreezingC(d.FrozenSoC)-d.FrozenC > battery.FreezingC(worst.FrozenSoC)-worst.FrozenC {
			worst = d
		}
	}
	if worst == nil {
		return nil
	}
	return []text{say("On %s the battery would freeze and its cases burst: at %.0f %% charge its acid freezes at about %s, and it is down to %s. Keep it charged, or warm, or take it out.",
		plural(nights, "night"), 100*worst.FrozenSoC, degrees(battery.FreezingC(worst.FrozenSoC)), degrees(worst.FrozenC))}
}

// degrees is a temperature without a fraction.
func degrees(tC float64) text {
	return text{us: quantity.Digits(math.Round(tC*1.8+32), 3, 0) + " °F", metric: quantity.Digits(math.Round(tC), 3, 0) + " °C"}
}

// dies names what goes dark with the DC side that people rely on.
func dies(run *Run) string {
	var names []string
	for i := range run.System.Loads {
		l := &run.System.Loads[i]
		if l.Bus != system.DC || l.Part != "blower" && !guards(l.Name) {
			continue
		}
		name := l.Name
		if l.Part == "blower" {
			name += " blower"
		}
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return " (" + figure.List(names) + ")"
}

// tooCold is how a day is marked on which cold kept the bank from charging.
const tooCold = "too cold to charge for a time"
