package trip

import (
	"context"
	"slices"

	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// Advice is what an owner could do about the answer, tried out in runs of the answer itself.
type Advice struct {
	Ends     string   `json:"ends"`     // the store that ends the stay, or would first; empty when every store lasts
	Ways     []Way    `json:"ways"`     // what moves the end of the stores that end inside the stay, the soonest end first
	Switches []Switch `json:"switches"` // for a battery that ends inside the stay: what to switch to propane or off, by what it saves a day
	MakeUp   []MakeUp `json:"makeUp"`   // hours of engine or generator that make up the difference, for the stay and for the first night
	Hookups  []Weak   `json:"hookups"`  // what weak hookups carry, where a stop has one
}

// Way is one thing to do about a store that ends inside the stay, and what comes of it.
type Way struct {
	Store string        `json:"store"` // whose end it moves
	Words string        `json:"words"` // what to do, with its numbers
	Edits []rig.Edit    `json:"edits"` // the same in the rig file
	Saves figure.Figure `json:"saves"` // of the store, a day; zero where it saves none
	Costs []string      `json:"costs"` // what else it takes a day, in words
	Lasts figure.Figure `json:"lasts"` // how long the store then lasts
	Text  string        `json:"text"`  // that, in words
	Next  string        `json:"next"`  // what would end the stay then, in words

	wordsIn text
	costsIn []text
}

// Switch is one thing switched, and what it does.
type Switch struct {
	Appliance string        `json:"appliance"`
	Words     string        `json:"words"` // "to propane", "off", "on 06:00-09:00 only"
	Edits     []rig.Edit    `json:"edits"`
	SavesWh   float64       `json:"savesWh"` // a day, at the bank's bus
	CostsKg   float64       `json:"costsKg"` // of propane a day
	Battery   figure.Figure `json:"battery"` // how long the battery then lasts
	Text      string        `json:"text"`    // that, in words
	DarkShare float64       `json:"darkShare"`
}

// MakeUp is the running time that keeps the battery above its floor through the stay, or at the charge wanted through the first night.
type MakeUp struct {
	For     string  `json:"for"`    // "the stay" or "tonight", which is its first night
	Source  string  `json:"source"` // "driving", "engine at idle", "generator"; empty where tonight needs none of them
	HoursD  float64 `json:"hoursD"` // a day; zero with Enough means none is needed
	Enough  bool    `json:"enough"` // whether any number of hours up to the most tried keeps the aim
	MostH   float64 `json:"mostH"`  // the most tried
	Target  float64 `json:"target"` // charge below which no night is to go
	BusWh   float64 `json:"busWh"`  // a day, into the bus
	FuelLD  float64 `json:"fuelLD"` // litres a day, generator only
	Words   string  `json:"words"`
	Caution string  `json:"caution"`

	wordsIn text
}

// Weak is what a hookup carries.
type Weak struct {
	Service string  `json:"service"`
	LimitA  float64 `json:"limitA"` // the shore limit to set
	Watts   float64 `json:"watts"`  // continuous
	Holds   bool    `json:"holds"`  // whether the bank holds through the stops that have a hookup
	EndSoC  float64 `json:"endSoC"` // median of the lowest charge on the last night with a hookup
	ShedWh  float64 `json:"shedWh"` // a day, that it cannot carry
	Words   string  `json:"words"`
}

// In returns the advice with its texts in a system of units.
func (a Advice) In(s quantity.System) Advice {
	a.Ways = copied(a.Ways, func(w *Way) {
		pick(&w.Words, w.wordsIn, s)
		w.Costs = all(w.Costs, w.costsIn, s)
	})
	a.MakeUp = copied(a.MakeUp, func(m *MakeUp) { pick(&m.Words, m.wordsIn, s) })
	return a
}

// Advise tries out what an owner could do, for a completed document on the forecast's stay.
func (f *Forecast) Advise(ctx context.Context, doc *rig.Rig) (Advice, error) {
	kit, err := system.NewKit(doc)
	if err != nil {
		return Advice{}, err
	}
	runs, guesses, draws, err := f.play(ctx, doc, kit, nil)
	if err != nil {
		return Advice{}, err
	}
	answer, err := f.assemble(doc, kit, guesses, draws, runs, false)
	if err != nil {
		return Advice{}, err
	}
	sys, err := kit.Assemble(system.Draw{}, f.course.StepMin)
	if err != nil {
		return Advice{}, err
	}
	t := &trial{f: f, doc: doc, sys: sys, runs: runs, draws: draws}
	a := Advice{Ways: []Way{}, Switches: []Switch{}, MakeUp: []MakeUp{}, Hookups: []Weak{}}
	for i := range answer.Stores {
		e := &answer.Stores[i]
		if !e.matters() {
			continue
		}
		if a.Ends == "" {
			a.Ends = e.Store
		}
		ways, err := t.ways(ctx, answer.Stores, e)
		if err != nil {
			return Advice{}, err
		}
		for _, w := range ways {
			if !slices.ContainsFunc(a.Ways, func(known Way) bool { return known.Words == w.Words }) { // one haul may serve two stores
				a.Ways = append(a.Ways, w)
			}
		}
		if e.Store == "battery" {
			if a.Switches, err = t.switches(ctx); err != nil {
				return Advice{}, err
			}
		}
	}
	if a.MakeUp, err = t.makeUp(ctx); err != nil {
		return Advice{}, err
	}
	tonight, err := t.tonight(ctx)
	if err != nil {
		return Advice{}, err
	}
	a.MakeUp = append(a.MakeUp, tonight...)
	a.Hookups, err = t.weak(ctx)
	return a, err
}

// matters tells whether a store ends inside the stay often enough to do something about it: usually, or in more runs than one in fifty.
func (e *StoreEnd) matters() bool { return e.Reached || seldom*e.Chance.Count > e.Chance.Of }

// seldom is in how many runs one is put up with.
const seldom = 50
