package trip

import (
	"campwright/figure"
	"campwright/quantity"
)

// explain puts the hand arithmetic behind each store: what is aboard over what goes a day, with the typical run's figures. For tanks that is
// the answer itself. For propane and battery it is what an old hand would reckon on paper from the mean day; the answer follows each day's
// own weather, so the two differ, and the difference is the weather's.
func explain(stores []StoreEnd, run *Run) {
	nights := float64(len(run.Days))
	for i := range stores {
		if stores[i].AtLeast {
			continue // nothing ends it that arithmetic could show
		}
		w := workingOf(&stores[i], run, nights)
		if w == nil {
			continue
		}
		stores[i].Lasts.Working = w
	}
}

// rough is where the arithmetic of a mean day comes from, and what the answer is beside it.
const rough = "hours, rough, by the mean day of the typical run; the answer is the middle of all runs, each with its own weather and guesses"

// even is the share of what is asked for by which it must exceed what is taken in for a mean day to end the battery at all.
const even = 0.1

func workingOf(store *StoreEnd, run *Run, nights float64) *figure.Working {
	sys := run.System
	switch store.Store {
	case "battery":
		usable := sys.Bank.Model.Energy(sys.Bank.StartSoC) - sys.Bank.Model.Energy(sys.Floor)
		in, out := 0.0, 0.0
		for _, d := range run.Days {
			in += d.SolarWh / nights
			out += (d.ServedWh + d.UnmetWh) / nights
		}
		w := &figure.Working{Formula: "24 × E / (U − S)", Source: rough, Terms: []figure.Term{
			{Symbol: "E", Figure: figure.Exact("energy from the start down to the reserve", usable, quantity.Energy)},
			{Symbol: "U", Figure: figure.Exact("asked for on a mean day", out, quantity.Energy)},
			{Symbol: "S", Figure: figure.Exact("taken in on a mean day", in, quantity.Energy)},
		}}
		if out-in < even*out {
			return nil // as much is taken in as is asked for, or more: only a dark spell ends it
		}
		return w
	case "propane":
		used := store.perDay
		if used <= 0 {
			return nil
		}
		return &figure.Working{Formula: "24 × G / B", Source: rough, Terms: []figure.Term{
			{Symbol: "G", Figure: figure.Exact("propane aboard", sys.Propane.StartKg, quantity.Mass)},
			{Symbol: "B", Figure: figure.Exact("burned on a mean day", used, quantity.Mass)},
		}}
	}
	for _, t := range tanksOf(sys.Water) {
		if t.name == store.Store && t.perDay > 0 {
			return &figure.Working{Formula: "24 × T / D", Source: "hours, by the nominal figures of the rig; the answer is the middle of all runs, each with its own draw of the guesses, and ends at a step of the stay", Terms: []figure.Term{
				{Symbol: "T", Figure: figure.Exact("tank", t.holds, quantity.Volume)},
				{Symbol: "D", Figure: figure.Exact(t.verb+" in a day", t.perDay, quantity.Volume)},
			}}
		}
	}
	return nil
}
