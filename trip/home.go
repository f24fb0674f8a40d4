package trip

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"campwright/figure"
	"campwright/rig"
)

// HomeAnswer is the answer for a rig at home, month by month: each month for itself, begun with the charge the rig starts with.
type HomeAnswer struct {
	Rig      string      `json:"rig"`
	Sentence string      `json:"sentence"`
	Place    string      `json:"place"`
	Lived    bool        `json:"lived"`  // appliances run as on a trip; otherwise only what draws when parked
	Hookup   string      `json:"hookup"` // what it is plugged into, or none
	Months   []HomeMonth `json:"months"`
	Drains   []Entry     `json:"drains"` // what draws, largest first [Wh a day], in the month of most
	Basis    Basis       `json:"basis"`
	Remarks  []string    `json:"remarks"`

	placeIn   text
	remarksIn []text
}

// HomeMonth is one month at home.
type HomeMonth struct {
	Month    string     `json:"month"`
	Stores   []StoreEnd `json:"stores"`
	Nights   Nights     `json:"nights"`
	LowSoC   float64    `json:"lowSoC"` // of the typical run
	BandLow  float64    `json:"bandLow"`
	InWh     float64    `json:"inWh"`    // a day, into the bus
	UseWh    float64    `json:"useWh"`   // a day, served
	PostWh   float64    `json:"postWh"`  // a day, from the post
	GasKg    float64    `json:"gasKg"`   // a day
	AirLowC  float64    `json:"airLowC"` // of the typical run
	ColdDays int        `json:"coldDays"`
}

// homeStay is how long a parked rig is followed, and members and step of a home answer: enough to see a battery die, coarse enough to be
// done twelve times in a moment.
const (
	parkedNights = 180
	homeMembers  = 40
	homeStep     = 15
)

// Home answers for a completed document's home, for the twelve months of a year.
func Home(ctx context.Context, doc *rig.Rig, o Options, year int) (HomeAnswer, error) {
	if doc.Home == nil || doc.Home.Place.State == figure.Absent {
		return HomeAnswer{}, errors.New("the rig has no home; add home: {place: ..., lived in: no, hookup: none}")
	}
	spot, err := Locate(doc.Home.Place)
	if err != nil {
		return HomeAnswer{}, fmt.Errorf("home: %w", err)
	}
	if doc.Home.Elevation.Given() {
		spot.Place.Elevation = doc.Home.Elevation.Quantity.Base
	}
	a := HomeAnswer{Rig: doc.Name, Place: spot.Name, placeIn: spot.named, Lived: doc.Home.Lived == "yes", Hookup: doc.Home.Hookup}
	if o.Members == 0 {
		o.Members = homeMembers
	}
	if o.StepMin == 0 {
		o.StepMin = homeStep
	}
	most := -1.0
	for month := time.January; month <= time.December; month++ {
		site := Site{Name: spot.Name, named: spot.named, Place: spot.Place, Zone: spot.Zone, Sky: doc.Home.Site, Hookup: doc.Home.Hookup, Heading: math.NaN(), LowC: math.NaN(), Nights: parkedNights}
		first := time.Date(year, month, 1, 12, 0, 0, 0, time.UTC)
		if a.Lived {
			site.Nights = first.AddDate(0, 1, -1).Day()
		}
		f, err := NewForecast(Plan{Rig: *doc, Sites: []Site{site}, First: first, Parked: !a.Lived}, o)
		if err != nil {
			return HomeAnswer{}, err
		}
		answer, err := f.answer(ctx, doc, nil, false)
		if err != nil {
			return HomeAnswer{}, err
		}
		m := homeMonth(month, answer)
		a.Months = append(a.Months, m)
		if m.UseWh > most {
			most, a.Drains = m.UseWh, answer.asked
		}
		a.Basis = answer.Basis
		for _, r := range answer.frozen {
			a.remarksIn = append(a.remarksIn, say("Left from %s: %s", month.String(), r))
		}
		for _, r := range answer.climateRemarks {
			if !slices.Contains(a.remarksIn, r) {
				a.remarksIn = append(a.remarksIn, r)
			}
		}
	}
	a.Remarks = plainly(a.remarksIn)
	a.Sentence = a.sentence(doc)
	return a, nil
}

func homeMonth(month time.Month, a Answer) HomeMonth {
	for i := range a.Stores {
		if s := &a.Stores[i]; strings.HasSuffix(s.Text, "more than the stay") {
			s.Text = strings.TrimSuffix(s.Text, "the stay") + plural(len(a.Days), "day")
		}
	}
	m := HomeMonth{Month: month.String(), Stores: a.Stores, Nights: a.Nights, LowSoC: 1, BandLow: 1, AirLowC: math.Inf(1)}
	days := min(len(a.Days), 31)
	for _, day := range a.Days[:days] {
		m.LowSoC, m.BandLow = math.Min(m.LowSoC, day.LowSoC), math.Min(m.BandLow, day.BandLow)
		m.InWh += day.InWh / float64(days)
		m.UseWh += day.OutWh / float64(days)
		m.GasKg += day.GasKg / float64(days)
		m.AirLowC = math.Min(m.AirLowC, day.AirLowC)
		if slices.ContainsFunc(day.Dark, func(s string) bool { return s == tooCold }) {
			m.ColdDays++
		}
	}
	for _, e := range a.Ledger.AC {
		if e.Name == "shore" {
			m.PostWh = e.PerDay
		}
	}
	return m
}

// battery returns the month's battery row.
func (m *HomeMonth) battery() *StoreEnd {
	for i := range m.Stores {
		if m.Stores[i].Store == "battery" {
			return &m.Stores[i]
		}
	}
	return nil
}

// sentence tells the home's answer: the month in which the battery ends soonest, or that it holds all year.
func (a *HomeAnswer) sentence(doc *rig.Rig) string {
	how := "parked"
	if a.Lived {
		how = "lived in"
	}
	how += ", unplugged"
	if a.Hookup != "none" && a.Hookup != "" {
		how = how[:len(how)-len("unplugged")] + "plugged into " + a.Hookup
	}
	var worst *HomeMonth
	for i := range a.Months {
		b := a.Months[i].battery()
		if b == nil || b.AtLeast || b.Lasts.Value/24 > parkedNights {
			continue
		}
		if worst == nil || b.Lasts.Value < worst.battery().Lasts.Value {
			worst = &a.Months[i]
		}
	}
	floor := 100 * a.Months[0].Nights.Floor
	if worst == nil || !worst.battery().Reached {
		return fmt.Sprintf("At home (%s) the battery stays above %.0f %% in every month of the year.", how, floor)
	}
	when := " in " + worst.Month
	if !slices.ContainsFunc(a.Months, func(m HomeMonth) bool { b := m.battery(); return b == nil || b.Text != worst.battery().Text }) {
		when = " in any month"
	}
	return fmt.Sprintf("At home (%s), begun at %.0f %%, the battery is down to %.0f %% after %s%s.", how, 100*doc.Bank.StartsAt.Quantity.Base, floor, worst.battery().Text, when)
}
