package trip

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"campwright/figure"
	"campwright/quantity"
	"campwright/system"
)

// fill writes the days, the stores, the ledger and the trace of one run into an answer.
func (a *Answer) fill(run *Run) {
	a.Days = daysOf(run)
	a.Stores = storesOf(run)
	a.Wrong = wrongOf(run)
	a.Ledger = ledgerOf(run)
	a.asked = askedOf(run)
	a.Trace = traceOf(run)
}

func daysOf(run *Run) []Day {
	c := run.Course
	out := make([]Day, len(run.Days))
	for i, d := range run.Days {
		date := c.Days[i]
		last := date.First + date.Steps - 1
		out[i] = Day{
			Date: date.Evening.Format("2006-01-02"), Place: c.Sites[date.Site].Name, placeIn: c.Sites[date.Site].named, LowSoC: d.LowSoC, LowAt: c.clock(d.LowStep + 1),
			BandLow: d.LowSoC, BandHigh: d.LowSoC, InWh: d.SolarWh, OutWh: d.ServedWh, LostWh: d.UnmetWh, ThrownWh: d.ThrownWh,
			GasKg: d.GasKg, AirLowC: d.AirLow, AirHighC: d.AirHigh, SunKWhM2: d.SunWhM2 / 1000,
		}
		if full := run.System.Propane.KgFull; full > 0 {
			out[i].GasLeft = float64(run.GasKg[last]) / full
		}
		out[i].Dark = darkOf(d)
	}
	return out
}

// storesOf returns how long each store lasts, the soonest end first.
func storesOf(run *Run) []StoreEnd {
	list := []StoreEnd{batteryEnd(run)}
	nights := float64(run.Course.N) * run.Course.StepH / 24
	if p := run.System.Propane; p.KgFull > 0 {
		used := p.StartKg + run.FilledKg - float64(run.GasKg[len(run.GasKg)-1])
		lasts, reached := math.Inf(1), false
		if used > 0 {
			lasts = nights + float64(run.GasKg[len(run.GasKg)-1])/(used/nights)
		}
		perDay, burned := used/nights, 0.0
		for i, left := range run.GasKg {
			if i == 0 {
				burned = p.StartKg - float64(left)
			} else {
				burned += math.Max(0, float64(run.GasKg[i-1]-left))
			}
			if left <= 1e-6 && used > 0 {
				lasts, reached = float64(i+1)*run.Course.StepH/24, true
				perDay = burned / lasts // not thinned out over the days without any
				break
			}
		}
		list = append(list, storeEnd(run, "propane", lasts, reached, say("%s aboard, %s a day burned", of(p.StartKg, quantity.Mass), of(perDay, quantity.Mass))))
		list[len(list)-1].perDay = perDay
	}
	if fuel := run.System.Supply.FuelL; fuel > 0 && run.FuelL > 0 {
		lasts := fuel / (run.FuelL / nights)
		list = append(list, storeEnd(run, "generator fuel", lasts, lasts <= nights, say("%s, %s a day burned", of(fuel, quantity.Volume), of(run.FuelL/nights, quantity.Volume))))
	}
	for _, t := range tanksOf(run.System.Water) {
		if t.holds > 0 && t.perDay > 0 {
			lasts, reached := t.lasts(run.Course)
			list = append(list, storeEnd(run, t.name, lasts, reached, say("%s, %s a day %s", of(t.holds, quantity.Volume), of(t.perDay, quantity.Volume), t.verb)))
		}
	}
	slices.SortStableFunc(list, func(x, y StoreEnd) int {
		if x.AtLeast != y.AtLeast {
			if x.AtLeast {
				return 1
			}
			return -1
		}
		return cmp.Compare(x.Lasts.Value, y.Lasts.Value)
	})
	return list
}

// batteryEnd tells when the bank first went below the floor.
func batteryEnd(run *Run) StoreEnd {
	floor := run.System.Floor
	lowest, at := math.Inf(1), 0
	for i, soc := range run.SoC {
		if float64(soc) < lowest {
			lowest, at = float64(soc), i
		}
		if float64(soc) < floor {
			d := float64(i+1) * run.Course.StepH / 24
			return storeEnd(run, "battery", d, true, same(fmt.Sprintf("below the reserve of %.0f %%", 100*floor)))
		}
	}
	why := fmt.Sprintf("lowest %.0f %% on %s at %s, reserve %.0f %%", 100*lowest, run.Course.instant(at).In(run.zone(at)).Format("2 January"), run.Course.clock(at), 100*floor)
	return storeEnd(run, "battery", math.Inf(1), false, same(why))
}

func (run *Run) zone(step int) *time.Location {
	c := run.Course
	return c.Sites[c.Days[c.Day[min(step, c.N-1)]].Site].Zone
}

// storeEnd makes one row. A store that outlasts the stay may end later: propane and water run on at the same rate, which is said.
func storeEnd(run *Run, name string, lasts float64, reached bool, why text) StoreEnd {
	stay := float64(run.Course.N) * run.Course.StepH / 24
	forever := lasts > 3650
	if forever {
		lasts = stay
	}
	f := figure.Figure{Name: name + " lasts", Value: 24 * lasts, Low: 24 * lasts, High: 24 * lasts, Kind: quantity.Duration, State: figure.Plain, Source: "trip"}
	text := dayCount(lasts)
	if forever {
		text = "more than the stay"
	}
	e := StoreEnd{Store: name, Text: text, Lasts: f, Reached: reached, Why: why.metric, whyIn: why, AtLeast: forever, Chance: Chance{Of: 1}}
	if reached {
		e.Chance.Count = 1
	}
	e.Chance.Text = e.Chance.words()
	if !forever {
		e.EndsOn = run.Course.Start.Add(time.Duration(lasts * 24 * float64(time.Hour))).Format("2006-01-02")
	}
	return e
}

func nightsOf(run *Run) Nights {
	n := Nights{Floor: run.System.Floor, Aim: run.System.DarkAim, Chance: Chance{Of: len(run.Days)}}
	for _, d := range run.Days {
		if d.LowSoC < run.System.Floor {
			n.Chance.Count++
		}
	}
	n.AimMet = float64(n.Chance.Count) <= n.Aim*float64(n.Chance.Of)
	n.Sentence = fmt.Sprintf("%d of %d nights go below the reserve of %.0f %%.", n.Chance.Count, n.Chance.Of, 100*n.Floor)
	return n
}

// ledgerOf adds up where the energy of a run came from and went.
func ledgerOf(run *Run) Ledger {
	var l Ledger
	nights := float64(run.Course.N) * run.Course.StepH / 24
	entry := func(list *[]Entry, name string, wh float64) {
		if wh > 1e-9 {
			*list = append(*list, Entry{Name: name, Wh: wh, PerDay: wh / nights})
		}
	}
	var cable, loss, byVoltage, byCurrent, byPower, byBank float64
	for i, a := range run.Arrays {
		entry(&l.Sources, run.System.Arrays[i].Name, a.Bus)
		cable += a.Cable
		loss += a.Loss
		byVoltage += a.ByVoltage
		byCurrent += a.ByCurrent
		byPower += a.ByPower
		byBank += a.ByBank
	}
	entry(&l.Sources, "vehicle", run.VehicleWh)
	if s := &run.System.Supply; s.Vehicle == nil && (s.Unit != nil || s.Relay != nil) {
		l.Sources = append(l.Sources, Entry{Name: "vehicle, none in the file"}) // a row of nothing, so that it is looked for there
	}
	entry(&l.Sources, "chargers on AC", run.ChargeWh)
	entry(&l.Sources, "battery", run.BankOutWh)
	entry(&l.Sources, "shore, to AC loads", run.ShoreFeedWh)
	entry(&l.Sources, "generator, to AC loads", run.GeneratorFeedWh)
	byName := map[string]int{}
	for k, ledger := range run.Loads {
		name := run.System.Loads[k].Name
		if ledger.Served <= 0 {
			continue
		}
		at, known := byName[name]
		if !known {
			byName[name] = len(l.Uses)
			l.Uses = append(l.Uses, Entry{Name: name})
			at = byName[name]
		}
		l.Uses[at].Wh += ledger.Served
		l.Uses[at].PerDay += ledger.Served / nights
	}
	slices.SortStableFunc(l.Uses, func(x, y Entry) int { return cmp.Compare(y.Wh, x.Wh) })
	entry(&l.Uses, "bank heater", run.HeaterWh)
	entry(&l.Uses, "the battery", run.BankInWh)
	idle := 0.0
	for _, wh := range run.IdleWh {
		idle += wh
	}
	entry(&l.Losses, "inverter", run.InverterLossWh-idle)
	entry(&l.Losses, "an idle inverter's own use", idle)
	entry(&l.Upstream, "chargers on AC", run.ChargeInWh-run.ChargeWh)
	entry(&l.AC, "shore", run.ShoreWh)
	entry(&l.AC, "generator", run.GeneratorWh)
	entry(&l.Losses, "charge controllers' own use", run.OwnWh)
	entry(&l.Upstream, "charge controllers", loss)
	entry(&l.Upstream, "cables from the roof", cable)
	entry(&l.Upstream, "battery resistance", run.ResistiveWh+run.PolarisationWh)
	entry(&l.Upstream, "battery charge not stored", run.CoulombicWh)
	entry(&l.Upstream, "battery self-discharge", run.LeakWh)
	entry(&l.Thrown, "the bank takes no more", byBank)
	entry(&l.Thrown, "array voltage outside the controller's window", byVoltage)
	entry(&l.Thrown, "controller's current limit", byCurrent)
	entry(&l.Thrown, "controller's power limit", byPower)
	entry(&l.Unmet, "asked for and not served", run.UnmetWh)
	off := 0.0
	for d := range run.Days {
		off += run.Days[d].OffWh
	}
	entry(&l.Unmet, "asked while the inverter is off", off)
	for k, kg := range run.Burns {
		if kg <= 0 {
			continue
		}
		name := run.System.Burns[k].Name
		at := slices.IndexFunc(l.Propane, func(e Entry) bool { return e.Name == name })
		if at < 0 {
			at = len(l.Propane)
			l.Propane = append(l.Propane, Entry{Name: name})
		}
		l.Propane[at].Kg += kg
		l.Propane[at].PerDay += kg / nights
	}
	l.StoreWh = run.EndWh - run.StartWh
	l.ErrorWh = imbalance(run)
	return l
}

// askedOf returns what each load asked for, served or not, largest first.
func askedOf(run *Run) []Entry {
	nights := float64(run.Course.N) * run.Course.StepH / 24
	var list []Entry
	for k, l := range run.Loads {
		at := slices.IndexFunc(list, func(e Entry) bool { return e.Name == run.System.Loads[k].Name })
		if at < 0 {
			at = len(list)
			list = append(list, Entry{Name: run.System.Loads[k].Name})
		}
		list[at].Wh += l.Asked
		list[at].PerDay += l.Asked / nights
	}
	list = slices.DeleteFunc(list, func(e Entry) bool { return e.Wh <= 0 })
	slices.SortStableFunc(list, func(x, y Entry) int { return cmp.Compare(y.Wh, x.Wh) })
	return list
}

// imbalance returns what the two sides of a whole run's books differ by [Wh]: what came to the bus from the sun and the bank, against what
// loads, losses and the bank took from it.
func imbalance(run *Run) float64 {
	in, out := run.BankOutWh+run.VehicleWh+run.ChargeWh, run.BankInWh+run.InverterWh+run.OwnWh+run.HeaterWh
	for _, a := range run.Arrays {
		in += a.Bus
	}
	for k, l := range run.Loads {
		if run.System.Loads[k].Bus == system.DC {
			out += l.Served
		}
	}
	return in - out
}

func traceOf(run *Run) Trace {
	c := run.Course
	return Trace{Start: c.Start, StepMin: c.StepMin, Zone: c.Sites[0].Zone.String(), SoC: run.SoC, Volts: run.Volts, SolarW: run.SolarW, LoadW: run.LoadW}
}
