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

// assemble makes the answer out of what the members told.
func (f *Forecast) assemble(doc *rig.Rig, kit *system.Kit, guesses []rig.Value, draws map[string][]float64, runs []memberRun) (Answer, error) {
	run, err := f.typical(kit, runs)
	if err != nil {
		return Answer{}, err
	}
	plan := f.plan
	plan.Rig = *doc
	a := Answer{Rig: doc.Name, Basis: basisOf(plan, f.course)}
	a.Basis.Members, a.Basis.Seed = f.members, f.seed
	a.Basis.Weather = f.places[0].climate.Source
	a.fill(run)
	a.Stores = f.stores(run, runs)
	explain(a.Stores, run)
	f.bands(a.Days, runs)
	a.Nights = f.nights(run, runs)
	a.Power = f.power(doc, runs)
	target, _ := f.target(runs)
	a.Guesses = widest(guesses, draws, target)
	a.climateRemarks = f.placeRemarks()
	a.Remarks = append(append(append(emptying(run), starved(run)...), a.climateRemarks...), f.remarks(a, guesses, len(run.System.Arrays) > 0)...)
	a.Sentence = a.sentence()
	return a, nil
}

// typical plays, with every watt booked and every guess at its nominal, the weather of the member whose sun over the stay is the median.
func (f *Forecast) typical(kit *system.Kit, runs []memberRun) (*Run, error) {
	sys, err := kit.Assemble(system.Draw{}, f.course.StepMin)
	if err != nil {
		return nil, err
	}
	m := f.median()
	c := f.course
	w := Weather{GHI: make([]float64, c.N), DNI: make([]float64, c.N), DHI: make([]float64, c.N), AirC: make([]float64, c.N), WindMS: make([]float64, c.N)}
	work := &worker{f: f}
	work.grow(sys)
	skies := make([]openSky, len(f.places))
	for s := range f.places {
		if err := work.weather(s, m, nil); err != nil {
			return nil, err
		}
		skies[s] = openSky{beam: 1, sky: 1}
		if f.places[s].roofed {
			skies[s] = openSky{}
		}
		from, to, lead := c.From[s], c.From[s+1], c.Spans[s].Lead
		n := to - from
		copy(w.GHI[from:to], work.lights[s].GHI[lead:lead+n])
		copy(w.DNI[from:to], work.lights[s].DNI[lead:lead+n])
		copy(w.DHI[from:to], work.lights[s].DHI[lead:lead+n])
		copy(w.AirC[from:to], work.air[s][lead:lead+n])
		for i := from; i < to; i++ {
			w.WindMS[i] = f.places[s].climate.Wind
		}
	}
	r := newRunner(sys, c, !f.plan.Parked)
	lightOn(sys, c, w, f.kept.planes, skies, r.offers)
	return r.run(w), nil
}

// median returns the member whose sun over the stay, as clearness summed over days, is the median. It hangs on the weather alone, so that
// two rigs on one stay are shown the same days.
func (f *Forecast) median() int {
	type total struct {
		member int
		sum    float64
	}
	all := make([]total, f.members)
	work := &worker{f: f}
	for m := range all {
		all[m].member = m
		for s := range f.places {
			span := &f.course.Spans[s]
			work.days = slices.Grow(work.days[:0], len(span.Civil))[:len(span.Civil)]
			f.places[s].days.Days(m, dayNumber(span.Civil[0].Date), work.days)
			for d := range work.days {
				all[m].sum += work.days[d].Clearness * f.places[s].skies[d].Above()
			}
		}
	}
	slices.SortFunc(all, func(a, b total) int {
		switch {
		case a.sum < b.sum:
			return -1
		case a.sum > b.sum:
			return 1
		}
		return a.member - b.member
	})
	return all[len(all)/2].member
}

// ends returns, for every member, the days after which a store ended; +Inf for one that outlasts the stay.
func (f *Forecast) ends(runs []memberRun, step func(*memberRun) int) []float64 {
	out := make([]float64, len(runs))
	for m := range runs {
		out[m] = math.Inf(1)
		if i := step(&runs[m]); i >= 0 {
			out[m] = float64(i+1) * f.course.StepH / 24
		}
	}
	return out
}

// stores returns how long each store lasts over all members, the soonest end first.
func (f *Forecast) stores(run *Run, runs []memberRun) []StoreEnd {
	stay := float64(f.course.N) * f.course.StepH / 24
	list := storesOf(run)
	for k := range list {
		s := &list[k]
		var days []float64
		switch s.Store {
		case "battery":
			days = f.ends(runs, func(r *memberRun) int { return r.below })
		case "propane":
			days = f.gasDays(runs)
		case "generator fuel": // hangs on the hours of the itinerary, the same in every run
			lasts := s.Lasts.Value / 24
			days = eachOf(runs, func(*memberRun) float64 { return lasts })
		default:
			days = f.tankDays(runs, s.Store)
		}
		f.endOf(s, days, stay)
	}
	slices.SortStableFunc(list, func(x, y StoreEnd) int {
		switch a, b := x.order(), y.order(); {
		case a < b:
			return -1
		case a > b:
			return 1
		}
		return y.Chance.Count - x.Chance.Count
	})
	return list
}

// order is what stores are listed by: the day on which they usually end.
func (e StoreEnd) order() float64 {
	if e.AtLeast {
		return math.Inf(1)
	}
	return e.Lasts.Value
}

func eachOf(runs []memberRun, days func(*memberRun) float64) []float64 {
	out := make([]float64, len(runs))
	for m := range runs {
		out[m] = days(&runs[m])
	}
	return out
}

// tankDays returns how long a tank of each member lasts.
func (f *Forecast) tankDays(runs []memberRun, name string) []float64 {
	return eachOf(runs, func(r *memberRun) float64 {
		for _, t := range tanksOf(r.water) {
			if t.name == name {
				days, _ := t.lasts(f.course)
				return days
			}
		}
		return math.Inf(1)
	})
}

// gasDays returns how long the propane of each member lasts: to the step, or, past the stay, at the mean use of the stay.
func (f *Forecast) gasDays(runs []memberRun) []float64 {
	out := f.ends(runs, func(r *memberRun) int { return r.gasOut })
	nights := float64(len(f.course.Days))
	for m := range out {
		if !math.IsInf(out[m], 1) {
			continue
		}
		used := 0.0
		for _, kg := range runs[m].gas {
			used += float64(kg)
		}
		if used > 0 {
			out[m] = nights + runs[m].gasLeft/(used/nights)
		}
	}
	return out
}

// endOf writes the range of a store's end over the members: its median, and the ends of the middle 90 %.
func (f *Forecast) endOf(s *StoreEnd, days []float64, stay float64) {
	count := 0
	for _, d := range days {
		if d <= stay {
			count++
		}
	}
	s.Chance = counted(count, len(days))
	if soonest := slices.Min(days); soonest <= stay {
		s.Soonest = 24 * soonest
	}
	low, mid, high := quantile(days, 0.05), quantile(days, 0.5), quantile(days, 0.95)
	s.AtLeast = math.IsInf(mid, 1)
	s.Reached = mid <= stay
	s.Text = rangeText(low, high, stay)
	s.EndsOn = ""
	if !s.AtLeast {
		s.EndsOn = f.course.Start.Add(time.Duration(mid * 24 * float64(time.Hour))).Format("2006-01-02")
	}
	clamp := func(d float64) float64 { return 24 * math.Min(d, math.Max(stay, mid)) }
	if s.AtLeast {
		clamp = func(d float64) float64 { return 24 * math.Min(d, stay) }
	}
	if !math.IsInf(high, 1) {
		clamp = func(d float64) float64 { return 24 * d }
	}
	s.Lasts = figure.Figure{Name: s.Store + " lasts", Value: clamp(mid), Low: clamp(low), High: clamp(high), Kind: quantity.Duration, State: figure.About, Source: "trip"}
}

// rangeText writes a range of days as people say it.
func rangeText(low, high, stay float64) string {
	switch {
	case math.IsInf(low, 1):
		return "more than the stay"
	case math.IsInf(high, 1):
		return dayCount(low) + " to more than the stay"
	case dayCount(low) == dayCount(high):
		return dayCount(low)
	}
	from, to := dayCount(low), dayCount(high)
	if strings.HasSuffix(from, " days") && strings.HasSuffix(to, " days") {
		from = strings.TrimSuffix(from, " days")
	}
	return from + " to " + to
}

// bands writes the band of the daily low over all members into the days.
func (f *Forecast) bands(days []Day, runs []memberRun) {
	lows := make([]float64, len(runs))
	for d := range days {
		for m := range runs {
			lows[m] = float64(runs[m].lows[d])
		}
		days[d].BandLow, days[d].BandHigh = quantile(lows, 0.05), quantile(lows, 0.95)
	}
}

// nights counts the nights below the floor over all members, and tells whether the stay could go on for ever: the chance per night in its
// worst month is within the aim, and the bank does not sink over the last two weeks.
func (f *Forecast) nights(run *Run, runs []memberRun) Nights {
	n := Nights{Floor: run.System.Floor, Aim: run.System.DarkAim, StartsBelow: run.System.Bank.StartSoC < run.System.Floor}
	var dark, all [13]int // by month, from 1
	perRun := make([]float64, len(runs))
	hit := 0
	for m := range runs {
		below := 0
		for d, low := range runs[m].lows {
			month := f.course.Days[d].Evening.Month()
			all[month]++
			if float64(low) < runs[m].floor {
				dark[month]++
				below++
			}
		}
		if below > 0 {
			hit++
		}
		perRun[m] = float64(below) / float64(len(runs[m].lows))
	}
	worst, share := 0, -1.0
	for month := 1; month <= 12; month++ {
		n.Chance.Count += dark[month]
		n.Chance.Of += all[month]
		if all[month] > 0 && float64(dark[month])/float64(all[month]) > share {
			worst, share = month, float64(dark[month])/float64(all[month])
		}
	}
	n.Chance.Low, n.Chance.High = nightBounds(perRun, hit)
	n.Chance.Text = counted(hit, len(runs)).Text
	n.Worst = fmt.Sprintf("%s: %s of nights", time.Month(worst), percent(share))
	n.AimMet = share <= n.Aim
	n.Forever = n.AimMet && len(f.course.Days) >= 14 && !f.sinking(runs)
	n.Sentence = n.words(hit, len(runs))
	return n
}

// nightBounds returns bounds of the chance of a night below the floor, each of which holds with 95 % certainty. The nights of one run hang
// together, so the runs are what is counted: the mean of their shares, give or take 1.645 standard errors; with no such night at all, the
// chance of a run that holds one.
func nightBounds(perRun []float64, hit int) (low, high float64) {
	if hit == 0 {
		return 0, counted(0, len(perRun)).High
	}
	mean := meanOf(perRun)
	half := 1.645 * math.Sqrt(variance(perRun)/float64(len(perRun)-1))
	return math.Max(0, mean-half), math.Min(1, mean+half)
}

// power tells how often what must never lose power went dark. However seldom it is, one bank is one path: a fuse, a lug or its electronics
// can take it away at any time, which no run of weather shows.
func (f *Forecast) power(doc *rig.Rig, runs []memberRun) []Kept {
	var list []Kept
	for _, name := range doc.Aims.NeverLose {
		onAC := false
		for i := range doc.Appliances {
			if doc.Appliances[i].Name == name {
				onAC = doc.Appliances[i].Runs == "ac"
			}
		}
		count := 0
		for m := range runs {
			if onAC && runs[m].acDark > 0 || !onAC && runs[m].dcDark > 0 {
				count++
			}
		}
		k := Kept{Appliance: name, Chance: counted(count, len(runs))}
		k.Words = fmt.Sprintf("%s would lose power in %s. ", upper(name), k.Chance.Text)
		if count == 0 {
			k.Words = fmt.Sprintf("%s lost power in none of %d runs of weather (%s). ", upper(name), len(runs), strings.TrimPrefix(k.Chance.Text, fmt.Sprintf("0 of %d runs: ", len(runs))))
		}
		k.Words += "That is one path: one fuse, one lug or the battery's own electronics can take it away on any night. What must not go dark needs a store of its own that takes over without a person, an alarm, and a plan; ask whoever prescribed it."
		list = append(list, k)
	}
	return list
}

// sinking tells whether the members' mean daily low fell over the last two weeks of the stay by more than two hundredths.
func (f *Forecast) sinking(runs []memberRun) bool {
	last := len(f.course.Days)
	week := func(from, to int) float64 {
		sum := 0.0
		for m := range runs {
			for _, low := range runs[m].lows[from:to] {
				sum += float64(low)
			}
		}
		return sum / float64((to-from)*len(runs))
	}
	return week(last-14, last-7)-week(last-7, last) > 0.02
}

// words says how the nights go.
func (n Nights) words(hit, of int) string {
	floor := fmt.Sprintf("below the floor of %.0f %%", 100*n.Floor)
	if n.Chance.Count == 0 {
		return fmt.Sprintf("No night goes %s in any of %d runs.", floor, of)
	}
	met := "more than"
	if n.AimMet {
		met = "within"
	}
	return fmt.Sprintf("%s of all nights go %s, in %d of %d runs; worst in %s, %s the aim of %s.", percent(float64(n.Chance.Count)/float64(n.Chance.Of)), floor, hit, of, n.Worst, met, percent(n.Aim))
}

// target is what the guesses are ranked by: the days to the battery's floor where it is reached in enough members to tell, otherwise the
// lowest charge of the stay.
func (f *Forecast) target(runs []memberRun) (values []float64, words string) {
	stay := float64(f.course.N) * f.course.StepH / 24
	days := f.ends(runs, func(r *memberRun) int { return r.below })
	reached := 0
	for m := range days {
		if !math.IsInf(days[m], 1) {
			reached++
		}
		days[m] = math.Min(days[m], stay)
	}
	if reached >= len(runs)/5 {
		return days, "how long the battery lasts"
	}
	return eachOf(runs, func(r *memberRun) float64 { return r.minSoC }), "how low the battery goes"
}

// placeRemarks says what the climates of the places leave out, in the months of the stay.
func (f *Forecast) placeRemarks() []string {
	var list []string
	for s := range f.places {
		seen := map[time.Month]bool{}
		for _, day := range f.course.Spans[s].Civil {
			month := day.Date.Month()
			if seen[month] {
				continue
			}
			seen[month] = true
			for _, r := range f.places[s].climate.Remarks(int(month) - 1) {
				if r = upper(r); len(f.places) > 1 {
					r = f.plan.Sites[s].Name + ": " + r
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
func (f *Forecast) remarks(a Answer, guesses []rig.Value, sunny bool) []string {
	var list []string
	if sunny {
		list = append(list, fmt.Sprintf("Wind is not known; %.1f m/s is taken, a guess.", f.places[0].climate.Wind))
	}
	for i := range f.course.Sites {
		if s := &f.course.Sites[i]; s.Hookup != "" && s.Hookup != "none" && !f.fed(i) {
			list = append(list, fmt.Sprintf("%s: the rig's inlet cannot be plugged into %s, or the file names no inlet; nothing is taken from it.", s.Name, s.Hookup))
		}
	}
	for _, g := range guesses {
		if g.State == figure.Unknown && slices.ContainsFunc(a.Guesses, func(w Guess) bool { return w.Path == g.At.Path }) {
			list = append(list, fmt.Sprintf("Not known: %s; anything from %s to %s is taken. To settle it: %s.", nameOf(g.At.Path), written(g, g.Low), written(g, g.High), reading(g)))
		}
	}
	if len(a.Guesses) > 0 {
		list = append(list, fmt.Sprintf("The guess that widens the answer most: %s (%.0f %% of its spread). To settle it: %s.", a.Guesses[0].Name, 100*a.Guesses[0].Share, a.Guesses[0].Reading))
	} else {
		list = append(list, "No guess widens the answer much: its spread is the weather's.")
	}
	return list
}

// fed tells whether a site's hookup feeds the rig.
func (f *Forecast) fed(site int) bool { return f.hooks[site].service.Amps > 0 }

// written writes a number of a value's kind for people.
func written(v rig.Value, base float64) string {
	return quantity.Format(quantity.Quantity{Base: base, Kind: v.Quantity.Kind, Unit: v.Quantity.Unit}, quantity.US)
}

// dayNumber is the civil day of a date for the generator of days.
func dayNumber(t time.Time) int {
	return int(time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC).Unix() / 86400)
}
