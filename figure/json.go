package figure

import (
	"encoding/json"
	"fmt"
	"math"

	"campwright/quantity"
)

// wire is a figure as other programs and the page read it. Value and unit stand together; the unit is the base unit, the same whatever
// the reader prefers, and text is what a person is shown in either system.
type wire struct {
	Name    string       `json:"name"`
	Value   *float64     `json:"value"` // null when it is not known or not finite
	Unit    string       `json:"unit"`
	Kind    string       `json:"kind"`
	Low     *float64     `json:"low,omitempty"` // with high, only where there is a range
	High    *float64     `json:"high,omitempty"`
	State   string       `json:"state"`
	Shown   string       `json:"shown,omitempty"` // the unit it is best shown in, when that is not the usual one
	Text    *wireText    `json:"text,omitempty"`
	Source  string       `json:"source,omitempty"`
	Working *wireWorking `json:"working,omitempty"`
}

type wireText struct {
	US     string `json:"us"`
	Metric string `json:"metric"`
}

type wireWorking struct {
	Formula string     `json:"formula"`
	Numbers string     `json:"numbers,omitempty"` // the formula with its numbers, for a calculator
	Terms   []wireTerm `json:"terms"`
	Source  string     `json:"source,omitempty"`
}

type wireTerm struct {
	Symbol string `json:"symbol"`
	Figure Figure `json:"figure"`
}

// MarshalJSON writes the figure with value and unit together, its state as a word, and its texts.
func (f Figure) MarshalJSON() ([]byte, error) {
	w := wire{Name: f.Name, Unit: f.Kind.BaseUnit(), Kind: f.Kind.String(), State: f.State.String(), Shown: f.Unit, Source: f.Source,
		Text: &wireText{Text(f, quantity.US), Text(f, quantity.Metric)}}
	if f.State != Unknown && f.State != Absent && f.finite() {
		w.Value = &f.Value
		if f.HasRange() {
			w.Low, w.High = &f.Low, &f.High
		}
	}
	if f.Working != nil {
		w.Working = &wireWorking{Formula: f.Working.Formula, Terms: make([]wireTerm, 0, len(f.Working.Terms)), Source: f.Working.Source}
		if numbers, err := Numbers(*f.Working); err == nil {
			w.Working.Numbers = numbers
		}
		for _, t := range f.Working.Terms {
			w.Working.Terms = append(w.Working.Terms, wireTerm(t))
		}
	}
	return json.Marshal(w)
}

// UnmarshalJSON reads what MarshalJSON writes. The texts are not read: they follow from the rest.
func (f *Figure) UnmarshalJSON(data []byte) error {
	var w wire
	if err := json.Unmarshal(data, &w); err != nil {
		return err
	}
	out := Figure{Name: w.Name, Source: w.Source, Unit: w.Shown}
	var ok bool
	if out.Kind, ok = quantity.ParseKind(w.Kind); !ok {
		return fmt.Errorf("figure %q: unknown kind %q", w.Name, w.Kind)
	}
	if w.Unit != out.Kind.BaseUnit() {
		return fmt.Errorf("figure %q: unit %q, expected %q", w.Name, w.Unit, out.Kind.BaseUnit())
	}
	if out.State, ok = parseState(w.State); !ok {
		return fmt.Errorf("figure %q: unknown state %q", w.Name, w.State)
	}
	switch {
	case w.Value != nil:
		out.Value, out.Low, out.High = *w.Value, *w.Value, *w.Value
	case out.State > Unknown:
		out.Value, out.Low, out.High = math.NaN(), math.NaN(), math.NaN()
	}
	if w.Low != nil && w.High != nil {
		out.Low, out.High = *w.Low, *w.High
	}
	if w.Working != nil {
		out.Working = &Working{Formula: w.Working.Formula, Source: w.Working.Source}
		for _, t := range w.Working.Terms {
			out.Working.Terms = append(out.Working.Terms, Term(t))
		}
	}
	*f = out
	return nil
}

func parseState(word string) (State, bool) {
	for i, s := range states {
		if s == word {
			return State(i), true
		}
	}
	return Absent, false
}

// MarshalText writes the word for a state.
func (s State) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads the word for a state.
func (s *State) UnmarshalText(text []byte) error {
	got, ok := parseState(string(text))
	if !ok {
		return fmt.Errorf("unknown state %q", text)
	}
	*s = got
	return nil
}
