// Package m55 is the room of rule M55.
package m55

import (
	"fmt"
	"math"

	"campwright/check"
	"campwright/conductor"
	"campwright/convert"
	"campwright/figure"
	"campwright/quantity"
	"campwright/rig"
)

// Rule is the record of the rule.
var Rule = check.Rule{
	ID: "M55", Title: "thin or long extension cord", Holds: "the cord keeps the voltage up", Worst: check.Fail,
	What: "The voltage that the shore cord leaves at the inlet: while the hardest motor starts, at what is drawn for hours as rule M54 counts it, or at the lasting " +
		"current of the smallest of post and inlet: at the worst of them, each taken at the ends of what is known.",
	Why: "A motor on low voltage draws more, heats and ages; a thin cord melts in a bundle, at the plug first. A hundred feet of 14 AWG melted a garage " +
		"outlet.",
	Except: "The post is taken at its nominal voltage; a weak one leaves less. For heaters and chargers a low voltage is a WARN. The cord of the file only: an extra " +
		"extension adds to it.",
	Formula:   "Vpost − I × R ≥ 0.9 × Vnom",
	Source:    "Ohm's law; resistance [NEC] chapter 9 table 8; 0.9: " + check.Practice,
	Sure:      "the cord at 75 C; a start is a nameplate's figure",
	Questions: []string{"How long is the cord, extensions included, and of which size?", "What does the motor draw at its start?"},
	Caution:   check.ShorePower,
	Run:       run,
}

// lowest is the share of nominal voltage that a motor needs: 108 V of 120. Common practice, no source.
const lowest = 0.9

// cordC is the temperature of a loaded cord [°C], that of the handbook's table.
const cordC = 75

func run(c check.Case) []check.Outcome {
	s := c.Doc.Shore
	if s == nil || s.Cord == nil || !s.Cord.Length.Stands() && s.Cord.Length.State != figure.Unknown {
		return nil
	}
	loads, motor := currents(c)
	if len(loads) == 0 {
		return nil
	}
	place := "shore/cord"
	if !s.Cord.Gauge.Given() || !s.Cord.Length.Given() {
		return []check.Outcome{{Verdict: check.Undecided, Place: place, Part: "shore cord", Measure: []string{readCord}}}
	}
	g, ok := conductor.OfSection(s.Cord.Gauge.Quantity.Base)
	if !ok {
		if g, ok = conductor.AtMost(conductor.AWG, s.Cord.Gauge.Quantity.Base); !ok {
			return nil
		}
	}
	fails := check.Warn
	if motor {
		fails = check.Fail
	}
	var o check.Outcome
	var amps figure.Term
	for i, t := range loads {
		x := left(c, g, t).Judge().Outcome(place, "shore cord", fails)
		if i == 0 || x.Verdict > o.Verdict || x.Verdict == o.Verdict && x.Margin != nil && o.Margin != nil && *x.Margin < *o.Margin {
			o, amps = x, t
		}
	}
	if o.Verdict == check.Warn {
		o.Consequence = "Chargers draw more to make up for it, and the plug gets hot."
	}
	o.Detail = fmt.Sprintf("Counted with %s: %s.", check.Say(amps.Figure.Value, quantity.Current), amps.Figure.Name)
	o.Ways = []string{"a cord of 10 AWG or thicker, as short as it can be", "a soft starter, or no motor on this cord"}
	if said, ok := c.SaidValue("shore/cord/gauge"); ok && said.Given() {
		for _, size := range []string{"10 AWG", "8 AWG", "6 AWG"} {
			o.Tries = append(o.Tries, check.Cure{Words: "take a cord of " + size, Edits: []rig.Edit{check.Set("shore/cord/gauge", said, size)}})
		}
	}
	return []check.Outcome{o}
}

// left is the inequality of the voltage at the inlet while a current flows.
func left(c check.Case, g conductor.Gauge, amps figure.Term) check.Inequality {
	v := c.OutletV()
	return check.Inequality{
		Formula: "V = Vpost − I × R ≥ Vmin", Name: "voltage at the inlet", Kind: quantity.Voltage, Source: "Ohm's law",
		Hints: map[string]string{"R": readCord, "I": "read the starting amps on the nameplate, or the running amps of what is on for hours"},
		Inputs: []figure.Term{
			check.Number("Vpost", "post, nominal", quantity.Voltage, v, "outlet"), amps, loop(c, g, c.Doc.Shore.Cord.Length),
			check.Number("Vmin", "lowest that motors bear", quantity.Voltage, lowest*v, check.Practice),
		},
	}
}

const readCord = "measure the cord and read its gauge on the jacket"

// loop is the resistance of both conductors of the cord.
func loop(c check.Case, g conductor.Gauge, length rig.Value) figure.Term {
	m := check.Known("", "", length).Figure
	name := fmt.Sprintf("%s of %s, there and back", c.Say(m.Value, quantity.Length), g)
	const book = "[NEC] chapter 9 table 8 at 75 C"
	if m.High <= m.Low {
		return check.Number("R", name, quantity.Resistance, g.LoopOhms(m.Value, cordC), book)
	}
	t := check.Between("R", name, quantity.Resistance, g.LoopOhms(m.Value, cordC), g.LoopOhms(m.Low, cordC), g.LoopOhms(m.High, cordC), book)
	t.Figure.State = m.State
	return t
}

// currents are those by which the cord is judged: the start of each motor, what is drawn for hours on each leg, and what post and inlet give for hours. The worst
// of them decides, each at its own ends. motor tells whether a motor hangs on the cord.
func currents(c check.Case) (list []figure.Term, motor bool) {
	v := c.OutletV()
	for i := range c.Doc.Appliances {
		start, ok := c.Start("I", i)
		if !ok || !check.OnShore(&c.Doc.Appliances[i]) {
			continue
		}
		f := &start.Figure
		f.Kind, f.Value, f.Low, f.High = quantity.Current, f.Value/v, f.Low/v, f.High/v
		motor, list = true, append(list, start)
	}
	for _, p := range c.Services() {
		s := c.Post(p.Service)
		list = append(list, c.ForHours("I", s)...)
		if most := lasts(c, s); most > 0 {
			list = append(list, check.Number("I", "lasting current of the "+s.Name+" post", quantity.Current, most, "post and inlet"))
		}
	}
	return list, motor
}

// lasts is what a post gives for hours, or the shore limit where that is less.
func lasts(c check.Case, s convert.Service) float64 {
	most := s.Continuous * s.Amps
	if c.Doc.Shore.Limit.Stands() {
		most = math.Min(most, c.Doc.Shore.Limit.Quantity.Base)
	}
	return most
}
