package check

import (
	"campwright/figure"
	"campwright/rig"
)

// Outcome is what a rule says of one place in the rig.
type Outcome struct {
	Rule    string  `json:"rule"`
	Verdict Verdict `json:"verdict" enum:"STOP,FAIL,UNDECIDED,WARN,NOTE,PASS"`
	Place   string  `json:"place"` // path in the document; "rig" for all of it
	Part    string  `json:"part"`  // the place in the owner's words
	Title   string  `json:"title"` // what is wrong, in seven words at most

	Numbers figure.Working `json:"-"`       // the inequality with the rig's figures
	Working Working        `json:"working"` // the same, ready to show
	Margin  *float64       `json:"margin"`  // what is to spare at the bad end of every guess, as a share of the limit; below zero what is missing; null where there is none

	Consequence string   `json:"consequence"`              // what can happen
	Detail      string   `json:"detail"`                   // what more the rig's figures say; may be empty
	Measure     []string `json:"measure" nullable:"false"` // for UNDECIDED: the readings that would settle it, the most telling first
	Ways        []string `json:"ways" nullable:"false"`    // ways out in words, the cheapest first; Cures computes those that edit the file
	Caution     string   `json:"caution"`                  // kind of danger
	Source      string   `json:"source"`
	Sure        string   `json:"sure"`
	Accepted    string   `json:"accepted"` // the owner's reason for living with it; empty when it stands
	Tries       []Cure   `json:"-"`        // edits that may cure it, not judged yet
}

// Cure is a way out of a finding that can be made in the file.
type Cure struct {
	Words string     `json:"words"`
	Edits []rig.Edit `json:"edits" nullable:"false"`
}

// Finding tells whether an outcome asks for something: a STOP, a FAIL or a WARN that is not accepted, or a question.
func (o *Outcome) Finding() bool { return o.Verdict >= Warn && o.Accepted == "" }

// Grave tells whether an outcome keeps the rig from being called in order: a STOP, or a FAIL that is not accepted.
func (o *Outcome) Grave() bool { return o.Verdict == Stop || o.Verdict == Fail && o.Accepted == "" }

// Figure returns the figure of a symbol in the outcome's working, or in a working inside it.
func (o *Outcome) Figure(symbol string) (float64, bool) { return figureIn(o.Numbers, symbol) }

func figureIn(w figure.Working, symbol string) (float64, bool) {
	for _, t := range w.Terms {
		if t.Symbol == symbol {
			return t.Figure.Value, true
		}
	}
	for _, t := range w.Terms {
		if t.Figure.Working != nil {
			if x, ok := figureIn(*t.Figure.Working, symbol); ok {
				return x, true
			}
		}
	}
	return 0, false
}
