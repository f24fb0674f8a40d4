package starter

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"time"

	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// Worth is what knowing one guess would be worth.
type Worth struct {
	Path    string  `json:"path"`
	Name    string  `json:"name"`    // as people would say it
	Store   string  `json:"store"`   // the store it moves most: battery, propane, fresh water, grey tank, black tank
	PerDay  float64 `json:"perDay"`  // by how much of that store a day, between the ends of the guess [1]
	Reading string  `json:"reading"` // what would settle it
}

// Where it is not said where the rig stands, this light [kWh/m²/day] and air [°C] is taken. Common practice, no source.
const (
	anySun  = 4.0
	anyAirC = 15.0
)

// WorthMeasuring returns the guesses of a completed document by what their span does to a mean day of the first stop, most first: each is
// put at one end and the other while all else stays. Guesses that move nothing are left out, and so are those of driving, which a day at
// camp does not see. around says whose light and air were taken. A document that cannot be assembled gives none.
func WorthMeasuring(full *rig.Rig) (list []Worth, around string) {
	kit, err := system.NewKit(full)
	if err != nil {
		return nil, ""
	}
	sun, airC, around := surroundings(full)
	day := func(path string, share float64) (Day, bool) {
		sys, err := kit.Assemble(system.Member(map[string]float64{path: share}), 60)
		if err != nil {
			return Day{}, false
		}
		return MeanDay(sys, sun, airC), true
	}
	for _, g := range system.Guesses(full) {
		path := g.At.Path
		low, ok1 := day(path, 0)
		high, ok2 := day(path, 1)
		if !ok1 || !ok2 {
			continue
		}
		w := Worth{Path: path, Name: guessName(path), Reading: readingFor(g)}
		for _, s := range []struct {
			name      string
			low, high float64
		}{{"battery", low.Battery, high.Battery}, {"propane", low.Propane, high.Propane}, {"fresh water", low.Fresh, high.Fresh}, {"grey tank", low.Grey, high.Grey}, {"black tank", low.Black, high.Black}} {
			if moved := math.Abs(s.high - s.low); moved > w.PerDay {
				w.Store, w.PerDay = s.name, moved
			}
		}
		if w.PerDay > 1e-6 {
			list = append(list, w)
		}
	}
	slices.SortStableFunc(list, func(a, b Worth) int { return cmp.Compare(b.PerDay, a.PerDay) })
	return list, around
}

// surroundings returns light and air where the rig stands: of the darkest month of its first stop, else of its home's year.
func surroundings(full *rig.Rig) (sun, airC float64, around string) {
	for _, s := range full.Trip {
		if s.Place.State < figure.About || !s.From.Given() {
			continue
		}
		c, problem := findCamp(s.Place.Text())
		if problem.Problem != "" {
			continue
		}
		nights := int(math.Max(1, math.Min(MostNights, s.Nights.Quantity.Base)))
		month, sun, airC := c.darkest(months(s.From, nights))
		return sun, airC, c.text + " in " + month.String()
	}
	if full.Home != nil && full.Home.Place.State >= figure.About {
		if c, problem := findCamp(full.Home.Place.Text()); problem.Problem == "" {
			all := make([]time.Month, 12)
			for i := range all {
				all[i] = time.Month(i + 1)
			}
			month, sun, airC := c.darkest(all)
			return sun, airC, "home in " + month.String()
		}
	}
	return anySun, anyAirC, "a place of middling sun"
}

// guessName says a path as people would: "appliances/fan/power/rate" is "fan, power".
func guessName(path string) string {
	path = strings.TrimSuffix(path, "/rate")
	parts := strings.Split(path, "/")
	switch {
	case len(parts) > 2 && slices.Contains([]string{"appliances", "arrays", "controllers", "inverters", "modules", "generators"}, parts[0]):
		parts = parts[1:]
	case len(parts) == 2 && (parts[0] == "stores" || parts[0] == "aims"):
		parts = parts[1:]
	}
	return strings.Join(parts, ", ")
}

// readingFor says what would settle a guess.
func readingFor(v rig.Value) string {
	tail := v.At.Path[strings.LastIndexByte(v.At.Path, '/')+1:]
	if r, ok := readings[tail]; ok {
		return r
	}
	switch v.Quantity.Kind {
	case quantity.Power, quantity.Current:
		return "a clamp meter or a plug-in watt meter while it runs"
	case quantity.Length:
		return "a tape along its way"
	case quantity.Duration:
		return "its hours, noted over two ordinary days"
	case quantity.Temperature, quantity.TempDifference:
		return "a thermometer left there overnight"
	case quantity.Voltage:
		return "its manual, or a voltmeter when it happens"
	}
	return "its label or data sheet"
}

// readings are what settles a guess, by the last key of its path.
var readings = map[string]string{
	"duty":             "its running minutes, counted over an hour",
	"heat loss":        "the furnace's running hours over one cold night",
	"soiling":          "amps at noon before and after wiping one module",
	"mismatch":         "the controller's watts at a clear noon against its rating",
	"shade":            "amps at noon, in the morning and in the afternoon of a clear day",
	"capacity":         "a capacity test: from full, under a constant load, to a fixed stop",
	"health":           "a capacity test: from full, under a constant load, to a fixed stop",
	"resistance":       "volts at its posts at rest and under a known load",
	"idle":             "a clamp meter on its lead with nothing plugged in",
	"water per person": "the tank's level on two days",
	"grey share":       "both tanks' levels on two days",
	"black per person": "the tank's level on two days",
	"keeps":            "what the thermostat is set to",
}
