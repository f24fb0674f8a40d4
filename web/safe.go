package web

import (
	"context"
	"net/http"

	"campwright/check"
	"campwright/check/rules"
	"campwright/store"
	"campwright/system"

	"github.com/danielgtaylor/huma/v2"
)

// SafeSheet is the sheet "Is it safe?".
type SafeSheet struct {
	Revision string            `json:"revision"`                     // of the rig it judges
	State    string            `json:"state" enum:"answered,faults"` // whether there is an answer
	Sentence string            `json:"sentence"`                     // the answer
	Book     string            `json:"book"`                         // the bundle of rule tables
	Rules    int               `json:"rules"`                        // how many were asked
	Scope    string            `json:"scope"`                        // how much was judged, and how much no rule can
	Since    string            `json:"since"`                        // the revision that shifts are counted from; empty when none was asked for or it is lost
	Shifts   []CureShift       `json:"shifts" nullable:"false"`      // what has another verdict since then, the worst first
	Counts   []VerdictCount    `json:"counts" nullable:"false"`      // the worst first
	Groups   []SafeGroup       `json:"groups" nullable:"false"`      // what asks for something and what is worth knowing, the worst first
	Passes   []Finding         `json:"passes" nullable:"false"`      // one for each rule, the tightest first
	Cautions []check.Caution   `json:"cautions" nullable:"false"`    // each danger once
	Local    string            `json:"local"`                        // what stands with every caution
	Missing  []GapView         `json:"missing" nullable:"false"`     // what the file must say before all rules can judge
	Fault    string            `json:"fault"`                        // why the rig could not be put together, besides what is missing
	Silent   []SilentRule      `json:"silent" nullable:"false"`      // rules that said nothing
	Later    []check.LaterRule `json:"later" nullable:"false"`       // what no rule judges, and what does
	Places   []EndsRow         `json:"places" nullable:"false"`      // temperatures that entered
}

// VerdictCount is how many checks came to one verdict.
type VerdictCount struct {
	Verdict string `json:"verdict" enum:"STOP,FAIL,UNDECIDED,WARN,NOTE,PASS,ACCEPTED"`
	N       int    `json:"n"`
}

// SafeGroup is the findings of one verdict, or those that the owner has accepted.
type SafeGroup struct {
	Verdict string      `json:"verdict" enum:"STOP,FAIL,UNDECIDED,WARN,NOTE,ACCEPTED"`
	Meaning string      `json:"meaning"`
	Places  []SafeParts `json:"places" nullable:"false"`
}

// SafeParts is the findings of one verdict at one place.
type SafeParts struct {
	Place    string    `json:"place"`
	Part     string    `json:"part"`
	Findings []Finding `json:"findings" nullable:"false"`
}

// Finding is what a rule says of a place in one title. The same said of several ends of a place stands once, with a case for each.
type Finding struct {
	Rule        string       `json:"rule"`
	Verdict     string       `json:"verdict" enum:"STOP,FAIL,UNDECIDED,WARN,NOTE,PASS"`
	Place       string       `json:"place"`
	Title       string       `json:"title"`
	Key         string       `json:"key"` // the title as the rule has it, to ask for cures by
	Cases       []SafeCase   `json:"cases" nullable:"false"`
	Consequence Both         `json:"consequence"`
	Measure     []Both       `json:"measure" nullable:"false"`
	Settle      []WiredValue `json:"settle" nullable:"false"` // values of the rig that would settle it, to be typed right there
	Ways        []Both       `json:"ways" nullable:"false"`
	Caution     string       `json:"caution"`
	Source      string       `json:"source"`
	Sure        Both         `json:"sure"`
	What        Both         `json:"what"`   // the rule looks at
	Except      Both         `json:"except"` // the rule leaves out
	Accepted    string       `json:"accepted"`
}

// SafeCase is one inequality of a finding with the rig's figures.
type SafeCase struct {
	Part    string      `json:"part"`
	Detail  Both        `json:"detail"`
	Result  Both        `json:"result"` // empty where there is nothing to compare
	Sense   string      `json:"sense" enum:"≤,≥,"`
	Limit   Both        `json:"limit"`
	Worst   Both        `json:"worst"`   // the limit at its bad end, where a guess moves it; empty for any other
	AtBest  Both        `json:"atBest"`  // the same at its good end
	Margin  *float64    `json:"margin"`  // share of the limit to spare at the bad end of every guess, below zero what is missing; null where there is none
	Nominal *float64    `json:"nominal"` // the same with every guess as taken
	Spare   string      `json:"spare"`   // the margin in words
	Working SafeWorking `json:"working"`
}

// SafeWorking is an inequality term by term, with its figures in each system of units.
type SafeWorking struct {
	Formula string    `json:"formula"`
	Filled  Both      `json:"filled"`
	Result  Both      `json:"result"`
	Limit   Both      `json:"limit"`   // as the formula has it: "14.2 V + 1 V"
	Comes   Both      `json:"comes"`   // what the limit comes to, where it is a sum
	Celsius bool      `json:"celsius"` // the formula holds in degrees Celsius alone and is shown in metric units to all
	Terms   []TermRow `json:"terms" nullable:"false"`
	Source  string    `json:"source"`
}

// TermRow is one symbol of a working.
type TermRow struct {
	Symbol  string `json:"symbol"`
	Name    Both   `json:"name"`
	Value   Both   `json:"value"`
	Source  Both   `json:"source"` // path in the document, or where else it is from
	Working Lines  `json:"working"`
}

// SilentRule is a rule that had nothing to say.
type SilentRule struct {
	ID    string `json:"id"`
	Title string `json:"title"`
}

// EndsRow is the ends of temperature of one place.
type EndsRow struct {
	Name    string   `json:"name"`
	Home    bool     `json:"home"`
	Low     Both     `json:"low"`
	Annual  Both     `json:"annual"`
	High    Both     `json:"high"`
	Height  Both     `json:"height"`
	LowC    *float64 `json:"lowC"` // the same as numbers, for drawing
	AnnualC *float64 `json:"annualC"`
	HighC   *float64 `json:"highC"`
	Basis   Both     `json:"basis"`   // what the record low rests on
	Problem string   `json:"problem"` // why nothing is known of it
}

type safeInput struct {
	Since string `query:"since" maxLength:"32" doc:"an earlier revision, to point out what has changed"`
}

type safeOutput struct{ Body SafeSheet }

func (s *Server) safeOperation(api huma.API) {
	huma.Register(api, huma.Operation{
		OperationID: "safe", Method: http.MethodGet, Path: "/api/safe", Summary: "Is it safe?",
		Description: "What every rule says of the rig, with its inequality, margin, source and ways out.", Errors: []int{404, 422, 500},
	}, func(_ context.Context, in *safeInput) (*safeOutput, error) {
		r, err := s.read()
		if err != nil {
			return nil, s.fail("safe", err)
		}
		sheet := emptySafe(r.revision)
		if len(r.faults) > 0 {
			return &safeOutput{sheet}, nil
		}
		c, report, err := judged(r)
		if err != nil {
			return nil, s.fail("safe", refused{err})
		}
		sheet.fill(&c, &report)
		sheet.Missing = gapViews(c.Gaps, r.text.Bytes)
		if before, ok := s.judgedAt(in.Since); ok {
			sheet.Since, sheet.Shifts = in.Since, shifts(&before, &report, nil)
		}
		return &safeOutput{sheet}, nil
	})
}

// judged prepares the rig as it was read and runs all rules on it.
func judged(r reading) (check.Case, check.Report, error) {
	c, err := check.Prepare(r.said, system.FindClimate)
	if err != nil {
		return check.Case{}, check.Report{}, err
	}
	return c, rules.Judge(c), nil
}

// judgedAt judges an earlier revision; false where there is none that can be judged.
func (s *Server) judgedAt(revision string) (check.Report, bool) {
	if revision == "" {
		return check.Report{}, false
	}
	open := s.open()
	text, err := open.Text(revision)
	if err != nil {
		return check.Report{}, false
	}
	r := understood(open.Name(), store.State{Text: text, Revision: revision})
	if len(r.faults) > 0 {
		return check.Report{}, false
	}
	_, report, err := judged(r)
	return report, err == nil
}

func emptySafe(revision string) SafeSheet {
	return SafeSheet{
		Revision: revision, State: "faults", Shifts: []CureShift{}, Counts: []VerdictCount{}, Groups: []SafeGroup{}, Passes: []Finding{}, Cautions: []check.Caution{},
		Missing: []GapView{}, Silent: []SilentRule{}, Later: []check.LaterRule{}, Places: []EndsRow{},
	}
}
