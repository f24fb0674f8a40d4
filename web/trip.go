package web

import (
	"context"
	"net/http"
	"strings"

	"campwright/trip"

	"github.com/danielgtaylor/huma/v2"
)

// TripSheet is the sheet "Will it last?".
type TripSheet struct {
	Revision   string       `json:"revision"`                          // of the rig it answers for
	State      string       `json:"state" enum:"answered,gaps,faults"` // whether there is an answer
	Gaps       []GapView    `json:"gaps" nullable:"false"`             // what must be known first
	Sentence   string       `json:"sentence"`                          // the answer
	Difference string       `json:"difference"`                        // what has become of the stores since the revision asked about
	Nights     string       `json:"nights"`                            // how often the floor is missed, in a sentence
	Poor       string       `json:"poor"`                              // how the battery fares in a run worse than nine in ten, whose line is the curve's "poor"; empty where there is none
	Power      []string     `json:"power" nullable:"false"`            // what must never lose power, and how often it would
	Wrong      []WrongRow   `json:"wrong" nullable:"false"`            // what went wrong in the typical run, most nights first
	Days       float64      `json:"days"`                              // length of the stay
	Legs       []Leg        `json:"legs" nullable:"false"`             // the places, in order
	Stores     []StoreRow   `json:"stores" nullable:"false"`           // the soonest end first
	Floor      float64      `json:"floor"`                             // [%]
	Dates      []DayRow     `json:"dates" nullable:"false"`            // one a night
	Curve      Curve        `json:"curve"`                             // the bank over the whole stay
	Charge     []BasisRow   `json:"charge" nullable:"false"`           // of the typical night: at bedtime, at first light
	Ledger     []LedgerPart `json:"ledger" nullable:"false"`           // where energy came from and went
	Volts      string       `json:"volts"`                             // at which amp-hours of the ledger are counted
	Guesses    []GuessRow   `json:"guesses" nullable:"false"`          // widest first
	Notes      []Both       `json:"notes" nullable:"false"`            // what the answer leans on
	Caution    string       `json:"caution"`                           //
	Basis      []BasisRow   `json:"basis" nullable:"false"`            // what the answer rests on
	Members    int          `json:"members" doc:"runs of weather; 1 is one year"`
}

// WrongRow is something that went wrong in the typical run, and on how many nights of how many.
type WrongRow struct {
	What   string  `json:"what"`
	Nights string  `json:"nights"`
	Of     string  `json:"of"`
	Bar    float64 `json:"bar"` // share of all nights, for drawing
}

// Leg is a part of the stay at one place.
type Leg struct {
	Place Both    `json:"place"`
	From  float64 `json:"from"` // [d] from arrival
	To    float64 `json:"to"`
}

// StoreRow is how long one store lasts. The numbers are days from arrival, for drawing.
type StoreRow struct {
	Store   string  `json:"store"`
	Text    string  `json:"text"`
	EndsOn  string  `json:"endsOn"` // in words; empty when it outlasts the stay
	Why     Both    `json:"why"`
	Working Lines   `json:"working"` // the arithmetic, line by line; empty where there is none
	Chance  string  `json:"chance"`
	Lasts   float64 `json:"lasts"`
	Low     float64 `json:"low"`
	High    float64 `json:"high"`
	Reached bool    `json:"reached"` // ends inside the stay
	Open    bool    `json:"open"`    // outlasts the stay by more than can be told
	Likely  bool    `json:"likely"`  // ends inside the stay in more than one run in twenty
}

// DayRow is one night, noon to noon, under the date of its evening.
type DayRow struct {
	Date    string   `json:"date"` // "Fri 5 Dec"
	ISO     string   `json:"iso"`
	Place   Both     `json:"place"`
	Low     float64  `json:"low"`     // [%] lowest of the night, typical run
	BandLow float64  `json:"bandLow"` // [%] of nine runs in ten
	BandTop float64  `json:"bandTop"`
	Charge  string   `json:"charge"` // the lowest in words
	At      string   `json:"at"`
	Bedtime string   `json:"bedtime"` // charge at bedtime, in words; empty where the stay has no such hour
	Dawn    string   `json:"dawn"`    // charge at the first light after it
	In      Both     `json:"in"`
	Used    Both     `json:"used"`
	Thrown  Both     `json:"thrown"`
	Unmet   Both     `json:"unmet"`
	GasLeft string   `json:"gasLeft"`
	Air     Both     `json:"air"`
	Sun     Both     `json:"sun"`
	Dark    []string `json:"dark" nullable:"false"`

	InBar     float64 `json:"inBar"` // shares of the largest day, for drawing
	ThrownBar float64 `json:"thrownBar"`
	UsedBar   float64 `json:"usedBar"`
}

// LedgerPart is one side of the books.
type LedgerPart struct {
	Title string      `json:"title"`
	Rows  []LedgerRow `json:"rows" nullable:"false"`
}

// LedgerRow is one line of the books.
type LedgerRow struct {
	Name   string  `json:"name"`
	PerDay Both    `json:"perDay"`
	Whole  Both    `json:"whole"`
	Amps   string  `json:"amps"`   // amp-hours a day at the bank's nominal voltage; empty for propane
	AmpsIn string  `json:"ampsIn"` // the same over the whole stay
	Bar    float64 `json:"bar"`    // share of the largest entry of its unit, for drawing
}

// GuessRow is a value that is not known well, and what it does to the answer.
type GuessRow struct {
	Path    string  `json:"path"`
	Name    string  `json:"name"`
	Value   Both    `json:"value"`
	Share   string  `json:"share"`
	Bar     float64 `json:"bar"`
	Reading string  `json:"reading"`
}

// BasisRow is one thing the answer rests on.
type BasisRow struct {
	Name string `json:"name"`
	Text Both   `json:"text"`
}

// usualStep is the step of an answer where none is asked for [min].
const usualStep = 5

// TripInput is what every question about the trip may choose.
type TripInput struct {
	Weather string `query:"weather" maxLength:"200" doc:"name of a weather; none for what the program takes by itself"`
	Step    int    `query:"step" minimum:"1" maximum:"60" default:"5" doc:"minutes of a step, a divisor of a day"`
}

func (in *TripInput) ask() TripAsk {
	return TripAsk{Weather: strings.TrimSpace(in.Weather), StepMin: in.Step}
}

type sinceInput struct {
	TripInput
	Since string `query:"since" maxLength:"32" doc:"revision that was answered before; what has become of the stores since is pointed out"`
}

type tripOutput struct{ Body TripSheet }

func (s *Server) tripOperation(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "trip", Method: http.MethodGet, Path: "/api/trip", Summary: "Will it last?",
		Description: "How long each store lasts, what ends the stay, and where the energy goes.", Errors: []int{404, 422, 500},
	}, func(ctx context.Context, in *sinceInput) (*tripOutput, error) {
		r, answer, err := s.answer(ctx, &in.TripInput)
		if err != nil {
			return nil, s.fail("trip", err)
		}
		sheet := TripSheet{
			Revision: r.revision, State: "answered", Gaps: gapViews(r.gaps, r.text.Bytes), Legs: []Leg{}, Stores: []StoreRow{}, Dates: []DayRow{},
			Ledger: []LedgerPart{}, Guesses: []GuessRow{}, Notes: []Both{}, Basis: []BasisRow{}, Power: []string{}, Wrong: []WrongRow{}, Charge: []BasisRow{}, Curve: emptyCurve(),
		}
		switch {
		case len(r.faults) > 0:
			sheet.State = "faults"
		case len(r.gaps) > 0:
			sheet.State = "gaps"
		default:
			sheet.fill(answer, bankVolts(&r.full))
			if was := s.answers.find(answerKey{in.Since, in.ask()}); was != nil {
				sheet.Difference = difference(was, answer)
			}
		}
		return &tripOutput{sheet}, nil
	})
}

// answer reads the rig and answers for it. There is no answer to a rig with faults or gaps; the reading tells.
func (s *Server) answer(ctx context.Context, in *TripInput) (reading, *trip.Answer, error) {
	r, err := s.read()
	if err != nil || len(r.faults) > 0 || len(r.gaps) > 0 {
		return r, nil, err
	}
	a, err := s.answers.get(ctx, r, in.ask())
	return r, a, err
}
