package web

import (
	"context"
	"math"
	"net/http"

	"campwright/quantity"
	"campwright/trip"

	"github.com/danielgtaylor/huma/v2"
)

// HomeView is the rig at home, month by month: each month for itself.
type HomeView struct {
	Sentence string      `json:"sentence"`
	Place    Both        `json:"place"`
	Months   []HomeMonth `json:"months" nullable:"false"`
	Drains   []LedgerRow `json:"drains" nullable:"false"` // what draws, in the month of most
	Notes    []Both      `json:"notes" nullable:"false"`
	Members  int         `json:"members"` // runs a month
}

// HomeMonth is one month at home.
type HomeMonth struct {
	Month   string  `json:"month"`
	Lasts   string  `json:"lasts"`  // the battery, in words
	Ends    bool    `json:"ends"`   // it does not outlast the month, or the months it was followed
	Low     float64 `json:"low"`    // [%] of the typical run, for drawing
	Charge  string  `json:"charge"` // the same in words
	In      Both    `json:"in"`     // a day
	Used    Both    `json:"used"`
	Post    Both    `json:"post"` // from the post
	Propane Both    `json:"propane"`
	Coldest Both    `json:"coldest"`
	Cold    int     `json:"cold"` // days too cold to charge
}

type homeOutput struct{ Body HomeView }

func (s *Server) homeOperation(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "home", Method: http.MethodGet, Path: "/api/home", Summary: "Will it last at home, month by month?", Errors: []int{404, 422, 500},
	}, func(ctx context.Context, _ *struct{}) (*homeOutput, error) {
		r, err := s.read()
		if err != nil {
			return nil, s.fail("home", err)
		}
		v := HomeView{Months: []HomeMonth{}, Drains: []LedgerRow{}, Notes: []Both{}}
		if len(r.faults) > 0 || len(r.gaps) > 0 {
			return &homeOutput{v}, nil
		}
		a, err := trip.Home(ctx, &r.full, trip.Options{}, s.options.Now().Year())
		if err != nil {
			return nil, s.fail("home", refused{err})
		}
		v.fill(a)
		return &homeOutput{v}, nil
	})
}

func (v *HomeView) fill(a trip.HomeAnswer) {
	v.Sentence, v.Members = plainWords(a.Sentence), a.Basis.Members
	us, metric := a.In(quantity.US), a.In(quantity.Metric)
	v.Place, v.Notes = Both{us.Place, metric.Place}, append(v.Notes, toldAll(us.Remarks, metric.Remarks)...)
	for _, m := range a.Months {
		row := HomeMonth{
			Month: m.Month, Low: percent(m.LowSoC), Charge: wholePercent(m.LowSoC), In: wattHours(m.InWh), Used: wattHours(m.UseWh), Post: wattHours(m.PostWh),
			Propane: column(m.GasKg, quantity.Mass, "lb", "kg", 2), Coldest: of(math.Round(m.AirLowC), quantity.Temperature), Cold: m.ColdDays,
		}
		if battery := storeNamed(m.Stores, "battery"); battery.Store != "" {
			row.Lasts, row.Ends = battery.Text, !battery.AtLeast
		}
		v.Months = append(v.Months, row)
	}
	most := 0.0
	for _, e := range a.Drains {
		most = max(most, e.PerDay)
	}
	for _, e := range a.Drains {
		v.Drains = append(v.Drains, LedgerRow{Name: e.Name, PerDay: wattHours(e.PerDay), Whole: column(e.Wh, quantity.Energy, "kWh", "kWh", 1), Bar: share(e.PerDay, most)})
	}
}
