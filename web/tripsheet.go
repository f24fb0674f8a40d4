package web

import (
	"fmt"
	"strconv"

	"campwright/quantity"
	"campwright/trip"
)

// fill writes an answer into the sheet. volts is the bank's nominal voltage, at which amp-hours are counted.
func (t *TripSheet) fill(a *trip.Answer, volts float64) {
	t.Sentence, t.Nights, t.Caution, t.Members = plainWords(a.Sentence), plainWords(a.Nights.Sentence), a.Caution, a.Basis.Members
	if a.Poor != nil {
		t.Poor = a.Poor.Sentence
	}
	for _, k := range a.Power {
		t.Power = append(t.Power, plainWords(k.Words))
	}
	for _, w := range a.Wrong {
		t.Wrong = append(t.Wrong, WrongRow{What: plainWords(w.What), Nights: strconv.Itoa(w.Nights), Of: strconv.Itoa(w.Of), Bar: share(float64(w.Nights), float64(w.Of))})
	}
	t.Days, t.Floor = float64(len(a.Days)), percent(a.Nights.Floor)
	us, metric := a.In(quantity.US), a.In(quantity.Metric)
	t.Notes = append(t.Notes, toldAll(us.Remarks, metric.Remarks)...)
	nights := nightCharges(&a.Trace, len(a.Days))
	most := 0.0
	for _, d := range a.Days {
		most = max(most, d.InWh+d.ThrownWh, d.OutWh)
	}
	for i, d := range a.Days {
		place := Both{us.Days[i].Place, metric.Days[i].Place}
		if n := len(t.Legs); n > 0 && t.Legs[n-1].Place == place {
			t.Legs[n-1].To++
		} else {
			t.Legs = append(t.Legs, Leg{Place: place, From: float64(i), To: float64(i + 1)})
		}
		row := dayRow(d, most)
		row.Place = place
		row.Bedtime, row.Dawn = nights[i].words()
		t.Dates = append(t.Dates, row)
	}
	t.Charge = append(t.Charge, typicalNight(nights)...)
	for i, s := range a.Stores {
		row := storeRow(s)
		row.Why = told(us.Stores[i].Why, metric.Stores[i].Why)
		t.Stores = append(t.Stores, row)
	}
	for _, g := range a.Guesses {
		q := quantity.Quantity{Base: g.Value.Value, Kind: g.Value.Kind}
		low, high := q, q
		low.Base, high.Base = g.Value.Low, g.Value.High
		row := GuessRow{Path: g.Path, Name: g.Name, Value: both(q), Share: of(g.Share, quantity.Share).US, Bar: g.Share, Reading: g.Reading}
		if low.Base < high.Base {
			row.Value = span(both(low), both(high))
		}
		t.Guesses = append(t.Guesses, row)
	}
	t.Ledger, t.Volts = ledgerParts(a.Ledger, volts), voltsText(volts)
	t.Basis = basisRows(a.Basis, us.Basis.Places)
	t.Curve = curve(a, 0, t.Days)
}

func storeRow(s trip.StoreEnd) StoreRow {
	row := StoreRow{
		Store: s.Store, Text: s.Text, Working: working(s.Lasts), Chance: s.Chance.Text, Reached: s.Reached, Open: s.AtLeast,
		Likely: 20*s.Chance.Count > s.Chance.Of,
		Lasts:  s.Lasts.Value / 24, Low: s.Lasts.Low / 24, High: s.Lasts.High / 24,
	}
	if s.EndsOn != "" {
		row.EndsOn = day(s.EndsOn)
	}
	return row
}

// dayRow writes one night; most is the largest energy of any day, against which bars are drawn.
func dayRow(d trip.Day, most float64) DayRow {
	row := DayRow{
		Date: day(d.Date), ISO: d.Date, Low: percent(d.LowSoC), BandLow: percent(d.BandLow), BandTop: percent(d.BandHigh),
		Charge: wholePercent(d.LowSoC), At: d.LowAt, In: wattHours(d.InWh), Used: wattHours(d.OutWh), Thrown: wattHours(d.ThrownWh),
		Unmet: wattHours(d.LostWh), GasLeft: wholePercent(d.GasLeft),
		Air: span(in(d.AirLowC, quantity.Temperature, "F", "C"), in(d.AirHighC, quantity.Temperature, "F", "C")),
		Sun: in(d.SunKWhM2, quantity.Irradiation, "kWh/m2", "kWh/m2"), Dark: []string{},
		InBar: share(d.InWh, most), ThrownBar: share(d.ThrownWh, most), UsedBar: share(d.OutWh, most),
	}
	row.Dark = append(row.Dark, d.Dark...)
	return row
}

// wholePercent writes a share of charge: nobody can tell a tenth of a per cent.
func wholePercent(share float64) string { return quantity.Digits(100*share, 1, 0) + " %" }

// ledgerParts lays the books out: every part in watt-hours against the largest entry of all of them, propane against its own.
func ledgerParts(l trip.Ledger, volts float64) []LedgerPart {
	parts := []struct {
		title   string
		entries []trip.Entry
	}{{"Comes from", l.Sources}, {"Goes to", l.Uses}, {"Lost on the way", l.Losses}, {"Sun not taken", l.Thrown}, {"Asked for, not served", l.Unmet}}
	most := 0.0
	for _, p := range parts {
		for _, e := range p.entries {
			most = max(most, e.PerDay)
		}
	}
	list := []LedgerPart{}
	for _, p := range parts {
		if len(p.entries) == 0 {
			continue
		}
		part := LedgerPart{Title: p.title, Rows: []LedgerRow{}}
		for _, e := range p.entries {
			part.Rows = append(part.Rows, LedgerRow{
				Name: e.Name, PerDay: wattHours(e.PerDay), Whole: column(e.Wh, quantity.Energy, "kWh", "kWh", 1), Bar: share(e.PerDay, most),
				Amps: ampHours(e.PerDay, volts), AmpsIn: ampHours(e.Wh, volts),
			})
		}
		list = append(list, part)
	}
	most = 0
	for _, e := range l.Propane {
		most = max(most, e.PerDay)
	}
	if len(l.Propane) > 0 {
		part := LedgerPart{Title: "Propane goes to", Rows: []LedgerRow{}}
		for _, e := range l.Propane {
			part.Rows = append(part.Rows, LedgerRow{Name: e.Name, PerDay: column(e.PerDay, quantity.Mass, "lb", "kg", 2), Whole: column(e.Kg, quantity.Mass, "lb", "kg", 1), Bar: share(e.PerDay, most)})
		}
		list = append(list, part)
	}
	return list
}

// share is a part of a whole for drawing, zero of nothing.
func share(part, whole float64) float64 {
	if !(whole > 0) {
		return 0
	}
	return part / whole
}

func basisRows(b trip.Basis, placesUS string) []BasisRow {
	runs := "one year of weather"
	if b.Members > 1 {
		runs = fmt.Sprintf("%d, each with its own weather and guesses; seed %d", b.Members, b.Seed)
	}
	return []BasisRow{
		{"Weather", alike(plainWords(b.Weather))},
		{"Runs", alike(runs)},
		{"Places", Both{placesUS, b.Places}},
		{"Stay", alike(day(b.From) + ", " + strconv.Itoa(b.Nights) + " nights")},
		{"Step", alike(strconv.Itoa(b.StepMin) + " min")},
		{"Guesses", alike(strconv.Itoa(b.Guesses) + " values are estimates")},
		{"Defaults", alike(strconv.Itoa(b.Defaults) + " values left out are filled in")},
		{"Rule book", alike(b.Book)},
	}
}
