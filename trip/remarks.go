package trip

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// placeRemarks says what the climates of the places leave out, in the months of the stay; of the light only to a rig with modules.
func (f *Forecast) placeRemarks(sunny bool) []text {
	var list []text
	for s := range f.places {
		seen := map[time.Month]bool{}
		for _, day := range f.course.Spans[s].Civil {
			month := day.Date.Month()
			if seen[month] {
				continue
			}
			seen[month] = true
			climate := &f.places[s].climate
			remarks := climate.RemarksWithoutSun
			if sunny {
				remarks = climate.RemarksIn
			}
			us, metric := remarks(int(month)-1, quantity.US), remarks(int(month)-1, quantity.Metric)
			for k := range metric {
				r := text{us: upper(us[k]), metric: upper(metric[k])}
				if len(f.places) > 1 {
					r = say("%s: %s", f.plan.Sites[s].called(), r)
				}
				if !slices.Contains(list, r) {
					list = append(list, r)
				}
			}
		}
	}
	return list
}

// remarks says what the answer leans on: wind, what is not known, the widest guess, a hookup that does not fit.
func (f *Forecast) remarks(a Answer, doc *rig.Rig, guesses []rig.Value, sunny bool) []text {
	var list []text
	if sunny {
		list = append(list, say("Wind is not known; %s is taken, a guess.", of(f.places[0].climate.Wind, quantity.Speed)))
	}
	for i := range f.course.Sites {
		if s := &f.course.Sites[i]; s.Hookup != "" && s.Hookup != "none" && !f.fed(i) {
			list = append(list, say("%s: the rig's inlet cannot be plugged into %s, or the file names no inlet; nothing is taken from it.", s.called(), s.Hookup))
		}
	}
	list = append(list, f.unturned(doc)...)
	list = append(list, allHours(doc)...)
	for _, g := range guesses {
		if g.State == figure.Unknown && slices.ContainsFunc(a.Guesses, func(w Guess) bool { return w.Path == g.At.Path }) {
			list = append(list, say("Not known: %s; anything from %s to %s is taken. To settle it: %s.", nameOf(g.At.Path), written(g, g.Low), written(g, g.High), reading(g)))
		}
	}
	if len(a.Guesses) > 0 {
		list = append(list, say("The guess that widens the answer most: %s (%.0f %% of its spread). To settle it: %s.", a.Guesses[0].Name, 100*a.Guesses[0].Share, a.Guesses[0].Reading))
	} else {
		list = append(list, same("No guess widens the answer much: its spread is the weather's."))
	}
	return list
}

// noVehicle tells of a charge line that begins nowhere.
func noVehicle(doc *rig.Rig) []text {
	if len(doc.ChargeLine) == 0 || doc.Vehicle != nil {
		return nil
	}
	return []text{same("The charge line has no vehicle before it in the file, so nothing is taken from the engine.")}
}

// leftOn tells of inverters of which the file does not say when they are on, and what it costs that they are taken as left on.
func leftOn(doc *rig.Rig, run *Run) []text {
	var list []text
	days := float64(run.Course.N) * run.Course.StepH / 24
	for i := range doc.Inverters {
		v := &doc.Inverters[i]
		wh := math.Round(run.IdleWh[i] / days)
		if v.On.State != figure.Default || v.On.Word != "always" || wh < 1 {
			continue
		}
		list = append(list, say("Nothing is said of when %s is on: it is taken as left on day and night, and takes %s a day while nothing runs on it. If it is switched off then, say so: on when used, or its hours.",
			called("inverter", v.Name), of(wh, quantity.Energy)))
	}
	return list
}

// called names a part by its kind, once.
func called(kind, name string) string {
	if strings.Contains(strings.ToLower(name), kind) {
		return name
	}
	return kind + " " + name
}

// wider is how much longer than usual an appliance's hours must be for it to be told that they are all taken as running.
const wider = 1.5

// allHours tells of appliances that are given hours and no running time, where the hours are much longer than such a thing usually runs: they count as
// running for all of them.
func allHours(doc *rig.Rig) []text {
	var list []text
	for i := range doc.Appliances {
		a := &doc.Appliances[i]
		draw := &a.Power
		if a.Runs == "propane" {
			draw = &a.Propane
		}
		usual, known := system.UsualHours(a.Name)
		if !known || a.Kind != "plain" || a.Runs == "off" || a.On.State < figure.About || a.PerDay.Given() || draw.Duty.Given() {
			continue
		}
		hours := float64(a.On.Minutes()) / 60
		switch a.On.Word {
		case "always":
			hours = 24
		case "night":
			hours = 11
		case "day":
			hours = 13
		}
		if hours > wider*usual {
			list = append(list, say("%s counts as running for all of its hours, %s a day; such a thing usually runs for %s. If it only runs within its hours, say how long: per day.",
				upper(a.Name), of(hours, quantity.Duration), of(usual, quantity.Duration)))
		}
	}
	return list
}

// unturned tells of tilted arrays that turn with the rig, at stops that do not say how it stands.
func (f *Forecast) unturned(doc *rig.Rig) []text {
	var list []text
	for i := range doc.Arrays {
		a := &doc.Arrays[i]
		if !a.FacesOnRig.Known() || a.Tilt.Quantity.Base < level {
			continue
		}
		taken := "the equator"
		if a.Faces.Known() {
			taken = fmt.Sprintf("%.0f°", a.Faces.Quantity.Base)
		}
		for s := range f.course.Sites {
			if site := &f.course.Sites[s]; math.IsNaN(site.Heading) {
				list = append(list, say("%s: which way the rig stands is not said (heading); %s is taken to face %s there.", site.called(), a.Name, taken))
			}
		}
	}
	return list
}

// fed tells whether a site's hookup feeds the rig.
func (f *Forecast) fed(site int) bool { return f.hooks[site].service.Amps > 0 }

// written is a number of a value's kind, in the unit that its owner wrote where that fits the system.
func written(v rig.Value, base float64) quantity.Quantity {
	return quantity.Quantity{Base: base, Kind: v.Quantity.Kind, Unit: v.Quantity.Unit}
}

// dayNumber is the civil day of a date for the generator of days.
func dayNumber(t time.Time) int {
	return int(time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC).Unix() / 86400)
}
