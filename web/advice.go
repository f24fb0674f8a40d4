package web

import (
	"context"
	"net/http"
	"slices"
	"strings"

	"campwright/quantity"
	"campwright/rig"

	"github.com/danielgtaylor/huma/v2"
)

// AdviceView is what an owner could do about the answer, tried out on the same weathers.
type AdviceView struct {
	Ends     string      `json:"ends"`                      // the store that ends the stay, or would first; empty when every store lasts
	Ways     []WayRow    `json:"ways" nullable:"false"`     // what moves the end of a store, the soonest end first
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

// WayRow is one thing to do about a store that ends inside the stay.
type WayRow struct {
	Store string     `json:"store"`
	Words Both       `json:"words"`
	Saves Both       `json:"saves"` // a day; empty where it saves none
	Costs Both       `json:"costs"` // what else it takes a day; empty where nothing
	Lasts string     `json:"lasts"` // the store then
	Next  string     `json:"next"`  // what would end the stay then
	Edits []rig.Edit `json:"edits" nullable:"false"`
}

// WordsRow is one line of advice in words.
type WordsRow struct {
	Words   Both   `json:"words"`
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
		v := AdviceView{Ways: []WayRow{}, Switches: []SwitchRow{}, Hours: []WordsRow{}, Hookups: []WordsRow{}}
		if len(r.faults) > 0 || len(r.gaps) > 0 {
			return &adviceOutput{v}, nil
		}
		a, err := s.options.Advise(ctx, r.full)
		if err != nil {
			return nil, s.fail("advice", refused{err})
		}
		v.Ends = a.Ends
		us, metric := a.In(quantity.US), a.In(quantity.Metric)
		for i, x := range a.Ways {
			row := WayRow{
				Store: x.Store, Words: told(us.Ways[i].Words, metric.Ways[i].Words), Lasts: x.Text, Next: plainWords(x.Next), Edits: asWritten(r.text.Bytes, x.Edits),
				Costs: told(strings.Join(us.Ways[i].Costs, ", "), strings.Join(metric.Ways[i].Costs, ", ")),
			}
			if x.Saves.Value > 0 {
				row.Saves = both(quantity.Quantity{Base: x.Saves.Value, Kind: x.Saves.Kind})
			}
			v.Ways = append(v.Ways, row)
		}
		for _, x := range a.Switches {
			row := SwitchRow{Name: x.Appliance, Words: plainWords(x.Words), Saves: wattHours(x.SavesWh), Lasts: x.Text, Edits: asWritten(r.text.Bytes, x.Edits)}
			if x.CostsKg > 0 {
				row.Costs = of(x.CostsKg, quantity.Mass)
			}
			v.Switches = append(v.Switches, row)
		}
		for i, x := range a.MakeUp {
			v.Hours = append(v.Hours, WordsRow{told(us.MakeUp[i].Words, metric.MakeUp[i].Words), x.Caution})
		}
		for _, x := range a.Hookups {
			v.Hookups = append(v.Hookups, WordsRow{Words: alike(plainWords(x.Words))})
		}
		return &adviceOutput{v}, nil
	})
}

// asWritten returns edits with what stands at their places in a file's text, where they were made for the rig as it is completed: a word that
// the file leaves out is there in the one and not in the other.
func asWritten(text []byte, edits []rig.Edit) []rig.Edit {
	list := listed(slices.Clone(edits))
	for i := range list {
		old, err := rig.Read(text, list[i].Path)
		if err != nil {
			break // it is refused in words when it is made
		}
		list[i].Old = old
		if text, err = rig.Apply(text, list[i:i+1]); err != nil {
			break
		}
	}
	return list
}
