package design

import "strings"

// ACRow is one leg of one way in which the breaker panel is fed, with everything on at once and with what runs for hours. A figure whose leg nobody told lies
// between its ends.
type ACRow struct {
	Feed      string   `json:"feed"`
	Words     string   `json:"words"`
	Leg       string   `json:"leg"`
	OnA       float64  `json:"onA"`
	OnLow     float64  `json:"onLowA"`
	OnHigh    float64  `json:"onHighA"`
	HoursA    float64  `json:"hoursA"`
	HoursLow  float64  `json:"hoursLowA"`
	HoursHigh float64  `json:"hoursHighA"`
	MadeUpA   float64  `json:"madeUpA"` // by the inverter beside the source
	BreakerA  float64  `json:"breakerA"`
	CordA     float64  `json:"cordA"` // what a conductor of the shore cord may carry; zero where it is not told or not in this feed
	NeutralA  float64  `json:"neutralA"`
	NeutralLo float64  `json:"neutralLowA"`
	NeutralHi float64  `json:"neutralHighA"`
	Stands    string   `json:"stands" enum:"within,over for hours,leg not told,over with everything on"`
	Untold    []string `json:"untold" nullable:"false"` // what hangs on a leg that nobody told
	Left      []string `json:"left" nullable:"false"`   // what cannot run on this feed
}

// oneLeg is what the leg of a feed with one is called.
const oneLeg = "single leg"

// acRows are the currents of the AC side.
func (w *Wired) acRows() []ACRow {
	list := []ACRow{}
	n := w.Net()
	for _, f := range n.ACFeeds() {
		for i := range f.Legs {
			l := &f.Legs[i]
			row := ACRow{
				Feed: f.Name, Words: f.Words, Leg: l.Name, OnA: round(l.On.Nominal, 1), OnLow: round(l.On.Low, 1), OnHigh: round(l.On.High, 1),
				HoursA: round(l.Hours.Nominal, 1), HoursLow: round(l.Hours.Low, 1), HoursHigh: round(l.Hours.High, 1), MadeUpA: round(l.MadeUpA, 1), BreakerA: round(l.BreakerA, 1),
				NeutralA: round(f.Neutral.Nominal, 1), NeutralLo: round(f.Neutral.Low, 1), NeutralHi: round(f.Neutral.High, 1), Stands: "within", Untold: some(f.Untold), Left: some(f.Left),
			}
			if strings.HasPrefix(f.Name, "shore") {
				cord, _ := n.CordAmps()
				row.CordA = round(cord, 1)
			}
			if len(f.Legs) == 1 && row.Leg == "L" {
				row.Leg = oneLeg
			}
			switch over, may, atOnce := l.ForHours(row.CordA); {
			case over:
				row.Stands = "over for hours"
			case may:
				row.Stands = "leg not told"
			case atOnce:
				row.Stands = "over with everything on"
			}
			list = append(list, row)
		}
	}
	return list
}
