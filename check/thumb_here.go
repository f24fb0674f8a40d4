package check

import (
	"fmt"
	"math"
	"slices"

	"campwright/quantity"
	"campwright/sun"
	"campwright/system"
)

// What rules of thumb come to for a rig. Each line names where and when, and figures at the bank's own voltage.

// practiceFactor is the array factor that the rules of thumb speak of. Common practice, no source.
const practiceFactor = 0.75

// arrayW returns the label power of all arrays [W].
func arrayW(c Case) float64 {
	w := 0.0
	for i := range c.Doc.Arrays {
		a := &c.Doc.Arrays[i]
		if m := c.Module(a.Module); m != nil {
			w += m.Power.Quantity.Base * a.InSeries.Quantity.Base * a.Strings.Quantity.Base
		}
	}
	return w
}

// darkest returns the day with the least light of every site, stops first.
func darkest(c Case) []Day {
	var list []Day
	for i := range c.Sites {
		if d, ok := c.Darkest(&c.Sites[i]); ok {
			list = append(list, d)
		}
	}
	return list
}

// when names a day: "at home in December".
func when(d Day) string { return At(d.Site) + " in " + Months[d.Month] }

func ratioHere(c Case) []string {
	if c.Doc.Bank == nil || !c.Doc.Bank.Block.Capacity.Stands() {
		return nil
	}
	label, usable := c.UsableWh()
	watts, volts := arrayW(c), c.BankV()
	per := watts / (label / twelve / 100)
	lines := []string{fmt.Sprintf("%s on %s at %s: that is %s for each 100 Ah of a 12.8 V bank.", Say(watts, quantity.Power), Say(label/volts, quantity.Charge), Say(volts, quantity.Voltage), Say(per, quantity.Power))}
	if math.Abs(volts-twelve) > 1 {
		lines = append(lines, fmt.Sprintf("By the amp-hours as they stand at %s it would read %s for 100 Ah: the rule means 12 V.", Say(volts, quantity.Voltage), Say(100*watts/(label/volts), quantity.Power)))
	}
	for _, d := range darkest(c) {
		in := watts * practiceFactor * d.SunWh / 1000
		use := d.Budget.TotalWh
		switch {
		case in <= 0:
			lines = append(lines, fmt.Sprintf("%s nothing comes in, whatever the ratio.", upperFirst(when(d))))
		case in <= use:
			lines = append(lines, fmt.Sprintf("%s %s a day come in and %s are used: no ratio of watts to amp-hours fills it there.", upperFirst(when(d)), Say(in, quantity.Energy), Say(use, quantity.Energy)))
		default:
			holds := "it holds"
			switch days := usable / (in - use); {
			case days > fewDays:
				holds = "it does not hold"
			case days > twoDays:
				holds = "it holds for those who can wait"
			}
			lines = append(lines, fmt.Sprintf("%s %s: %s a day come in, %s are used, and the %s above the reserve are refilled in %.1f days.", upperFirst(when(d)), holds, Say(in, quantity.Energy), Say(use, quantity.Energy), Say(usable, quantity.Energy), usable/(in-use)))
		}
	}
	return lines
}

// In how many days an array should refill its bank besides the day's use for the ratio to be called right, and to be of any use. Common
// practice, no source.
const twoDays, fewDays = 2, 7

// twelve is the bank voltage that rules of thumb are made for [V].
const twelve = 12.8

// upperFirst begins a sentence.
func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}

func depthHere(c Case) []string {
	b := c.Doc.Bank
	if b == nil || !b.Block.Capacity.Stands() {
		return nil
	}
	label, usable := c.UsableWh()
	share := 100 * usable / label
	low, high := 80.0, 90.0
	if b.Chemistry != "LFP" {
		low, high = 0, 50
	}
	verdict := "within the rule"
	switch {
	case share > high+0.01:
		verdict = "deeper than the rule"
	case share < low-0.01:
		verdict = "more careful than the rule"
	}
	return []string{fmt.Sprintf("%s, %s on its label at %s, floor %.0f %%: %s can be used, %.0f %%, %s.", b.Chemistry, Say(label, quantity.Energy), Say(c.BankV(), quantity.Voltage), 100*c.Doc.Aims.Floor.Quantity.Base, Say(usable, quantity.Energy), share, verdict)}
}

// ruleHours is the sun that the rule of five promises [h].
const ruleHours = 5

func sunHere(c Case) []string {
	var lines []string
	watts := arrayW(c)
	for i := range c.Sites {
		s := &c.Sites[i]
		var good []string
		least, most := math.Inf(1), math.Inf(-1)
		for _, d := range c.Days() {
			if d.Site != s {
				continue
			}
			h := d.SunWh / 1000
			least, most = math.Min(least, h), math.Max(most, h)
			if h >= ruleHours {
				good = append(good, Months[d.Month])
			}
		}
		if math.IsInf(least, 1) {
			continue
		}
		holds := "it never holds"
		if len(good) == len(s.Months) {
			holds = "it holds all the time"
		} else if len(good) > 0 {
			holds = "it holds in " + ranges(good)
		}
		span := fmt.Sprintf("%.1f to %.1f", least, most)
		if most-least < 0.05 {
			span = fmt.Sprintf("%.1f", most)
		}
		line := fmt.Sprintf("%s the arrays see %s sun hours over the stay: %s.", upperFirst(At(s)), span, holds)
		if s.Home {
			line = fmt.Sprintf("At home the arrays see %s sun hours over the year: %s.", span, holds)
		}
		if watts > 0 && least < ruleHours {
			line += fmt.Sprintf(" Five would promise %s a day; the least is %s.", Say(watts*practiceFactor*ruleHours, quantity.Energy), Say(watts*practiceFactor*least, quantity.Energy))
		}
		lines = append(lines, line)
	}
	return lines
}

// ranges joins months that follow each other: "March to August", "May and July".
func ranges(names []string) string {
	if n := len(names); n > 2 {
		first := slices.Index(Months[:], names[0])
		if Months[(first+n-1)%12] == names[n-1] {
			return names[0] + " to " + names[n-1]
		}
	}
	out := ""
	for i, n := range names {
		switch {
		case i == 0:
		case i == len(names)-1:
			out += " and "
		default:
			out += ", "
		}
		out += n
	}
	return out
}

func factorHere(c Case) []string {
	watts, volts := arrayW(c), c.BankV()
	if watts == 0 {
		return nil
	}
	var lines []string
	for _, d := range darkest(c) {
		wh := watts * practiceFactor * d.SunWh / 1000
		lines = append(lines, fmt.Sprintf("%s: %s × %.1f h × 0.75 = %s, which is %s at the bank's %s.", upperFirst(when(d)), Say(watts, quantity.Power), d.SunWh/1000, Say(wh, quantity.Energy), Say(wh/volts, quantity.Charge), Say(volts, quantity.Voltage)))
	}
	return lines
}

func thirdsHere(c Case) []string {
	if c.Sys == nil {
		return nil
	}
	var lines []string
	for i := range c.Doc.Appliances {
		a := &c.Doc.Appliances[i]
		if a.Kind != "compressor refrigerator" && a.Kind != "absorption refrigerator" {
			continue
		}
		for k := range c.Sys.Loads {
			l := &c.Sys.Loads[k]
			if l.Name != a.Name || l.ByAir == nil {
				continue
			}
			for j := range c.Sites {
				if s := &c.Sites[j]; s.Lived && s.HasClimate() {
					hot, cold := l.ByAir.At(hottestMean(s)), l.ByAir.At(coldestMean(s))
					lines = append(lines, fmt.Sprintf("%s runs %.0f %% of the time in the coldest month %s and %.0f %% in the warmest.", a.Name, 100*cold, At(s), 100*hot))
				}
			}
			break
		}
	}
	for i := range c.Sites {
		s := &c.Sites[i]
		if !s.HasClimate() {
			continue
		}
		var good []string
		best := 0.0
		for _, m := range s.Months {
			share := math.Sin(noonHeight(s, m)*math.Pi/180) * levelLosses
			best = math.Max(best, share)
			if share >= 2.0/3 {
				good = append(good, Months[m])
			}
		}
		holds := "never two thirds"
		if len(good) > 0 {
			holds = "two thirds in " + ranges(good)
		}
		lines = append(lines, fmt.Sprintf("%s a level array gives %.0f %% of its label at the best clear noon: %s.", upperFirst(At(s)), 100*best, holds))
	}
	return lines
}

// levelLosses is what warm cells, cable, controller and dirt leave of a clear noon. Common practice, no source: 0.895 for cells at 55 °C, 0.9
// for the rest.
const levelLosses = 0.895 * 0.9

func hottestMean(s *system.Site) float64 {
	t := math.Inf(-1)
	for _, m := range s.Months {
		t = math.Max(t, s.Climate.Temperature[m])
	}
	return t
}

func coldestMean(s *system.Site) float64 {
	t := math.Inf(1)
	for _, m := range s.Months {
		t = math.Min(t, s.Climate.Temperature[m])
	}
	return t
}

// noonHeight returns how high the sun stands at noon on the mean day of a month [deg].
func noonHeight(s *system.Site, month int) float64 {
	return math.Max(0, 90-math.Abs(s.Climate.Latitude-sun.DeclinationCooper(sun.MeanDays[month])))
}

func idleHere(c Case) []string {
	var lines []string
	for i := range c.Doc.Inverters {
		v := &c.Doc.Inverters[i]
		w := Watts("P", "", v.Idle, c.BankV()).Figure.Value
		label, _ := c.UsableWh()
		line := fmt.Sprintf("%s: %s to be on are %s a day at %s", v.Name, Say(w, quantity.Power), Say(24*w/c.BankV(), quantity.Charge), Say(c.BankV(), quantity.Voltage))
		if label > 0 {
			line += fmt.Sprintf(", %.0f %% of the bank", 100*24*w/label)
		}
		if kw := v.Power.Quantity.Base / 1000; kw > 0 {
			line += fmt.Sprintf("; %.0f W for each kilowatt of its rating", w/kw)
		}
		lines = append(lines, line+".")
	}
	return lines
}

func ceilingHere(c Case) []string {
	var lines []string
	for i := range c.Doc.Inverters {
		v := &c.Doc.Inverters[i]
		if !v.Power.Stands() || v.Efficiency.Quantity.Base <= 0 {
			continue
		}
		at := func(volts float64) float64 { return v.Power.Quantity.Base / v.Efficiency.Quantity.Base / volts }
		low := c.BankV() * 12 / twelve
		lines = append(lines, fmt.Sprintf("%s at its full %s takes %s from a low bank at %s; at twice the voltage half of that.", v.Name, Say(v.Power.Quantity.Base, quantity.Power), Say(at(low), quantity.Current), Say(low, quantity.Voltage)))
	}
	return lines
}

func inverterHere(c Case) []string {
	var lines []string
	largest, name := 0.0, ""
	for i := range c.Doc.Appliances {
		if a := &c.Doc.Appliances[i]; a.Runs == "ac" && Element(a).Rate.Stands() {
			if w := Watts("P", "", Element(a).Rate, c.OutletV()).Figure.Value; w > largest {
				largest, name = w, a.Name
			}
		}
	}
	for i := range c.Doc.Inverters {
		v := &c.Doc.Inverters[i]
		if largest > 0 && v.Power.Stands() {
			lines = append(lines, fmt.Sprintf("%s: its largest load is %s with %s; times 1.25 is %s of its %s.", v.Name, name, Say(largest, quantity.Power), Say(1.25*largest, quantity.Power), Say(v.Power.Quantity.Base, quantity.Power)))
		}
	}
	return lines
}

func rateHere(c Case) []string {
	if c.Doc.Bank == nil || !c.Doc.Bank.Block.Capacity.Stands() {
		return nil
	}
	ah := c.BankAh("C").Figure.Value
	var lines []string
	for _, set := range c.Coincident() {
		amps := 0.0
		for _, s := range set.Sources {
			amps += s.Amps.Figure.Value
		}
		lines = append(lines, fmt.Sprintf("%s all chargers together bring %s into %s at %s: %.2f of its amp-hours. Its limit is %s.", upperFirst(set.When), Say(amps, quantity.Current), Say(ah, quantity.Charge),
			Say(c.BankV(), quantity.Voltage), amps/ah, Say(c.Doc.Bank.Block.ChargeLimit.Quantity.Base*math.Max(1, c.Doc.Bank.Blocks.Quantity.Base), quantity.Current)))
	}
	return lines
}

func oversizeHere(c Case) []string {
	var lines []string
	for i := range c.Doc.Controllers {
		k := &c.Doc.Controllers[i]
		watts := 0.0
		for _, a := range c.ArraysOn(k.Name) {
			if m := c.Module(a.Module); m != nil {
				watts += m.Power.Quantity.Base * a.InSeries.Quantity.Base * a.Strings.Quantity.Base
			}
		}
		if passes := k.Output.Quantity.Base * c.ChargingV(); watts > 0 && passes > 0 {
			lines = append(lines, fmt.Sprintf("%s: %s of array on %s at %s is %.0f %%.", k.Name, Say(watts, quantity.Power), Say(passes, quantity.Power), Say(c.ChargingV(), quantity.Voltage), 100*watts/passes))
		}
	}
	return lines
}
