package check

import (
	"math"
	"slices"

	"campwright/figure"
	"campwright/quantity"
	"campwright/system"
)

// Drain is what draws from the bank while nobody is there.
type Drain struct {
	Names []string    // of the loads, the largest first
	Amps  figure.Term // their mean
}

// Parked returns what draws from the bank while the rig is parked, of the loads that pick wants, at the nominal voltage of the bank; all with
// the controllers' own use and the idle draw of inverters where pick is nil. False where the system cannot be made.
func (c Case) Parked(symbol, name string, pick func(load string) bool) (Drain, bool) {
	if c.Sys == nil {
		return Drain{}, false
	}
	volts := c.BankV()
	mean := func(s *system.System) (amps float64, uses []system.Use) {
		b := s.Budget(parkedC, volts, false)
		wh := 0.0
		if pick == nil {
			wh = b.TotalWh
		}
		for _, u := range b.Uses {
			if pick == nil || pick(u.Load) {
				uses = append(uses, u)
				if pick != nil {
					wh += u.Wh
				}
			}
		}
		return wh / 24 / volts, uses
	}
	at, uses := mean(c.Sys)
	low, _ := mean(c.Low)
	high, _ := mean(c.High)
	d := Drain{Amps: figure.Term{Symbol: symbol, Figure: figure.Figure{
		Name: name, Value: at, Low: math.Min(at, math.Min(low, high)), High: math.Max(at, math.Max(low, high)), Kind: quantity.Current, State: figure.Plain, Source: "appliances that stay on",
	}}}
	if d.Amps.Figure.High > d.Amps.Figure.Low {
		d.Amps.Figure.State = figure.About
	}
	slices.SortStableFunc(uses, func(a, b system.Use) int {
		switch {
		case a.Wh > b.Wh:
			return -1
		case a.Wh < b.Wh:
			return 1
		}
		return 0
	})
	for _, u := range uses {
		if u.Wh <= 0 {
			continue
		}
		d.Names = append(d.Names, u.Load)
		for i := range c.Doc.Appliances {
			if a := &c.Doc.Appliances[i]; a.Name == u.Load && (a.Power.Rate.State == figure.Unknown || a.Standby.State == figure.Unknown) {
				d.Amps.Figure.State = figure.Unknown
			}
		}
	}
	return d, true
}

// Stored returns what a bank left by itself has to give, as the side of a formula and its terms: its capacity, from the charge that it starts at down to the reserve,
// where the owner wrote either.
func (c Case) Stored() (side string, terms []figure.Term) {
	side, terms = "C", []figure.Term{c.BankAh("C")}
	said, reserve := c.Said.Bank != nil && c.Said.Bank.StartsAt.Given(), c.Said.Aims != nil && c.Said.Aims.Floor.Given()
	if !said {
		return side, terms
	}
	side, terms = "C × s", append(terms, Known("s", "charge that it is left with", c.Said.Bank.StartsAt))
	if reserve {
		side, terms = "C × (s − r)", append(terms, Known("r", "reserve", c.Said.Aims.Floor))
	}
	return side, terms
}

// parkedC is the air of a budget for a parked rig [°C]: nothing that stays on follows it.
const parkedC = 10
