package check

import (
	"fmt"
	"math"
	"slices"

	"campwright/convert"
	"campwright/quantity"
	"campwright/sun"
	"campwright/system"
)

// What rules of thumb about places, light and height come to for a rig, and those about hookups and cables.

func winterHere(c Case) []string {
	var lines []string
	for i := range c.Sites {
		s := &c.Sites[i]
		if !s.HasClimate() {
			continue
		}
		winter, summer := 11, 5
		if s.Climate.Latitude < 0 {
			winter, summer = summer, winter
		}
		lines = append(lines, fmt.Sprintf("%s, %.0f degrees from the equator, a level roof gets %.1f sun hours in %s and %.1f in %s: %.0f %%.", upperFirst(At(s)), math.Abs(s.Climate.Latitude),
			s.Climate.Horizontal[winter], Months[winter], s.Climate.Horizontal[summer], Months[summer], 100*s.Climate.Horizontal[winter]/s.Climate.Horizontal[summer]))
	}
	return lines
}

// steep is the tilt by which the rule is judged [deg].
const steep = 45

// worthTilting is the gain from which on climbing the roof is taken to pay. Common practice, no source.
const worthTilting = 1.2

func tiltHere(c Case) []string {
	var lines []string
	for i := range c.Sites {
		s := &c.Sites[i]
		if !s.HasClimate() {
			continue
		}
		var good []string
		most, at := 0.0, 0
		for m := range 12 {
			t, err := (sun.MonthlyTilt{Latitude: s.Climate.Latitude, DayOfYear: sun.MeanDays[m], Tilt: steep, Albedo: albedo, Global: 1000 * s.Climate.Horizontal[m], Constant: sun.SolarConstantGueymard}).Tilted()
			if err != nil || s.Climate.Horizontal[m] <= 0 {
				continue
			}
			gain := t.Total / (1000 * s.Climate.Horizontal[m])
			if gain > most {
				most, at = gain, m
			}
			if gain >= worthTilting {
				good = append(good, Months[m])
			}
		}
		pays := "it pays in no month"
		if len(good) > 0 {
			pays = "it brings a fifth more or better in " + ranges(fromAutumn(good))
		}
		lines = append(lines, fmt.Sprintf("%s %d degrees toward the equator bring %+.0f %% in %s; %s.", upperFirst(At(s)), steep, 100*(most-1), Months[at], pays))
	}
	return lines
}

// fromAutumn turns a list of months that runs over the year's end so that it begins in autumn.
func fromAutumn(names []string) []string {
	for i := 1; i < len(names); i++ {
		if slices.Index(Months[:], names[i]) != slices.Index(Months[:], names[i-1])+1 {
			return append(append([]string(nil), names[i:]...), names[:i]...)
		}
	}
	return names
}

func shadowHere(c Case) []string {
	var lines []string
	for i := range c.Sites {
		s := &c.Sites[i]
		if !s.HasClimate() {
			continue
		}
		lowest, at := 90.0, 0
		for _, m := range s.Months {
			if h := noonHeight(s, m); h < lowest {
				lowest, at = h, m
			}
		}
		if lowest > 0 {
			lines = append(lines, fmt.Sprintf("%s the noon sun of %s stands %.0f degrees high: a shadow of %.1f times the height.", upperFirst(At(s)), Months[at], lowest, 1/math.Tan(lowest*math.Pi/180)))
		}
	}
	return lines
}

func breakerHere(c Case) []string {
	var lines []string
	for _, p := range c.Services() {
		post := c.Post(p.Service)
		lines = append(lines, fmt.Sprintf("%s on the %s hookup: %s for hours, %s in all.", upperFirst(At(p.Sites[0])), post.Name, Say(post.Continuous*post.Amps, quantity.Current), Say(post.ContinuousVA(), quantity.Power)))
	}
	return lines
}

func heightHere(c Case) []string {
	var lines []string
	for i := range c.Doc.Generators {
		g := &c.Doc.Generators[i]
		rule, _ := convert.ParseDerating(g.Derating)
		for k := range c.Sites {
			s := &c.Sites[k]
			if math.IsNaN(s.ElevationM) {
				continue
			}
			air := convert.Air{ElevationM: s.ElevationM}
			lines = append(lines, fmt.Sprintf("%s %s, %s: %s of its %s by its own rule, %s by this one.", g.Name, At(s), c.Say(s.ElevationM, quantity.Length), Say(rule.Share(air)*g.Power.Quantity.Base, quantity.Power),
				Say(g.Power.Quantity.Base, quantity.Power), Say(convert.Per1000ft.Share(air)*g.Power.Quantity.Base, quantity.Power)))
		}
	}
	return lines
}

func dropHere(c Case) []string {
	var lines []string
	for i := range c.Doc.Arrays {
		a := &c.Doc.Arrays[i]
		m := c.Module(a.Module)
		if m == nil || a.Run == nil {
			continue
		}
		ohm, _, _ := system.RunOhm(a.Run, hotLineC)
		amps, volts := m.Imp.Quantity.Base*a.Strings.Quantity.Base, m.Vmp.Quantity.Base*a.InSeries.Quantity.Base
		lines = append(lines, fmt.Sprintf("%s at its full current loses %s of %s, %.1f %%, which is %s.", a.Name, Say(amps*ohm, quantity.Voltage), Say(volts, quantity.Voltage), 100*amps*ohm/volts, Say(amps*amps*ohm, quantity.Power)))
	}
	return lines
}
