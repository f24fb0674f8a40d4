package trip

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"campwright/convert"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
	"campwright/system"
)

// Advice is what an owner could do about the answer, tried out on the same weathers.
type Advice struct {
	Switches []Switch `json:"switches"` // what to switch to propane or off, by what it saves a day
	MakeUp   []MakeUp `json:"makeUp"`   // hours of engine or generator that make up the difference
	Hookups  []Weak   `json:"hookups"`  // what weak hookups carry
}

// Switch is one thing switched, and what it does.
type Switch struct {
	Appliance string        `json:"appliance"`
	Words     string        `json:"words"` // "to propane", "off", "off from 22:00 to 07:00"
	Edits     []rig.Edit    `json:"edits"`
	SavesWh   float64       `json:"savesWh"` // a day, at the bank's bus
	CostsKg   float64       `json:"costsKg"` // of propane a day
	Battery   figure.Figure `json:"battery"` // how long the battery then lasts
	Text      string        `json:"text"`    // that, in words
	DarkShare float64       `json:"darkShare"`
}

// MakeUp is the running time that keeps the battery above its floor.
type MakeUp struct {
	Source  string  `json:"source"` // "driving", "engine at idle", "generator"
	HoursD  float64 `json:"hoursD"` // a day; zero with Enough means none is needed
	Enough  bool    `json:"enough"` // whether any number of hours up to the most tried keeps the aim
	MostH   float64 `json:"mostH"`  // the most tried
	BusWh   float64 `json:"busWh"`  // a day, into the bus
	FuelLD  float64 `json:"fuelLD"` // litres a day, generator only
	Words   string  `json:"words"`
	Caution string  `json:"caution"`
}

// Weak is what a hookup carries.
type Weak struct {
	Service string  `json:"service"`
	LimitA  float64 `json:"limitA"` // the shore limit to set
	Watts   float64 `json:"watts"`  // continuous
	Holds   bool    `json:"holds"`  // whether the bank holds through the stay on it
	EndSoC  float64 `json:"endSoC"` // median at the end of the stay
	ShedWh  float64 `json:"shedWh"` // a day, that it cannot carry
	Words   string  `json:"words"`
}

// adviceMembers is how many runs a ranking of switches rests on.
const adviceMembers = 40

// Advise tries out what an owner could do, for a completed document on the forecast's stay.
func (f *Forecast) Advise(ctx context.Context, doc *rig.Rig) (Advice, error) {
	small := *f
	small.members, small.kept, small.plan.Rig = min(adviceMembers, f.members), kept{}, *doc
	base, err := small.tally(ctx, doc)
	if err != nil {
		return Advice{}, err
	}
	var a Advice
	for _, c := range candidates(doc) {
		changed := c.apply(doc)
		got, err := small.tally(ctx, &changed)
		if err != nil {
			return Advice{}, err
		}
		s := c.Switch
		s.SavesWh, s.CostsKg = base.loadWh-got.loadWh, got.gasKg-base.gasKg
		if s.SavesWh < 1 {
			continue
		}
		s.Battery, s.Text, s.DarkShare = got.lasts, got.text, got.dark
		a.Switches = append(a.Switches, s)
	}
	slices.SortStableFunc(a.Switches, func(x, y Switch) int { return cmp.Compare(y.SavesWh, x.SavesWh) })
	if a.MakeUp, err = small.makeUp(ctx, doc, base); err != nil {
		return Advice{}, err
	}
	a.Hookups, err = small.weak(ctx, doc)
	return a, err
}

// tallied is what Advise compares.
type tallied struct {
	lasts  figure.Figure
	text   string
	dark   float64 // share of nights below the floor
	loadWh float64 // a day without AC coming in, asked of the bus by loads
	shedWh float64 // a day, AC that what comes in could not carry
	gasKg  float64 // a day
	endSoC float64 // median
	low    float64 // mean daily low
}

// tally answers in short.
func (f *Forecast) tally(ctx context.Context, doc *rig.Rig) (tallied, error) {
	kit, err := system.NewKit(doc)
	if err != nil {
		return tallied{}, err
	}
	runs, _, _, err := f.play(ctx, doc, kit, nil)
	if err != nil {
		return tallied{}, err
	}
	var t tallied
	stay := float64(f.course.N) * f.course.StepH / 24
	e := StoreEnd{Store: "battery"}
	f.endOf(&e, f.ends(runs, func(r *memberRun) int { return r.below }), stay)
	t.lasts, t.text = e.Lasts, e.Text
	nights := float64(len(f.course.Days) * len(runs))
	ends := make([]float64, len(runs))
	for m := range runs {
		ends[m] = runs[m].endSoC
		t.loadWh += 24 * runs[m].loadWh / math.Max(runs[m].offGridH, 1e-9) / float64(len(runs))
		t.shedWh += runs[m].shedWh / nights
		for d, low := range runs[m].lows {
			t.low += float64(low) / nights
			if float64(low) < runs[m].floor {
				t.dark += 1 / nights
			}
			t.gasKg += float64(runs[m].gas[d]) / nights
		}
	}
	t.endSoC = quantile(ends, 0.5)
	return t, nil
}

// candidate is one switch to try.
type candidate struct {
	Switch
	apply func(*rig.Rig) rig.Rig
}

// candidates are the switches worth trying: everything electric to propane that can burn it, then everything off that need not run, and the
// inverter off at night. What must never lose power is not among them.
func candidates(doc *rig.Rig) []candidate {
	var list []candidate
	for i := range doc.Appliances {
		a := &doc.Appliances[i]
		if a.Runs == "off" || slices.Contains(doc.Aims.NeverLose, a.Name) || guards(a.Name) {
			continue
		}
		to, words := "off", "off"
		canBurn := a.Kind == "absorption refrigerator" || a.Kind == "water heater"
		if canBurn && (a.Runs == "ac" || a.Runs == "dc") {
			to, words = "propane", "to propane"
		} else if canBurn || a.Kind == "furnace" || a.Kind == "compressor refrigerator" || a.Runs == "propane" {
			continue // heat and cold are not for switching off
		}
		list = append(list, candidate{
			Switch: Switch{Appliance: a.Name, Words: words, Edits: []rig.Edit{{Path: "appliances/" + a.Name + "/runs on", Old: a.Runs, New: to}}},
			apply: func(doc *rig.Rig) rig.Rig {
				out := *doc
				out.Appliances = slices.Clone(doc.Appliances)
				out.Appliances[i].Runs = to
				return out
			},
		})
	}
	for i := range doc.Inverters {
		v := &doc.Inverters[i]
		if v.On.Word != "always" || feedsNeeded(doc, v.Name) {
			continue
		}
		day := rig.Hours{Spans: []rig.Span{{From: 7 * 60, Until: 22 * 60}}, State: figure.Plain}
		list = append(list, candidate{
			Switch: Switch{Appliance: v.Name, Words: "off from 22:00 to 07:00", Edits: []rig.Edit{{Path: "inverters/" + v.Name + "/on", Old: "always", New: "07:00-22:00"}}},
			apply: func(doc *rig.Rig) rig.Rig {
				out := *doc
				out.Inverters = slices.Clone(doc.Inverters)
				out.Inverters[i].On = day
				return out
			},
		})
	}
	return list
}

// feedsNeeded tells whether an inverter feeds something that must run at night: what must never lose power, what guards life, or keeps cold.
func feedsNeeded(doc *rig.Rig, inverter string) bool {
	for i := range doc.Appliances {
		a := &doc.Appliances[i]
		if a.Runs != "ac" || a.Inverter != "" && a.Inverter != inverter {
			continue
		}
		if slices.Contains(doc.Aims.NeverLose, a.Name) || guards(a.Name) || strings.Contains(a.Kind, "refrigerator") {
			return true
		}
	}
	return false
}

// guards tells whether an appliance's name says that it guards life, so that it is never proposed to be switched off.
func guards(name string) bool {
	name = strings.ToLower(name)
	for _, word := range []string{"detector", "alarm", "smoke", "breathing", "oxygen", "medical", "insulin", "brake", "cpap", "c-pap", "bipap",
		"ventilator", "nebul", "dialysis", "sleep apn", "monitor"} {
		if strings.Contains(name, word) {
			return true
		}
	}
	return false
}

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

// makeUp finds the hours of engine and generator that keep the share of dark nights within the aim.
func (f *Forecast) makeUp(ctx context.Context, doc *rig.Rig, base tallied) ([]MakeUp, error) {
	sys, err := system.Assemble(doc, system.Draw{}, f.course.StepMin)
	if err != nil {
		return nil, err
	}
	var list []MakeUp
	if s := &sys.Supply; s.Vehicle != nil && (s.Unit != nil || s.Relay != nil) {
		for _, e := range []struct {
			source  string
			engine  convert.Engine
			caution string
			set     func(*Site, float64)
		}{
			{"driving", convert.Cruising, "", func(s *Site, h float64) { s.CruiseH = h }},
			{"engine at idle", convert.Idling, engineCaution, func(s *Site, h float64) { s.IdleH = h }},
		} {
			m := MakeUp{Source: e.source, Caution: e.caution}
			watts, _ := s.EngineW(e.engine, sys.Bank.Model.Voc(midSoC))
			if err := f.search(ctx, doc, base, &m, e.set); err != nil {
				return nil, err
			}
			m.BusWh = m.HoursD * watts
			list = append(list, m)
		}
	}
	if g := sys.Supply.Generator; g != nil {
		m := MakeUp{Source: "generator", Caution: generatorCaution}
		if err := f.search(ctx, doc, base, &m, func(s *Site, h float64) { s.RunH = h }); err != nil {
			return nil, err
		}
		h := generatorAt(sys, &f.course.Sites[0])
		busW, acW := sys.Supply.Charge(sys.Bank.Model.Voc(midSoC), h.service.VA())
		m.BusWh, m.FuelLD = m.HoursD*busW, m.HoursD*g.FuelLph(acW)
		list = append(list, m)
	}
	return list, nil
}

// search halves the span of hours until the aim is just met.
func (f *Forecast) search(ctx context.Context, doc *rig.Rig, base tallied, m *MakeUp, set func(*Site, float64)) error {
	aim := math.Max(doc.Aims.Dark.Of, 0.5/float64(f.members*len(f.course.Days)))
	m.MostH = mostHours
	before := slices.Clone(f.course.Sites)
	defer func() { f.course.Sites = before }()
	dark := func(h float64) (float64, error) {
		f.course.Sites = slices.Clone(before)
		for i := range f.course.Sites {
			set(&f.course.Sites[i], h)
		}
		t, err := f.tally(ctx, doc)
		return t.dark, err
	}
	none, err := dark(0)
	if err != nil {
		return err
	}
	if none <= aim {
		m.Enough = true
		m.Words = fmt.Sprintf("No %s is needed: the aim is met as it is.", m.Source)
		return nil
	}
	most, err := dark(mostHours)
	if err != nil {
		return err
	}
	if most > aim {
		m.HoursD = mostHours
		m.Words = fmt.Sprintf("Even %.0f hours of %s a day do not keep the aim: %s of nights would still go below the floor.", mostHours, m.Source, percent(most))
		return nil
	}
	low, high := 0.0, mostHours
	for high-low > finestHour {
		mid := (low + high) / 2
		d, err := dark(mid)
		if err != nil {
			return err
		}
		if d <= aim {
			high = mid
		} else {
			low = mid
		}
	}
	m.HoursD, m.Enough = math.Ceil(high*10)/10, true
	m.Words = fmt.Sprintf("%.1f hours of %s a day keep the battery above its floor, within the aim.", m.HoursD, m.Source)
	return nil
}

// weak tries the hookups that a rig may meet, from the weakest up to its inlet.
func (f *Forecast) weak(ctx context.Context, doc *rig.Rig) ([]Weak, error) {
	if doc.Shore == nil {
		return nil, nil
	}
	before := slices.Clone(f.course.Sites)
	defer func() { f.course.Sites = before }()
	var list []Weak
	for _, s := range servicesUpTo(doc.Shore.Inlet) {
		f.course.Sites = slices.Clone(before)
		for i := range f.course.Sites {
			f.course.Sites[i].Hookup = s.Name
		}
		t, err := f.tally(ctx, doc)
		if err != nil {
			return nil, err
		}
		w := Weak{Service: s.Name, LimitA: s.Amps * s.Continuous, Watts: s.ContinuousVA(), Holds: t.dark == 0, EndSoC: t.endSoC}
		w.Words = fmt.Sprintf("On %s set the limit to %.0f A or less (%s lasting); the bank ends the stay at %.0f %%.", s.Name, w.LimitA, watts(w.Watts), 100*t.endSoC)
		if w.ShedWh = t.shedWh; w.ShedWh >= 1 {
			w.Words += fmt.Sprintf(" It cannot carry all: about %.0f Wh a day has to be left off or moved to another hour.", w.ShedWh)
		}
		list = append(list, w)
	}
	return list, nil
}

// watts writes a power for people.
func watts(w float64) string {
	return quantity.Format(quantity.Quantity{Base: w, Kind: quantity.Power}, quantity.US)
}
