package web

import (
	"context"
	"net/http"

	"campwright/quantity"
	"campwright/rig"

	"github.com/danielgtaylor/huma/v2"
)

// AdviceView is what an owner could do about the answer, tried out on the same weathers.
type AdviceView struct {
	Switches []SwitchRow `json:"switches" nullable:"false"` // what saves most comes first
	Hours    []WordsRow  `json:"hours" nullable:"false"`    // of engine or generator
	Hookups  []WordsRow  `json:"hookups" nullable:"false"`
}

// SwitchRow is one thing switched, and what it does.
type SwitchRow struct {
	Name  string     `json:"name"`
	Words string     `json:"words"`
	Saves Both       `json:"saves"` // a day
	Costs Both       `json:"costs"` // propane a day; empty where it costs none
	Lasts string     `json:"lasts"` // the battery then
	Edits []rig.Edit `json:"edits" nullable:"false"`
}

// WordsRow is one line of advice in words.
type WordsRow struct {
	Words   string `json:"words"`
	Caution string `json:"caution"`
}

type adviceOutput struct{ Body AdviceView }

func (s *Server) adviceOperation(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "advice", Method: http.MethodGet, Path: "/api/trip/advice", Summary: "What could be done about it?",
		Description: "What to switch, hours of engine or generator, weak hookups: each tried out in full.", Errors: []int{404, 422, 500},
	}, func(ctx context.Context, _ *struct{}) (*adviceOutput, error) {
		r, err := s.read()
		if err != nil {
			return nil, s.fail("advice", err)
		}
		v := AdviceView{Switches: []SwitchRow{}, Hours: []WordsRow{}, Hookups: []WordsRow{}}
		if len(r.faults) > 0 || len(r.gaps) > 0 {
			return &adviceOutput{v}, nil
		}
		a, err := s.options.Advise(ctx, r.full)
		if err != nil {
			return nil, s.fail("advice", refused{err})
		}
		for _, x := range a.Switches {
			row := SwitchRow{Name: x.Appliance, Words: plainWords(x.Words), Saves: wattHours(x.SavesWh), Lasts: x.Text, Edits: x.Edits}
			if x.CostsKg > 0 {
				row.Costs = of(x.CostsKg, quantity.Mass)
			}
			if row.Edits == nil {
				row.Edits = []rig.Edit{}
			}
			v.Switches = append(v.Switches, row)
		}
		for _, x := range a.MakeUp {
			v.Hours = append(v.Hours, WordsRow{plainWords(x.Words), x.Caution})
		}
		for _, x := range a.Hookups {
			v.Hookups = append(v.Hookups, WordsRow{Words: plainWords(x.Words)})
		}
		return &adviceOutput{v}, nil
	})
}
