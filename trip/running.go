package trip

import (
	"context"
	"fmt"
	"math"

	"campwright/convert"
	"campwright/quantity"
)

// Running times tried, in hours a day.
const (
	mostHours  = 8.0
	finestHour = 0.1
)

// engineCaution and generatorCaution stand beside running times.
const (
	engineCaution    = "Exhaust kills: never idle in a closed space or beside an open window. An alternator at idle runs hot; follow the maker's limit."
	generatorCaution = "Exhaust kills: run it well away from openings, with a working CO alarm. Keep quiet hours."
)

// source is something that can be run to charge the bank.
type source struct {
	name    string
	caution string
	engine  convert.Engine               // off for a generator
	set     func(s *Site, hours float64) // has it run for so long each day of a stay
	busW    float64                      // into the bus of a bank that is neither full nor empty
	fuelLph float64                      // generator only
}

// sources returns what the rig has that can be run.
func (t *trial) sources() []source {
	var list []source
	volts := t.sys.Bank.Model.Voc(midSoC)
	if s := &t.sys.Supply; s.Vehicle != nil && (s.Unit != nil || s.Relay != nil) {
		cruise, _ := s.EngineW(convert.Cruising, volts)
		idle, _ := s.EngineW(convert.Idling, volts)
		list = append(list,
			source{name: "driving", engine: convert.Cruising, set: func(s *Site, h float64) { s.CruiseH = h }, busW: cruise},
			source{name: "engine at idle", caution: engineCaution, engine: convert.Idling, set: func(s *Site, h float64) { s.IdleH = h }, busW: idle})
	}
	if g := t.sys.Supply.Generator; g != nil {
		h := generatorAt(t.sys, &t.f.course.Sites[0])
		busW, acW := t.sys.Supply.Charge(volts, h.service.VA())
		list = append(list, source{name: "generator", caution: generatorCaution, set: func(s *Site, h float64) { s.RunH = h }, busW: busW, fuelLph: g.FuelLph(acW)})
	}
	return list
}

// makeUp finds the hours a day of each source that keep the share of dark nights within the aim, first in picked runs, then held against all.
func (t *trial) makeUp(ctx context.Context) ([]MakeUp, error) {
	aim := math.Max(t.doc.Aims.Dark.Of, 0.5/float64(len(t.runs)*len(t.f.course.Days)))
	picked := t.standing(t.f.storeDays("battery", t.runs))
	every := make([]int, len(t.runs))
	for m := range every {
		every[m] = m
	}
	asItIs := t.tally(t.runs).dark
	list := []MakeUp{}
	for _, s := range t.sources() {
		dark := func(h float64, members []int) (float64, error) {
			runs, err := t.try(ctx, t.doc, members, change{sites: func(site *Site) { s.set(site, h) }})
			return t.tally(runs).dark, err
		}
		m := MakeUp{For: "the stay", Source: s.name, Caution: s.caution, MostH: mostHours, Target: t.sys.Floor}
		h, share, err := leastHours(aim, func(h float64) (float64, error) { return dark(h, picked) })
		if err != nil {
			return nil, err
		}
		for share <= aim { // the picked runs may be luckier than all
			if share, err = dark(h, every); err != nil {
				return nil, err
			}
			if share <= aim || h >= mostHours {
				break
			}
			h, share = math.Min(mostHours, math.Round(10*(h+finestHour))/10), aim
		}
		m.HoursD, m.Enough = h, share <= aim
		m.BusWh, m.FuelLD = h*s.busW, h*s.fuelLph
		m.wordsIn = stayWords(s, m, share, asItIs)
		m.Words = m.wordsIn.metric
		list = append(list, m)
	}
	return list, nil
}

// leastHours halves the span of hours until the share that a number of hours leaves is just within an aim, and returns both; the most hours where
// even they do not reach it.
func leastHours(aim float64, share func(hours float64) (float64, error)) (hours, left float64, err error) {
	low, high := 0.0, mostHours
	if left, err = share(0); err != nil || left <= aim {
		return 0, left, err
	}
	if left, err = share(mostHours); err != nil || left > aim {
		return mostHours, left, err
	}
	for high-low > finestHour/2 {
		mid := (low + high) / 2
		s, err := share(mid)
		if err != nil {
			return 0, 0, err
		}
		if s <= aim {
			high, left = mid, s
		} else {
			low = mid
		}
	}
	return math.Ceil(high*10-1e-9) / 10, left, nil
}

func stayWords(s source, m MakeUp, share, asItIs float64) text {
	switch {
	case m.HoursD == 0:
		return same(fmt.Sprintf("No hours of %s are needed: the aim is met without.", s.name))
	case !m.Enough:
		return same(fmt.Sprintf("Even %.0f hours of %s a day do not keep the aim: %s of nights would still go below the reserve.", mostHours, s.name, percent(share)))
	}
	fuel := same("")
	if m.FuelLD > 0 {
		fuel = say(" (%s of fuel)", of(m.FuelLD, quantity.Volume))
	}
	return say("%.1f hours of %s a day%s keep the battery above its reserve, within the aim: %s of nights go below, %s as it is.", m.HoursD, s.name, fuel, percent(share), percent(asItIs))
}

// Tonight's running ends when quiet hours begin, the generator's own or the usual ones, and the charge wanted is kept until dawn in all but this share
// of runs.
const quietFrom = 22 * 60
const tonightMiss = 0.05

// tonight finds the hours of each source, before quiet hours of the first evening, that keep the charge wanted through its night until noon.
func (t *trial) tonight(ctx context.Context) ([]MakeUp, error) {
	f := t.f
	list := t.sources()
	if len(list) == 0 || f.plan.Parked {
		return nil, nil
	}
	target, what := t.sys.Floor, "the reserve"
	if wish := t.doc.Aims.AtDawn; wish.Known() && wish.Quantity.Base > target {
		target, what = wish.Quantity.Base, "the charge wanted at dawn"
	}
	lows := make([]float64, len(t.runs))
	for m := range t.runs {
		lows[m] = float64(t.runs[m].lows[0])
	}
	picked := t.standing(lows)
	evening := f.course.Days[0].Evening.Format("Mon 2 Jan")
	aim := say("%.0f %% (%s)", 100*target, what)
	usual, worst := quantile(lows, 0.5), quantile(lows, tonightMiss)
	if worst >= target {
		words := say("Tonight, %s, needs no running time: the battery stays above %s until dawn in 19 runs of 20, usually at %.0f %% or more.", evening, aim, 100*usual)
		return []MakeUp{{For: "tonight", Enough: true, Target: target, MostH: mostHours, Words: words.metric, wordsIn: words}}, nil
	}
	var out []MakeUp
	for _, s := range list {
		m := MakeUp{For: "tonight", Source: s.name, Caution: s.caution, Target: target}
		until := t.quiet(s)
		m.MostH = math.Min(mostHours, math.Floor(float64(until-12*60)/6)/10)
		miss := func(h float64) (float64, error) {
			runs, err := t.try(ctx, t.doc, picked, change{first: true, since: until, comes: func(c *schedule) { t.run(c, s, h, until) }})
			below := 0.0
			for k := range runs {
				// The floor holds all evening; the charge wanted at dawn from when the running has ended.
				if float64(runs[k].lows[0]) < t.sys.Floor || runs[k].late < target {
					below += 1 / float64(len(runs))
				}
			}
			return below, err
		}
		h, left, err := leastHours(tonightMiss, func(h float64) (float64, error) { return miss(math.Min(h, m.MostH)) })
		if err != nil {
			return nil, err
		}
		m.HoursD, m.Enough = math.Min(h, m.MostH), left <= tonightMiss
		m.BusWh, m.FuelLD = m.HoursD*s.busW, m.HoursD*s.fuelLph
		if m.Enough {
			m.wordsIn = say("Tonight, %s: %.1f hours of %s, from %s to %s, keep the battery above %s until dawn in 19 runs of 20; without, it falls to %.0f %% in one of 20.",
				evening, m.HoursD, s.name, clockOf(until-int(math.Round(60*m.HoursD))), clockOf(until), aim, 100*worst)
		} else {
			m.wordsIn = say("Tonight, %s: even %.1f hours of %s until %s do not keep the battery above %s until dawn in 19 runs of 20.", evening, m.HoursD, s.name, clockOf(until), aim)
		}
		m.Words = m.wordsIn.metric
		out = append(out, m)
	}
	return out, nil
}

// quiet returns the minute of the day at which a source's running of the evening ends.
func (t *trial) quiet(s source) int {
	until := quietFrom
	if s.engine == convert.EngineOff {
		until = genUntil
	}
	for q := t.sys.Supply.Quiet; q != nil && until > 12*60 && q(until-1); {
		until--
	}
	return until
}

// run has a source run for some hours of the first evening, until a minute of the day.
func (t *trial) run(c *schedule, s source, hours float64, until int) {
	course := t.f.course
	day := &course.Days[0]
	from := float64(until) - 60*hours
	for i := day.First; i < day.First+day.Steps; i++ {
		minute := int(course.Minute[i])
		if minute < 12*60 || float64(minute) < from || minute >= until {
			continue
		}
		if s.engine != convert.EngineOff {
			c.engine[i] = s.engine
		} else if c.feed[i] == nothing {
			c.feed[i] = generator
		}
	}
}

// clockOf writes a minute of the day.
func clockOf(minute int) string { return fmt.Sprintf("%02d:%02d", minute/60, minute%60) }
